"""The search for a lay on one folding: which piece goes first, in which of its ways, leaning to which side.

Pieces are pushed to the cut end one after another (`sliding.py`), so that an order is a lay. Orders that are
known to be good come first, larger pieces before smaller; then a thing or two are changed at random, and what is no
worse is kept. The same seed gives the same lay.
"""

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass, replace
from typing import Final, TypeVar

import numpy as np

from patterns.planning.sliding import Lean, Slides, Spot
from patterns.planning.ways import Job, Laying, Option

Score = tuple[float, ...]
Scored = Callable[[tuple[Spot, ...]], Score]
FREE: Final = -1  # a choice that is left to what lies nearest to the cut end
_STALE: Final = 40  # rounds without a better lay, after which several things are changed at once
_SHAKEN: Final = 4
_ONE_SHARE: Final = 0.6  # of the rounds that change one thing; fewer change two, fewer yet three
_SLACK_IN: Final = 1.0
_SLACK_SHARE: Final = 0.3
_SAME_IN: Final = 1e-6
_Gene = TypeVar("_Gene")


@dataclass(frozen=True, slots=True, kw_only=True)
class Plan:
    """An order of the jobs; for each job its way, the option of its layings, and where it leans to."""

    order: tuple[int, ...]
    way: tuple[int, ...]
    option: tuple[int, ...]
    lean: tuple[Lean, ...]


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Found:
    """A lay that was found, and how good it is: less is better."""

    spots: tuple[Spot, ...]
    score: Score

    @property
    def used_in(self) -> float:
        """Inches along up to the last cut."""
        return _far_end(self.spots)


