"""A lay for a pattern: the folding that serves it best, and each piece at its place.

`lays` gives the best so far again and again, some thousandths of a second apart, so that whoever asks may show
it, and stop when they like with the best kept; `plan` goes on to the end.
"""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from typing import Final

from patterns.cutting.drafted import DraftedPattern
from patterns.errors import PatternError
from patterns.laying.cloth import Cloth
from patterns.laying.fold_choice import foldings
from patterns.laying.folding import Fold
from patterns.laying.lay import Lay, Terms
from patterns.laying.one_fold import OneFold, Prefer
from patterns.laying.profile import Outlines
from patterns.laying.refusals import nap_refusal, refusal, too_short
from patterns.laying.search import Score
from patterns.saying import lengths_said_in

_TRIED: Final = 10  # rounds on each folding, before the best of them are searched on
_SEARCHED_ON: Final = 2  # foldings


@dataclass(frozen=True, slots=True, kw_only=True)
class Effort:
    """How long to search: so many rounds for a kind of fold. The same seed gives the same lay again."""

    rounds: int = 150
    seed: int = 1


_TERMS: Final = Terms()
_EFFORT: Final = Effort()


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Compared:
    """What a kind of fold gives: its lay, or why it gives none."""

    fold: Fold
    lay: Lay | None = None
    why_not: PatternError | None = None


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
    with lengths_said_in(terms.sold_by):
        folded = _possible(pattern, cloth, fold, terms, prefer, effort.seed)
        best: tuple[Score, Lay] | None = None
        for one in _in_turn(folded, effort.rounds):
            found = one.search.best
            if found is not None and (best is None or found.score < best[0]):
                best = found.score, one.lay(found.spots)
            if best is not None:
                yield best[1]
        if best is None:
            enough = plan(pattern, replace(cloth, length_in=None), fold, terms=terms, effort=effort)
            raise too_short(cloth, fold, enough)


def compare(
    pattern: DraftedPattern,
    cloth: Cloth,
    *,
    terms: Terms = _TERMS,
    prefer: Prefer = Prefer.LENGTH,
    effort: Effort = _EFFORT,
) -> tuple[Compared, ...]:
    """What every kind of fold gives, in the order of `Fold`."""
    return tuple(_compared(pattern, cloth, fold, terms, prefer, effort) for fold in Fold)


def _compared(
    pattern: DraftedPattern, cloth: Cloth, fold: Fold, terms: Terms, prefer: Prefer, effort: Effort
) -> Compared:
    try:
        lay = plan(pattern, cloth, fold, terms=terms, prefer=prefer, effort=effort)
    except PatternError as error:
        return Compared(fold=fold, why_not=error)
    return Compared(fold=fold, lay=lay)


def _possible(
    pattern: DraftedPattern, cloth: Cloth, fold: Fold, terms: Terms, prefer: Prefer, seed: int
) -> list[OneFold]:
    """The foldings that have a way for every piece; PatternError where there is none."""
    if fold is Fold.CROSSWISE and cloth.has_nap:
        raise nap_refusal()
    pieces = tuple(pattern.pieces.values())
    outlines = Outlines(terms.gap_in)
    tried = [
        OneFold(folding, pieces, terms, prefer, outlines, seed)
        for folding in foldings(fold, cloth, pieces, terms)
    ]
    possible = [folded for folded in tried if not folded.impossible]
    if not possible:
        hindering = tried[-1].impossible if tried else (max(pieces, key=lambda piece: piece.area_in2),)
        raise refusal(hindering[0], fold, cloth, terms)
    return possible


def _in_turn(folded: Sequence[OneFold], rounds: int) -> Iterator[OneFold]:
    """Each folding for a few rounds, then the best of them for the rest; the one that was searched, each time."""
    tried = min(_TRIED, rounds)
    for one in folded:
        for _ in one.search.rounds(tried):
            yield one
    found = [(one.search.best.score, one) for one in folded if one.search.best is not None]
    best = sorted(found, key=lambda pair: pair[0])[:_SEARCHED_ON]
    for _, one in best:
        for _ in one.search.rounds((rounds - tried) // len(best)):
            yield one
