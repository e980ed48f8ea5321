"""One piece of a lay moved by hand: slid, turned about, turned over, brought to another fold. Any move may be made;
`rules.py` says what it breaks.
"""

from dataclasses import replace
from typing import Final

import numpy as np

from patterns.curves import Array
from patterns.cutting.placement import Placement
from patterns.errors import PatternError
from patterns.laying.folding import Direction, FoldLine
from patterns.laying.hanging import hangs_by_its_fold, turn_of
from patterns.laying.lay import Lay, PieceOnCloth
from patterns.measures import NOTHING_IN

HALF_TURN_DEG: Final = 180.0
TOP: Final[Array] = np.array([0.0, -1.0])  # of a piece, whose y runs down


def with_moved(lay: Lay, number: int, moved: PieceOnCloth) -> Lay:
    """The lay with that piece lying otherwise."""
    return replace(lay, placed=(*lay.placed[:number], moved, *lay.placed[number + 1 :]))


def slid(one: PieceOnCloth, by_in: Array) -> PieceOnCloth:
    """Slid by (2,) inches on the cloth; a half on a fold keeps to it."""
    across, along = (float(part) for part in by_in)
    if one.on_fold and one.fold_line is not None:
        lengthwise = one.fold_line.direction is Direction.LENGTHWISE
        across, along = (0.0, along) if lengthwise else (across, 0.0)
    place = one.placement
    return replace(one, placement=replace(place, x_in=place.x_in + across, y_in=place.y_in + along))


def turned_about(one: PieceOnCloth) -> PieceOnCloth:
    """Its top where its bottom was, about its own middle; a half stays on its fold."""
    place = one.placement
    turned = replace(place, turn_deg=_upright(place.turn_deg + HALF_TURN_DEG))
    if one.on_fold:
        turned = replace(turned, mirrored=not place.mirrored)
    return _kept_in_place(replace(one, placement=turned), one)


def turned_over(one: PieceOnCloth) -> PieceOnCloth:
    """Mirrored about its own middle, its top where it was. PatternError for a half, which its fold mirrors."""
    if one.on_fold:
        raise PatternError(f"{one.piece.name} lies on a fold, which mirrors it by itself; nothing is changed")
    place = one.placement
    mirrored = not place.mirrored
    turn = turn_of(one.piece, mirrored=mirrored, upside_down=is_upside_down(one))
    return _kept_in_place(replace(one, placement=replace(place, mirrored=mirrored, turn_deg=turn)), one)


def laid_otherwise(one: PieceOnCloth, lay: Lay) -> PieceOnCloth:
    """On the next fold of the cloth, after the last in a single layer, then on the first again.

    PatternError where the cloth gives no other way.
    """
    ways: list[FoldLine | None] = [None, *(lay.folding.fold_lines if one.stage == 1 else ())]
    if one.piece.fold is not None and not hangs_by_its_fold(one.piece):
        ways = [None]
    if len(ways) == 1:
        raise PatternError(f"{one.piece.name} has no fold of the cloth to lie on")
    line = ways[(ways.index(one.fold_line) + 1) % len(ways)]
    if one.piece.fold is None:
        return _within_zone(replace(one, fold_line=line), lay)
    upside_down = is_upside_down(one)
    mirrored = line is not None and (line.below < 0) != upside_down
    turn = turn_of(one.piece, mirrored=mirrored, upside_down=upside_down)
    place = Placement(turn_deg=turn, mirrored=mirrored, opened=line is None)
    moved = _kept_in_place(replace(one, placement=place, fold_line=line), one)
    if line is None:
        return _within_zone(moved, lay)
    return replace(moved, placement=replace(moved.placement, x_in=line.at_in))


def is_upside_down(one: PieceOnCloth) -> bool:
    """Whether its top points to the cut end."""
    return bool(one.placement.direction(TOP)[1] < -NOTHING_IN)


def _kept_in_place(moved: PieceOnCloth, before: PieceOnCloth) -> PieceOnCloth:
    """With the middle of what it covers where it was before; on a lengthwise fold only along it."""
    shift = _middle(before) - _middle(moved)
    return slid(moved, shift)


def _middle(one: PieceOnCloth) -> Array:
    outline = one.outline_in
    middle: Array = (outline.min(axis=0) + outline.max(axis=0)) / 2
    return middle


def _within_zone(one: PieceOnCloth, lay: Lay) -> PieceOnCloth:
    """Slid across on to the strip of cloth that has as many layers, if it fits there; else to its middle."""
    zones = [zone for zone in lay.folding.zones if zone.fold_line == one.fold_line]
    if not zones:
        return one
    outline = one.outline_in[:, 0]
    low, high = float(outline.min()), float(outline.max())
    zone = min(zones, key=lambda each: abs(each.left_in + each.right_in - low - high))
    if high - low > zone.width_in:
        by = (zone.left_in + zone.right_in - low - high) / 2
    else:
        by = max(zone.left_in - low, 0.0) + min(zone.right_in - high, 0.0)
    return slid(one, np.array([by, 0.0]))


def _upright(turn_deg: float) -> float:
    """The same turn from 0 to 360, without the dust of repeated sums."""
    return round(turn_deg, 6) % 360.0
