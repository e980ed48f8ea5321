"""The search for a lay, told while it goes on, and stopped with the best so far."""

import math
import time
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from typing import Final

from patterns.cutting.drafted import DraftedPattern
from patterns.errors import PatternError
from patterns.laying.buying import Buying
from patterns.laying.cloth import Cloth, Repeat
from patterns.laying.folding import Fold
from patterns.laying.lay import Lay, Terms
from patterns.laying.report import used_words
from patterns.planning.one_fold import Prefer
from patterns.planning.plan import Compared, Effort, lays
from patterns.saying import Say
from projector.progress import Progress

ENDLESS: Final = 1_000_000_000  # rounds, where a time to search is given
PACKING_SHARE: Final = 2 / 3  # of that time in a single layer, which is left to the packing engine


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Wanted:
    """What is to be laid on what, and how; `seconds` is how long to search for each fold, None for the usual effort."""

    pattern: DraftedPattern
    cloth: Cloth
    terms: Terms
    prefer: Prefer
    seed: int
    seconds: float | None
    say: Say


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class SoFar:
    """Where a search has come to: at `fold`, the `number`th of `count`, with the best so far of each in `compared`."""

    fold: Fold
    number: int
    count: int
    compared: tuple[Compared, ...] = ()

    @property
    def lay(self) -> Lay | None:
        """The best of the fold that is searched now."""
        last = self.compared[-1] if self.compared else None
        return last.lay if last is not None and last.fold is self.fold else None

    @property
    def has_lay(self) -> bool:
        """Whether there is anything to stop with."""
        return any(one.lay is not None for one in self.compared)

    def words(self, wanted: Wanted) -> str:
        """What is searched, and what it has come to."""
        about = "single layer" if self.fold is Fold.SINGLE else f"{self.fold.value} fold"
        if self.count > 1:
            about = f"{about}, {self.number} of {self.count}"
        if self.lay is None:
            return about
        return f"{about}: so far {used_words(self.lay, wanted.say)}"

    def ended(self, prefer: Prefer, *, stopped: bool) -> "Searched":
        """What has come of it."""
        return Searched(compared=ranked(self.compared, prefer), stopped=stopped)


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Searched:
    """The folds in order, the best first; `stopped` when a person would wait no longer."""

    compared: tuple[Compared, ...]
    stopped: bool = False

    @property
    def best(self) -> Lay | None:
        """The lay that serves best."""
        return self.compared[0].lay if self.compared else None


def searched(wanted: Wanted, folds: Sequence[Fold], progress: Progress) -> Searched:
    """Each of the folds tried; those that give no lay come last with the reason. An interrupt keeps what there is."""
    so_far: SoFar | None = None
    stopped = False
    told = ""
    try:
        for so_far in searching(wanted, folds):
            words = so_far.words(wanted)
            if words != told:
                progress(words)
                told = words
    except KeyboardInterrupt:
        stopped = True
        if so_far is None or not so_far.has_lay:
            raise
    assert so_far is not None, "at least one fold is asked for"
    return so_far.ended(wanted.prefer, stopped=stopped)


def searching(wanted: Wanted, folds: Sequence[Fold]) -> Iterator[SoFar]:
    """Where the search has come to, some thousandths of a second apart; whoever asks no longer keeps the last."""
    tried: tuple[Compared, ...] = ()
    for number, fold in enumerate(folds, start=1):
        here = SoFar(fold=fold, number=number, count=len(folds), compared=tried)
        yield here
        try:
            for lay in _lays(wanted, fold):
                if lay is not here.lay:
                    here = replace(here, compared=(*tried, Compared(fold=fold, lay=lay)))
                yield here
        except PatternError as error:
            here = replace(here, compared=(*tried, Compared(fold=fold, why_not=error)))
            yield here
        tried = here.compared


def ranked(compared: Sequence[Compared], prefer: Prefer) -> tuple[Compared, ...]:
    """The best first, by what is bought and then by what stays whole, or as preferred; those without a lay last.

    Of cloth that is at hand nothing is bought.
    """
    return tuple(sorted(compared, key=lambda one: _rank(one, prefer)))


def _rank(one: Compared, prefer: Prefer) -> tuple[float, ...]:
    if one.lay is None:
        return (math.inf,)
    buying = Buying.of(one.lay)
    whole_in2 = round(buying.remnant.area_in2)
    bought_in = round(buying.length_in, 3) if one.lay.cloth.length_in is None else 0.0
    lost_in2 = round(bought_in * one.lay.cloth.bought_width_in) - whole_in2
    first = (bought_in, -whole_in2) if prefer is Prefer.LENGTH else (lost_in2, bought_in)
    return (*first, one.lay.used_in)


def _lays(wanted: Wanted, fold: Fold) -> Iterator[Lay]:
    """The best lay so far, over and over; where a time to search is given, until it is over."""
    effort = Effort(seed=wanted.seed)
    if wanted.seconds is None:
        yield from _tried(wanted, fold, effort)
        return
    packing_s = int(PACKING_SHARE * wanted.seconds) if _may_be_packed(wanted.cloth, fold) else 0
    end = time.monotonic() + wanted.seconds
    best: Lay | None = None
    try:
        for best in _until(end - packing_s, _tried(wanted, fold, replace(effort, rounds=ENDLESS))):
            yield best
    except PatternError:  # perhaps the engine packs on to a length that is too short for us
        if not packing_s:
            raise
    if not packing_s:
        return
    known = best
    # To its own end: a thread of the engine that outlives the program brings it down.
    for lay in _tried(wanted, fold, replace(effort, rounds=1, packing_s=packing_s)):
        if best is None or (lay is not known and _better(lay, best, wanted.prefer)):
            best = lay
        known = lay
        yield best


def _tried(wanted: Wanted, fold: Fold, effort: Effort) -> Iterator[Lay]:
    return lays(wanted.pattern, wanted.cloth, fold, terms=wanted.terms, prefer=wanted.prefer, effort=effort)


def _until(end_s: float, found: Iterator[Lay]) -> Iterator[Lay]:
    """The first, and what comes before that time."""
    for lay in found:
        yield lay
        if time.monotonic() >= end_s:
            return


def _better(lay: Lay, than: Lay, prefer: Prefer) -> bool:
    fold = lay.folding.fold
    return _rank(Compared(fold=fold, lay=lay), prefer) < _rank(Compared(fold=fold, lay=than), prefer)


def _may_be_packed(cloth: Cloth, fold: Fold) -> bool:
    """Whether the packing engine, which knows nothing of flaws and repeats, can be asked."""
    return fold is Fold.SINGLE and not cloth.flaws and cloth.repeat == Repeat()
