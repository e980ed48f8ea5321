"""What a tape says of the garment beside what was captured of it.

All measures are of the half piece on its seam line, as the garment lies folded: a width runs from the centre
fold, and a neck's width is half of the whole neck's.
"""

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from types import MappingProxyType
from typing import Final

import numpy as np
import shapely

from patterns.curves import Array, Curve
from patterns.errors import PatternError
from patterns.measures import Length, in_words
from patterns.parts import Kind
from patterns.piece import Piece, closed_curves

AGREES_IN: Final = 1 / 8  # what a tape on cloth can tell (common practice)
WIDTHS: Final = ("half bust", "half hip")  # each at a drop from the high shoulder point
_BEYOND_IN: Final = 10.0
_ON_SIDE_IN: Final = 0.01


@dataclass(frozen=True, slots=True, kw_only=True)
class Taped:
    """What the tape said: one of MEASURES, or one of WIDTHS at its `drop`."""

    what: str
    length: Length
    drop: Length | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class TapeCheck:
    """One measure as captured and as taped, in inches."""

    what: str
    captured_in: float
    taped_in: float

    @property
    def difference_in(self) -> float:
        """Inches by which the captured measure is the longer one."""
        return self.captured_in - self.taped_in

    @property
    def warning(self) -> str:
        """What to do about the difference; empty where the two agree."""
        if abs(self.difference_in) <= AGREES_IN:
            return ""
        return (
            f"{self.what}: captured {in_words(self.captured_in)}, taped {in_words(self.taped_in)}, "
            f"{in_words(abs(self.difference_in))} {'more' if self.difference_in > 0 else 'less'} than the tape; "
            "measure again, then pull the outline to where it belongs"
        )


def tape_checks(piece: Piece, taped: tuple[Taped, ...]) -> tuple[TapeCheck, ...]:
    """Each taped measure beside the captured one.

    Raises PatternError for a measure that is not known, that lacks its drop or that the piece does not have.
    """
    return tuple(
        TapeCheck(what=_said(one), captured_in=captured_in(piece, one), taped_in=one.length.inches)
        for one in taped
    )


def captured_in(piece: Piece, taped: Taped) -> float:
    """Inches that the piece has of what was taped; PatternError as `tape_checks` says."""
    if taped.what in MEASURES:
        return MEASURES[taped.what](piece)
    if taped.what not in WIDTHS:
        raise PatternError(f'"{taped.what}" cannot be checked; what can is {", ".join((*MEASURES, *WIDTHS))}')
    if taped.drop is None:
        raise PatternError(
            f"a {taped.what} needs its drop: how far below the high shoulder point it was taped"
        )
    return width_in(piece, taped.drop.inches)


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
        raise PatternError(
            f"{piece.name}: {in_words(drop_in)} below the high shoulder point no line runs from the centre to the "
            "side; give a drop below the neck and the underarm, and above the hem"
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


def _said(taped: Taped) -> str:
    return f"{taped.what} at {taped.drop.words}" if taped.drop is not None else taped.what
