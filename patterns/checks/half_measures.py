"""What can be measured of a half piece, as a tape would measure the garment.

All measures are of the half piece on its seam line, as the garment lies folded: a width runs from the centre
fold, and a neck's width is half of the whole neck's. Only a girth goes all round, by the front and the back.
"""

from collections.abc import Callable, Iterator, Mapping
from types import MappingProxyType
from typing import Final

import numpy as np
import shapely

from patterns.curves import Array, Curve
from patterns.errors import PatternError
from patterns.measures import Length, Unit
from patterns.parts import Kind
from patterns.piece import Piece, closed_curves
from patterns.saying import LengthError, lengths_said_in

GIRTH: Final = "girth"
AT_A_DROP: Final = ("half bust", "half hip", GIRTH)  # each so far below the high shoulder point
OPPOSITE: Final[Mapping[str, str]] = MappingProxyType({"front": "back", "back": "front"})
_STEPS: Final[Mapping[Unit, float]] = MappingProxyType(
    {Unit.IN: 1.0, Unit.CM: 2.0, Unit.MM: 20.0}
)  # between the drops at which widths are told unasked, in the unit itself
_SLEEVE_SLOPE: Final = 1 / 2  # of inches across to inches down: what narrows faster is still the sleeve
_BEYOND_IN: Final = 10.0
_ON_SIDE_IN: Final = 0.01


def captured_in(piece: Piece, what: str, drop: Length | None = None, opposite: Piece | None = None) -> float:
    """Inches that the piece has of one measure; PatternError where it does not have it."""
    if drop is None:
        return MEASURES[what](piece)
    with lengths_said_in(drop.own_unit):
        if what != GIRTH:
            return width_in(piece, drop.inches)
        if opposite is None:
            raise PatternError(
                f"a girth goes round front and back, and there is {piece.name} alone; trace the other one "
                "into the same file"
            )
        return girth_in(piece, opposite, drop.inches)


def captured(
    piece: Piece, opposite: Piece | None = None, unit: Unit = Unit.IN
) -> tuple[tuple[str, float], ...]:
    """All that can be measured of the piece, by name and in inches, widths at a bust's and a hip's drop."""
    asked: list[tuple[str, Length | None]] = [(what, None) for what in MEASURES]
    for what, drop in zip(("half bust", "half hip"), _drops(piece, unit), strict=False):
        asked.append((what, drop))
    asked += [(GIRTH, drop) for _, drop in asked if drop is not None and opposite is not None]
    return tuple(_had(piece, opposite, asked))


def _had(
    piece: Piece, opposite: Piece | None, asked: list[tuple[str, Length | None]]
) -> Iterator[tuple[str, float]]:
    for what, drop in asked:
        try:
            yield named(what, drop), captured_in(piece, what, drop, opposite)
        except PatternError:
            continue  # it has no sleeve hem, say


def _drops(piece: Piece, unit: Unit) -> tuple[Length, ...]:
    """The first drop, in round numbers, under the sleeve, and the last at which a line runs to the side."""
    step_in = _STEPS[unit] * float(unit.inches)
    widths: dict[int, float] = {}
    for number in range(1, int(_height(piece) / step_in) + 1):
        try:
            widths[number] = width_in(piece, number * step_in)
        except PatternError:
            continue
    body = [at for at, width in widths.items() if width - widths.get(at + 1, 0.0) < _SLEEVE_SLOPE * step_in]
    return tuple(
        Length(spelling=f"{number * _STEPS[unit]:g} {unit.value}")
        for number in dict.fromkeys((*body[:1], *list(widths)[-1:]))
    )


def width_in(piece: Piece, drop_in: float) -> float:
    """Inches from the centre fold to the side, `drop_in` below the high shoulder point.

    Raises PatternError where that is above the neck or the underarm, or below the hem.
    """
    outline = shapely.Polygon(np.concatenate([curve.points[:-1] for curve in closed_curves(piece.edges)]))
    y = _shoulder(piece)[1] + drop_in
    across = shapely.LineString([(0.0, y), (outline.bounds[2] + _BEYOND_IN, y)])
    met = shapely.get_coordinates(across.intersection(shapely.LineString(_edge(piece, "side").points)))
    fold = _fold(piece)
    top, bottom = sorted((float(fold.start[1]), float(fold.end[1])))
    width = float(met[:, 0].min()) if len(met) else 0.0
    inside = shapely.LineString([(0.0, y), (width, y)]).within(outline.buffer(_ON_SIDE_IN))
    if not (len(met) and top <= y <= bottom and inside):
        raise LengthError(
            lambda say: (
                f"{piece.name}: {say(drop_in)} below the high shoulder point no line runs from the centre to the "
                "side; give a drop below the neck and the underarm, and above the hem"
            )
        )
    return width


def girth_in(front: Piece, back: Piece, drop_in: float) -> float:
    """Inches round the garment: twice its half front and half back, `drop_in` below the high shoulder point."""
    return 2 * (width_in(front, drop_in) + width_in(back, drop_in))


def _edge(piece: Piece, name: str) -> Curve:
    for edge, curve in zip(piece.edges, closed_curves(piece.edges), strict=True):
        if edge.name == name:
            return curve
    raise PatternError(f"{piece.name} has no {name} to be measured; name its edges first")


def _fold(piece: Piece) -> Curve:
    for edge, curve in zip(piece.edges, closed_curves(piece.edges), strict=True):
        if edge.kind is Kind.FOLD:
            return curve
    raise PatternError(f"{piece.name} has no fold; a half piece is measured from its centre fold")


def _shoulder(piece: Piece) -> Array:
    """(2,) the neck's end away from the fold."""
    neck = _edge(piece, "neck")
    return neck.end if neck.end[0] > neck.start[0] else neck.start


def _neck_depth(piece: Piece) -> float:
    return float(min(_fold(piece).start[1], _fold(piece).end[1]) - _shoulder(piece)[1])


def _body_length(piece: Piece) -> float:
    """Straight down from the high shoulder point to the hem."""
    x, y = _shoulder(piece)
    hem = _edge(piece, "hem")
    down = shapely.LineString([(x, y), (x, float(hem.points[:, 1].max()) + _BEYOND_IN)])
    met = shapely.get_coordinates(down.intersection(shapely.LineString(hem.points)))
    if not len(met):
        raise PatternError(f"{piece.name}: its hem does not reach below the high shoulder point")
    return float(met[:, 1].max() - y)


MEASURES: Final[Mapping[str, Callable[[Piece], float]]] = MappingProxyType(
    {
        "hem width": lambda piece: _edge(piece, "hem").length_in,
        "sleeve opening": lambda piece: _edge(piece, "sleeve hem").length_in,
        "body length": _body_length,
        "centre length": lambda piece: _fold(piece).length_in,
        "centre to sleeve hem": lambda piece: float(_edge(piece, "sleeve hem").points[:, 0].max()),
        "neck width": lambda piece: float(_shoulder(piece)[0]),
        "neck depth": _neck_depth,
    }
)


def _height(piece: Piece) -> float:
    return float(np.ptp(np.concatenate([curve.points for curve in closed_curves(piece.edges)])[:, 1]))


def named(what: str, drop: Length | None) -> str:
    """What was measured, and where."""
    return what if drop is None else f"{what} at {drop.words}"
