"""Whether each piece lies on cloth that is there for it: within selvedges and length, off flaws, clear of others."""

from collections.abc import Iterator
from functools import lru_cache
from typing import Final

import numpy as np
import shapely

from patterns.curves import Array
from patterns.laying.folding import Direction, Fold, FoldLine, Zone
from patterns.laying.lay import Lay, PieceOnCloth
from patterns.laying.violation import HAIR_IN, Rule, Violation
from patterns.saying import Say

ON_FOLD_IN: Final = 1 / 64  # a fold is laid no closer; twice as much is added to the girth
_FINELY: Final = 32  # of an inch, in which small lengths are told


@lru_cache(maxsize=1024)  # while one piece is moved by hand the others are the very same
def polygons_of(placed: PieceOnCloth) -> tuple[shapely.Polygon, ...]:
    """What is taken from the flat cloth, prepared for many questions."""
    polygons = []
    for part in placed.parts_in:
        polygon = shapely.Polygon(part)
        if not polygon.is_valid:  # a half that lies off its fold
            polygon = polygon.buffer(0.0)
        shapely.prepare(polygon)
        polygons.append(polygon)
    return tuple(polygons)


def apart(lay: Lay, number: int, others: range | tuple[int, ...]) -> Iterator[Violation]:
    """Pieces that the piece overlaps or comes too near to; itself among them where two layers are cut."""
    say = Say(lay.terms.sold_by)
    mine = polygons_of(lay.placed[number])
    name = lay.placed[number].piece.name
    if len(mine) == 2 and (nearest := _nearest_in(mine[:1], mine[1:], lay.terms.gap_in)):
        yield Violation(
            rule=Rule.GAP,
            numbers=(number,),
            sentence=f"{name} lies {say(nearest / 2, _FINELY)} from the fold, where its two layers meet; move it "
            f"{say(lay.terms.gap_in / 2, _FINELY)} off",
        )
    for other in others:
        nearest = _nearest_in(mine, polygons_of(lay.placed[other]), lay.terms.gap_in)
        if nearest is None:
            continue
        beside = lay.placed[other].piece.name
        if nearest > 0:
            said = f"{name} and {beside} are {say(nearest, _FINELY)} apart; {say(lay.terms.gap_in)} is wanted"
        else:
            said = f"{name} and {beside} overlap"
        yield Violation(rule=Rule.GAP, numbers=(number, other), sentence=said)


def _nearest_in(
    mine: tuple[shapely.Polygon, ...], theirs: tuple[shapely.Polygon, ...], gap_in: float
) -> float | None:
    """Inches between the two where that is less than the gap: none where they overlap; None where all is well."""
    nearest = None
    for one in mine:
        for other in theirs:
            if _boxes_apart_in(one, other) >= gap_in:
                continue
            if gap_in > HAIR_IN and shapely.dwithin(one, other, gap_in - HAIR_IN):
                nearest = min(float(shapely.distance(one, other)), nearest or gap_in)
            if shapely.intersects(one, other) and not one.intersection(other).buffer(-HAIR_IN).is_empty:
                return 0.0
    return nearest


def _boxes_apart_in(one: shapely.Polygon, other: shapely.Polygon) -> float:
    left, bottom, right, top = one.bounds
    other_left, other_bottom, other_right, other_top = other.bounds
    return max(other_left - right, left - other_right, other_bottom - top, bottom - other_top)


