"""The words on a piece that lies on the table to be cut: all of them in the light, if any of the piece is."""

import math
from collections.abc import Sequence
from dataclasses import replace
from functools import lru_cache
from typing import TYPE_CHECKING, Final

import numpy as np
import shapely
from shapely.geometry.base import BaseGeometry

from calibration.frames import Array
from patterns.cutting.drafted import DraftedPiece
from patterns.cutting.labels import Label, state_words
from patterns.cutting.marks import LineKind, lines_of
from patterns.cutting.placement import Placement
from projector.cloth.laid_pieces import outline_in
from projector.cloth.on_cloth import is_half
from projector.cloth.reach_light import part_in
from projector.cloth.reaches import Reaches
from projector.lighting.letters import words_width
from projector.lighting.lit_area import LitArea

if TYPE_CHECKING:
    from projector.stations.cut import CutStation

MIRRORED: Final = "mirrored"
SIGNS: Final = (LineKind.FOLD, LineKind.FOLD_SIGN, LineKind.CENTRE, LineKind.GRAIN)
ACROSS_GAIN: Final = 2.0  # words must be so much larger before they lie across a line
CLEAR_IN: Final = 0.5  # from the light's edge and from the cut line, once they are moved


def hand_matters(station: "CutStation") -> bool:
    """Whether left and right differ: a half that a lay has on a fold opens to the same piece either way."""
    return not (station.work.is_lay and is_half(station.piece, station.placement))


def lying_states(station: "CutStation") -> tuple[str, ...]:
    """How the lit piece lies, as it stands on it."""
    states = state_words(station.piece, station.placement)
    return tuple(state for state in states if state != MIRRORED or hand_matters(station))


def piece_labels(station: "CutStation") -> list[Label]:
    """What stands on the lit piece, in table inches, to be read by the person."""
    labels = station.person.labels(station.piece, station.placement)
    said = [label for label in labels if label.text != MIRRORED or hand_matters(station)]
    border = shapely.Polygon(station.ground.lit.border_in)
    if border.contains(shapely.MultiPoint(np.vstack([corners(label) for label in said]))):
        return said
    copy, lit = station.copy, station.ground.lit
    lit_part, clear = _rooms(station.piece, station.placement, copy.reaches, copy.reach, lit)
    return said if lit_part is None else _moved(said, lit_part, clear)


_Circle = tuple[Array, Array]


@lru_cache(maxsize=32)
def _rooms(
    piece: DraftedPiece, placement: Placement, reaches: Reaches | None, reach: int, lit: LitArea
) -> tuple[_Circle | None, _Circle | None]:
    """The largest circles in what is lit of a piece, or of a reach of it: anywhere, and clear of its signs.

    None where there is none.
    """
    outline = outline_in(piece, placement) if reaches is None else part_in(piece, placement, reaches, reach)
    part = shapely.Polygon(lit.border_in).intersection(shapely.Polygon(outline).buffer(0)).buffer(-CLEAR_IN)
    return _circle(part), _circle(part.difference(_signs(piece, placement)))


def _signs(piece: DraftedPiece, placement: Placement) -> BaseGeometry:
    """What words are better beside than across."""
    lines = lines_of(piece, placement)
    return shapely.MultiLineString([line.points for line in lines if line.kind in SIGNS]).buffer(CLEAR_IN)


def corners(label: Label) -> Array:
    """(4, 2) of the box that its letters fill."""
    half = label.height_in * np.array([words_width(label.text), 1.0]) / 2
    away = np.array([-label.along[1], label.along[0]])
    return np.array(
        [label.at + x * half[0] * label.along + y * half[1] * away for x in (-1, 1) for y in (-1, 1)]
    )


def _moved(labels: Sequence[Label], lit: _Circle, clear: _Circle | None) -> list[Label]:
    """In the circle in what is lit, smaller where they have to be; in the one clear of signs if not much smaller so."""
    ends = np.vstack([corners(label) for label in labels])
    middle = (ends.min(axis=0) + ends.max(axis=0)) / 2
    radius = float(np.hypot(*(ends - middle).T).max())
    centre, rim = lit
    if clear is not None and math.dist(*clear) >= min(radius, math.dist(*lit)) / ACROSS_GAIN:
        centre, rim = clear
    share = min(1.0, math.dist(centre, rim) / radius)
    return [
        replace(label, at=centre + share * (label.at - middle), height_in=share * label.height_in)
        for label in labels
    ]


def _circle(area: BaseGeometry) -> _Circle | None:
    """The middle (2,) of the largest circle in an area, and a point (2,) of its rim; None in none."""
    if area.is_empty:
        return None
    centre, rim = shapely.get_coordinates(shapely.maximum_inscribed_circle([area], tolerance=[0.1]))
    return centre, rim
