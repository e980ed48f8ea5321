"""Which side is the fold and which of its ends the top: the likeliest reading, and what is doubtful in it."""

from collections.abc import Iterator, Sequence
from itertools import pairwise
from typing import Final

import numpy as np

from patterns.errors import PatternError
from patterns.saying import LengthError, Say
from patterns.tracing.contour import Contour
from patterns.tracing.corner_finding import FoundCorner
from patterns.tracing.edge_names import DOUBT, LANDMARKS, NAMES, Reading, plain_reading, readings
from patterns.tracing.fold_line import FoldLine

UNLIKELY: Final = 2.0  # a score this low: garments with cut-on sleeves reach 2.2 to 5, others less than 1.8
_NEVER_HOLLOW: Final = ("overarm", "sleeve hem", "hem")  # a neck may be square, an underarm pointed
UNLIKE: Final = "the outline is unlike a garment with cut-on sleeves"


def likeliest_fold(
    contour: Contour,
    folds: tuple[FoldLine, ...],
    corners: tuple[FoundCorner, ...],
    names: Sequence[str] | None,
) -> FoldLine:
    """The one of `folds` with which the contour is most like a garment with cut-on sleeves.

    Raises PatternError if two are as likely, or if the edges have `names` and it is like none: other shapes do
    not tell where their fold is.
    """
    best = [found[0] for fold in folds if (found := readings(contour, fold, corners))]
    best.sort(key=lambda reading: -reading.score)
    if len(best) > 1 and best[0].score - best[1].score < DOUBT:
        one, other = (reading.fold for reading in best[:2])
        raise LengthError(
            lambda say: (
                f"two sides could be the fold: {_side(contour, one, say)}, or {_side(contour, other, say)}; point to "
                "the one that is the fold"
            )
        )
    if names is not None and (not best or best[0].score < UNLIKELY):
        raise PatternError(f"{UNLIKE}, so it does not show which side is the fold; point to it")
    return best[0].fold if best else folds[0]


def chosen_reading(
    contour: Contour, fold: FoldLine, corners: tuple[FoundCorner, ...], names: Sequence[str] | None = None
) -> tuple[Reading, tuple[tuple[str, str], ...]]:
    """The likeliest reading with the fold, and the name of each doubtful edge with why it is.

    With `names` as many edges as they are, in their order. Raises PatternError as `half_piece` says.
    """
    likeliest = readings(contour, fold, corners)
    every = plain_reading(contour, fold, corners)
    if names is not None:
        return _named(likeliest, every, names), ()
    if not likeliest:
        raise _too_few(every)
    return likeliest[0], tuple(_doubts(likeliest))


def bumps(reading: Reading) -> Iterator[str]:
    """The edges that a garment has no hollow corner in, and this one has: something may lie over them."""
    for name, (first, last) in zip(NAMES, pairwise(reading.landmarks), strict=True):
        inner = reading.stops[first + 1 : last]
        if name in _NEVER_HOLLOW and not all(stop.juts_out for stop in inner):
            yield name


def _named(found: tuple[Reading, ...], every: Reading, names: Sequence[str]) -> Reading:
    """The reading with as many edges as there are names, its top where they put the neck."""
    neck_last = names[-1] == NAMES[0]
    if found and len(names) == len(NAMES):
        return next(r for r in found if (r.ahead == found[0].ahead) is not neck_last)
    if found and found[0].ahead != every.ahead:
        every = every.turned()
    count = len(every.stops) - 1
    if len(names) != count:
        usual = f"{len(NAMES)}, or {count} with" if found else f"{count} for"
        raise PatternError(
            f"{len(names)} names for the edges, besides the fold's, where {usual} every corner found as the "
            "end of an edge, were wanted; name them in order from the fold's top, or set the corners"
        )
    return every.turned() if neck_last else every


def _doubts(found: tuple[Reading, ...]) -> Iterator[tuple[str, str]]:
    best = found[0]
    if best.score < UNLIKELY:
        yield from ((name, UNLIKE) for name in NAMES)
        return
    if any(r.ahead != best.ahead and best.score - r.score < DOUBT for r in found):
        yield from ((name, "either end of the fold could be the top") for name in NAMES)
        return
    rivals = [r for r in found if r.ahead == best.ahead and best.score - r.score < DOUBT][1:]
    for number, name in enumerate(NAMES):
        ends = best.landmarks[number : number + 2]
        if any(rival.landmarks[number : number + 2] != ends for rival in rivals):
            yield name, "another corner could be its end"
        elif inner := [stop for stop in best.strange if stop in best.stops[ends[0] : ends[1]]]:
            yield name, f"it has {'a corner' if len(inner) == 1 else f'{len(inner)} corners'} within it"


def _too_few(reading: Reading) -> PatternError:
    count = sum(stop.juts_out for stop in reading.stops[1:-1])
    return PatternError(
        f"{count} corners that jut out were found besides the fold's ends, and a garment with cut-on sleeves has "
        f"{LANDMARKS}: the shoulder point, both ends of the sleeve hem, and the side at the hem; spread it flat so "
        "that they show, or point them out; or, if the piece has another shape, name its edges in order from "
        "the fold's top"
    )


def _side(contour: Contour, fold: FoldLine, say: Say) -> str:
    start, end = contour.at(np.array([fold.start_in, fold.end_in])).tolist()
    return f"{say(fold.length_in, 4)} from {say.place(*start)} to {say.place(*end)}"