def on_the_cloth(lay: Lay, number: int) -> Iterator[Violation]:
    """Where the piece leaves the cloth, or the part of it that lies in as many layers as it is cut through."""
    say = Say(lay.terms.sold_by)
    placed = lay.placed[number]
    name = placed.piece.name
    flat = np.concatenate(placed.parts_in)
    low, high = lay.cloth.usable_in
    over = max(low - float(flat[:, 0].min()), float(flat[:, 0].max()) - high)
    if over > HAIR_IN:
        said = f"{name} reaches {say(over, _FINELY)} into the selvedge"
        yield Violation(rule=Rule.SELVEDGE, numbers=(number,), sentence=said)
    before, after = -float(flat[:, 1].min()), float(flat[:, 1].max()) - (lay.cloth.length_in or np.inf)
    for beyond, end in ((before, "the squared end"), (after, "the end of the cloth")):
        if beyond > HAIR_IN:
            said = f"{name} reaches {say(beyond, _FINELY)} beyond {end}"
            yield Violation(rule=Rule.LENGTH, numbers=(number,), sentence=said)
    if over <= HAIR_IN:
        yield from _in_its_layers(lay, number, say)
    for flaw in lay.cloth.flaws:
        box = shapely.Polygon(flaw.corners_in)
        if any(not (box & polygon).buffer(-HAIR_IN).is_empty for polygon in polygons_of(placed)):
            said = (
                f"{name} lies on the flaw {say(flaw.left_in)} from the left edge, {say(flaw.bottom_in)} along"
            )
            yield Violation(rule=Rule.FLAW, numbers=(number,), sentence=said)


def _in_its_layers(lay: Lay, number: int, say: Say) -> Iterator[Violation]:
    placed = lay.placed[number]
    name, line = placed.piece.name, placed.fold_line
    if placed.stage > 1 and lay.folding.fold is Fold.REFOLDED:
        return
    zones = [zone for zone in lay.folding.zones if zone.fold_line == line]
    if not zones:
        layers = (
            "one layer, and no strip of the cloth lies single"
            if line is None
            else "two, and it is folded elsewhere"
        )
        said = f"{name} is to be cut through {layers}"
        yield Violation(rule=Rule.LAYER, numbers=(number,), sentence=said)
        return
    across = 0.0 if line is None or placed.on_fold else _across_in(line, placed.outline_in)
    over = min(_off_in(zone, placed.outline_in) for zone in zones)
    if across > HAIR_IN:
        said = f"{name} lies {say(across, _FINELY)} across the fold"
        yield Violation(rule=Rule.FOLD, numbers=(number,), sentence=said)
    elif over > (ON_FOLD_IN if placed.on_fold else HAIR_IN):
        where = "on to cloth that lies double" if line is None else "off the cloth that lies double"
        said = f"{name} reaches {say(over, _FINELY)} {where}"
        yield Violation(rule=Rule.LAYER, numbers=(number,), sentence=said)


def _across_in(line: FoldLine, outline: Array) -> float:
    """How far the outline reaches over the fold line, to where there is no cloth below."""
    places = outline[:, 0 if line.direction is Direction.LENGTHWISE else 1]
    return float((line.below * (line.at_in - places)).max())


def _off_in(zone: Zone, outline: Array) -> float:
    """How far the outline reaches out of the strip, but across a fold."""
    line = zone.fold_line
    folded = line.below if line is not None and line.direction is Direction.LENGTHWISE else 0
    left = 0.0 if folded > 0 else zone.left_in - float(outline[:, 0].min())
    right = 0.0 if folded < 0 else float(outline[:, 0].max()) - zone.right_in
    return max(left, right)


def on_its_fold(lay: Lay, number: int) -> Iterator[Violation]:
    """A half whose fold edge is off the fold of the cloth."""
    placed = lay.placed[number]
    if placed.piece.fold is None or placed.placement.opened:
        return
    name = placed.piece.name
    if placed.fold_line is None:
        said = f"{name} is half a piece and lies on no fold; bring it to a fold, or open it full"
        yield Violation(rule=Rule.FOLD, numbers=(number,), sentence=said)
        return
    edge = placed.placement.placed(placed.piece.cut_line[[0, -1]])
    across = placed.fold_line.direction is Direction.LENGTHWISE
    off = np.abs(edge[:, 0 if across else 1] - placed.fold_line.at_in).max()
    if off > ON_FOLD_IN:
        say = Say(lay.terms.sold_by)
        said = f"{name} lies with its fold edge {say(float(off), _FINELY)} off the fold"
        yield Violation(rule=Rule.FOLD, numbers=(number,), sentence=said)