class Search:
    """All that is kept while one folding is searched. `lays` may be called on for more."""

    def __init__(self, jobs: Sequence[Job], slides: Slides, scored: Scored, seed: int) -> None:
        self._jobs = tuple(jobs)
        self._slides = slides
        self._scored = scored
        self._chance = np.random.default_rng(seed)
        self.best: Found | None = None
        self._before: tuple[list[tuple[int, int, int, Lean]], list[tuple[Spot, ...]]] = ([], [])
        self._scores: dict[frozenset[tuple[Option, float, float]], Score] = {}
        self._rounds = self._all_rounds()

    def rounds(self, count: int) -> Iterator[Found | None]:
        """The best so far after each of so many further rounds."""
        for _ in range(count):
            yield next(self._rounds)

    @property
    def work(self) -> int:
        """How much a round looks at: the outlines of all ways of each job, beside those of the jobs before it."""
        looked_at, taken = 0, 0
        for job in self._jobs:
            ways = [sum(len(option.parts) for laying in way for option in laying) for way in job.ways]
            looked_at += taken * sum(ways)
            taken += max(sum(len(laying[0].parts) for laying in way) for way in job.ways)
        return looked_at

    def _all_rounds(self) -> Iterator[Found | None]:
        """Climbs by length alone and by the whole score in turn, changing over whenever it gets no further."""
        current, at = self._first_plans()[0], None
        for plan in self._first_plans():
            found = self._tried(plan)
            if found is not None and (at is None or found.score < at.score):
                current, at = plan, found
            yield self.best
        by_length, stale = True, 0
        while True:
            before = self.best
            shaken = stale > _STALE
            changed = self._changed(current, _SHAKEN if shaken else int(self._chance.geometric(_ONE_SHARE)))
            found = self._tried(changed)
            if shaken:
                by_length, stale = not by_length, 0
            if found is not None and (at is None or shaken or _no_worse(found, at, by_length)):
                current, at = changed, found
            elif at is None:
                current = changed
            stale = 0 if self.best is not before else stale + 1
            yield self.best

    def _first_plans(self) -> list[Plan]:
        count = len(self._jobs)
        extents = np.array([_extent(job) for job in self._jobs]).reshape(count, 3)
        free = (FREE,) * count
        orders = dict.fromkeys(
            tuple(int(i) for i in np.argsort(-extents[:, key], kind="stable")) for key in range(3)
        )
        return [Plan(order=order, way=free, option=free, lean=(Lean(),) * count) for order in orders]

    def _tried(self, plan: Plan) -> Found | None:
        """The plan as a lay, remembered if it is the best; None where a piece has no place in step."""
        spots = self._spots(plan)
        if len(spots) < len(plan.order):
            return None
        laid = tuple(spot for job in spots for spot in job)
        found = Found(spots=laid, score=self._score_of(laid))
        if self.best is None or found.score < self.best.score:
            self.best = found
        return found

    def _spots(self, plan: Plan) -> list[tuple[Spot, ...]]:
        """Those of each job in the order of the plan, up to the first that finds none.

        What begins as the plan before is not laid again.
        """
        genes = [(i, plan.way[i], plan.option[i], plan.lean[i]) for i in plan.order]
        genes_before, spots_before = self._before
        same = next(
            (n for n, (a, b) in enumerate(zip(genes, genes_before, strict=False)) if a != b),
            len(genes_before),
        )
        spots = spots_before[:same]
        while len(spots) < len(genes):
            laid = self._laid(plan, genes[len(spots)][0], tuple(spot for job in spots for spot in job))
            if laid is None:
                break
            spots.append(laid)
        self._before = genes, spots
        return spots

    def _score_of(self, spots: tuple[Spot, ...]) -> Score:
        key = frozenset((spot.option, round(spot.x_in, 3), round(spot.y_in, 3)) for spot in spots)
        if key not in self._scores:
            self._scores[key] = self._scored(spots)
        return self._scores[key]

    def _laid(self, plan: Plan, number: int, taken: tuple[Spot, ...]) -> tuple[Spot, ...] | None:
        ways = self._jobs[number].ways
        way = plan.way[number]
        best: tuple[Spot, ...] | None = None
        for layings in ways if way == FREE else (ways[way % len(ways)],):
            spots: tuple[Spot, ...] = ()
            for laying in layings:
                spot = self._nearest(laying, plan.option[number], plan.lean[number], taken + spots)
                if spot is None:
                    break
                spots += (spot,)
            else:
                if best is None or _far_end(spots) < _far_end(best) - _SAME_IN:
                    best = spots
        return best

    def _nearest(self, laying: Laying, option: int, lean: Lean, taken: tuple[Spot, ...]) -> Spot | None:
        options = laying if option == FREE else (laying[option % len(laying)],)
        found = [spot for one in options if (spot := self._slides.nearest(one, taken, lean)) is not None]
        return min(found, key=lambda spot: round(spot.top_in, 6), default=None)

    def _changed(self, plan: Plan, times: int) -> Plan:
        """The plan with so many things changed at random."""
        for _ in range(times):
            plan = self._changed_once(plan)
        return plan

    def _changed_once(self, plan: Plan) -> Plan:
        count = len(self._jobs)
        what = self._chance.random()
        number = int(self._chance.integers(count))
        if what < 0.35 and count > 1:
            other = int(self._chance.integers(count))
            order = list(plan.order)
            order[number], order[other] = order[other], order[number]
            return replace(plan, order=tuple(order))
        if what < 0.6 and count > 1:
            order = [one for one in plan.order if one != number]
            order.insert(int(self._chance.integers(count)), number)
            return replace(plan, order=tuple(order))
        if what < 0.75:
            return replace(plan, lean=_with(plan.lean, number, self._any_lean()))
        ways = self._jobs[number].ways
        if what < 0.87 and len(ways) > 1:
            return replace(plan, way=_with(plan.way, number, int(self._chance.integers(FREE, len(ways)))))
        most = max(len(laying) for way in ways for laying in way)
        return replace(plan, option=_with(plan.option, number, int(self._chance.integers(FREE, most))))

    def _any_lean(self) -> Lean:
        """Mostly to one side and without slack, where most pieces lie best."""
        across = float(self._chance.choice((0.0, 1.0, self._chance.random())))
        slack = float(self._chance.exponential(_SLACK_IN)) if self._chance.random() < _SLACK_SHARE else 0.0
        return Lean(across=across, slack_in=slack)


def _no_worse(found: Found, than: Found, by_length: bool) -> bool:
    if by_length:
        return found.used_in <= than.used_in + _SAME_IN
    return found.score <= than.score


def _with(values: tuple[_Gene, ...], number: int, value: _Gene) -> tuple[_Gene, ...]:
    return (*values[:number], value, *values[number + 1 :])


def _far_end(spots: tuple[Spot, ...]) -> float:
    return max(spot.top_in for spot in spots)


def _extent(job: Job) -> tuple[float, float, float]:
    """Inches along, square inches, and inches across of the job's piece."""
    across, along = np.ptp(job.piece.cut_line, axis=0)
    return float(along), job.area_in2, float(across)
