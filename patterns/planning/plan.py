"""A lay for a pattern: the folding that serves it best, and each piece at its place.

`lays` gives the best so far again and again, some thousandths of a second apart, so that whoever asks may show
it, and stop when they like with the best kept; `plan` goes on to the end.
"""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from typing import Final

from patterns.cutting.drafted import DraftedPattern, DraftedPiece
from patterns.errors import PatternError
from patterns.laying.cloth import Cloth
from patterns.laying.folding import Fold
from patterns.laying.lay import Lay, Terms
from patterns.planning.clashes import Outlines
from patterns.planning.fold_choice import foldings
from patterns.planning.one_fold import OneFold, Prefer, is_too_long
from patterns.planning.refusals import crosswise_refusal, no_depth, out_of_step, refusal, too_short
from patterns.planning.search import Found, Score
from patterns.saying import lengths_said_in

_TRIED: Final = 10  # rounds on each folding, before the best of them are searched on
_SEARCHED_ON: Final = 2  # foldings
_ROUNDS: Final = 150  # for a kind of fold, where no number is asked for
_WORK: Final = 50_000  # about eight seconds
_PATIENCE: Final = 300  # rounds in which no lay has fitted the length, after which none is hoped for


@dataclass(frozen=True, slots=True, kw_only=True)
class Effort:
    """How long to search: so many rounds for a kind of fold. The same seed gives the same lay again.

    Without a number there are as many as serve a garment of few pieces, and fewer where many make a round slow:
    for `work` in all, as `Search.work` counts it.

    In a single layer a packing engine may go on for `packing_s` whole seconds on all cores: it is stronger with
    many pieces, and does not give the same lay again.
    """

    rounds: int | None = None
    work: int = _WORK
    seed: int = 1
    packing_s: int = 0


_TERMS: Final = Terms()
_EFFORT: Final = Effort()


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Compared:
    """What a kind of fold gives: its lay, or why it gives none."""

    fold: Fold
    lay: Lay | None = None
    why_not: PatternError | None = None


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class _Asked:
    """What is asked for, and the outlines that all its folds share."""

    pieces: tuple[DraftedPiece, ...]
    cloth: Cloth
    terms: Terms
    prefer: Prefer
    effort: Effort
    outlines: Outlines

    def lays(self, fold: Fold) -> Iterator[Lay]:
        """As the function of that name."""
        with lengths_said_in(self.terms.sold_by):
            best: tuple[Score, Lay] | None = None
            for number, (one, found) in enumerate(self._found(self._possible(fold))):
                if found is not None and (best is None or found.score < best[0]):
                    best = found.score, one.lay(found.spots)
                if best is not None and not is_too_long(best[0]):
                    yield best[1]
                elif number >= _PATIENCE and not self.effort.packing_s:
                    break
            if best is None:
                raise out_of_step(fold)
            if is_too_long(best[0]):
                raise too_short(self.cloth, fold, best[1])

    def compared(self, fold: Fold) -> Compared:
        """The lay or the reason why there is none."""
        try:
            *_, lay = self.lays(fold)
        except PatternError as error:
            return Compared(fold=fold, why_not=error)
        return Compared(fold=fold, lay=lay)

    def _found(self, folded: Sequence[OneFold]) -> Iterator[tuple[OneFold, Found | None]]:
        """What is found after each round, and by packing; None where there is nothing, or nothing new."""
        for one in _in_turn(folded, self.effort):
            yield one, one.search.best
        if self.effort.packing_s:
            for one in folded:
                for found in one.packings(self.effort.packing_s, self.effort.seed):
                    yield one, found

    def _possible(self, fold: Fold) -> list[OneFold]:
        """The foldings that have a way for every piece; PatternError where there is none."""
        if fold is Fold.CROSSWISE and (refused := crosswise_refusal(self.cloth)) is not None:
            raise refused
        pieces, terms = self.pieces, self.terms
        tried = [
            OneFold(folding, pieces, terms, self.prefer, self.outlines, self.effort.seed)
            for folding in foldings(fold, self.cloth, pieces, terms)
        ]
        if not tried:
            raise no_depth(fold, self.cloth, pieces, terms)
        possible = [one for one in tried if not one.impossible]
        if not possible:
            raise refusal(tried[-1].impossible[0], fold, self.cloth, pieces, terms)
        return possible


def plan(
    pattern: DraftedPattern,
    cloth: Cloth,
    fold: Fold,
    *,
    terms: Terms = _TERMS,
    prefer: Prefer = Prefer.LENGTH,
    effort: Effort = _EFFORT,
) -> Lay:
    """The best lay that is found. Raises PatternError, with the way out, where the pieces cannot be so laid."""
    *_, best = lays(pattern, cloth, fold, terms=terms, prefer=prefer, effort=effort)
    return best


def lays(
    pattern: DraftedPattern,
    cloth: Cloth,
    fold: Fold,
    *,
    terms: Terms = _TERMS,
    prefer: Prefer = Prefer.LENGTH,
    effort: Effort = _EFFORT,
) -> Iterator[Lay]:
    """The best lay so far after each round, the very same until a better is found; PatternError as of `plan`."""
    return _asked(pattern, cloth, terms, prefer, effort).lays(fold)


def compare(
    pattern: DraftedPattern,
    cloth: Cloth,
    *,
    terms: Terms = _TERMS,
    prefer: Prefer = Prefer.LENGTH,
    effort: Effort = _EFFORT,
) -> tuple[Compared, ...]:
    """What every kind of fold gives, in the order of `Fold`."""
    asked = _asked(pattern, cloth, terms, prefer, effort)
    return tuple(asked.compared(fold) for fold in Fold)


def _asked(pattern: DraftedPattern, cloth: Cloth, terms: Terms, prefer: Prefer, effort: Effort) -> _Asked:
    return _Asked(
        pieces=tuple(pattern.pieces.values()),
        cloth=cloth,
        terms=terms,
        prefer=prefer,
        effort=effort,
        outlines=Outlines(terms.gap_in),
    )


def _in_turn(folded: Sequence[OneFold], effort: Effort) -> Iterator[OneFold]:
    """Each folding for a few rounds, then the best of them by turns; the one that was searched, each time."""
    tried, further = _rounds_for(folded, effort.work) if effort.rounds is None else _parted(effort.rounds)
    for one in folded:
        for _ in one.search.rounds(tried):
            yield one
    found = [(one.search.best.score, one) for one in folded if one.search.best is not None]
    best = [one for _, one in sorted(found, key=lambda pair: pair[0])[:_SEARCHED_ON]]
    for number in range(further if best else 0):
        one = best[number % len(best)]
        for _ in one.search.rounds(1):
            yield one


def _parted(rounds: int) -> tuple[int, int]:
    """Rounds on each folding, and those with which the best are searched on."""
    tried = min(_TRIED, rounds)
    return tried, rounds - tried


def _rounds_for(folded: Sequence[OneFold], work: int) -> tuple[int, int]:
    """As `_parted`, so far as there is work for them: half of it, but at least a round each, to try the foldings."""
    works = [max(one.search.work, 1) for one in folded]
    tried, further = _parted(_ROUNDS)
    tried = max(1, min(tried, work // (2 * sum(works))))
    left = max(0, work - tried * sum(works))
    return tried, min(further, left // max(works))
