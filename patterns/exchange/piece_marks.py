"""The grain and the notches of a drawing, on the piece that it has become."""

from collections.abc import Iterator, Sequence
from typing import Final

import numpy as np
import shapely

from patterns.alterations.notching import MOST_CLIPS, NOTCH_APART_IN
from patterns.curves import Array
from patterns.measures import Length, Unit
from patterns.parts import Grain, Kind, Notch
from patterns.piece import Piece
from patterns.tracing.traced_edges import DIGITS, path_of

ONE_NOTCH_IN: Final = NOTCH_APART_IN * 1.25  # from clip to clip of one notch at most
BEYOND_IN: Final = 0.25  # the allowance, of a notch's middle off its seam line
WIDEST_IN: Final = 1.0  # of an allowance that is not known
_OTHER_HALF_IN: Final = -0.02


def grain_of(ends: Array | None, unit: Unit) -> Grain | None:
    """The grainline between two piece places (2, 2), None where there is none."""
    if ends is None:
        return None
    start, end = path_of(ends, unit)
    return Grain(start=start, end=end) if start != end else None


def notches_of(places: Array, piece: Piece) -> tuple[tuple[Notch, ...], int]:
    """Notches at (k, 2) piece places, those close together as one, and how many places lie on no edge.

    Of a piece on the fold those of the other half say nothing new.
    """
    if piece.cut.on_fold:
        places = places[places[:, 0] >= _OTHER_HALF_IN]
    lines = [shapely.LineString(curve.points) for curve in piece.curves]
    found: dict[int, list[float]] = {}
    lost = 0
    for place in places:
        spot = shapely.Point(place)
        away = [_beyond(piece, number, line.distance(spot)) for number, line in enumerate(lines)]
        number = int(np.argmin(away))
        if away[number] == np.inf:
            lost += 1
        else:
            found.setdefault(number, []).append(lines[number].project(spot))
    notches = (
        notch for number, along in sorted(found.items()) for notch in _grouped(piece, number, sorted(along))
    )
    return tuple(notches), lost


def _beyond(piece: Piece, number: int, away_in: float) -> float:
    """How far a place is from an edge, endlessly where it can be no notch of it."""
    edge = piece.edges[number]
    width = WIDEST_IN if edge.allowance is None else sum(edge.allowance.inches)
    return np.inf if edge.kind is Kind.FOLD or away_in > width + BEYOND_IN else away_in


def _grouped(piece: Piece, number: int, along_in: Sequence[float]) -> Iterator[Notch]:
    """Up to three clips in a row as one notch, in the middle of them."""
    unit = piece.edges[number].path[0].x.unit
    group: list[float] = []
    for at in [*along_in, np.inf]:
        if group and (at - group[-1] > ONE_NOTCH_IN or len(group) == MOST_CLIPS):
            in_unit = round(float(np.mean(group)) / float(unit.inches), DIGITS)
            where = Length.of(in_unit * float(unit.inches), unit)
            yield Notch(edge=piece.edges[number].name, at=where, count=len(group))
            group = []
        group.append(at)
