"""Random patterns laid on every kind of fold, held to the rules of a lay as they are defined.

The geometry is worked out here from cut lines and placements with shapely alone: every piece is unfolded on to the
flat cloth, and what it takes must be apart from all else, within the selvedges and along its grain.
"""

import math
from itertools import combinations

import numpy as np
import pytest
import shapely
from shapely import affinity
from shapely.geometry.base import BaseGeometry

from patterns.laying.cloth import Cloth, Flaw
from patterns.laying.folding import Direction, Fold, Folding
from patterns.laying.lay import Lay, PieceOnCloth, Terms
from patterns.planning.plan import Effort, plan
from tests.unit.patterns.wardrobe import wardrobe

PATTERNS = 200
QUICK = Effort(rounds=1)
WIDTHS_IN = (60.0, 64.0, 66.0)
WIDER_IN = {Fold.CENTRE: 68.0, Fold.BOTH: 100.0}  # so that there is room for all that is folded
DOUBLED = (Fold.SELVEDGES, Fold.CENTRE, Fold.CROSSWISE)  # nothing is left single in them
HAIR_IN = 1e-6


def below(placed: PieceOnCloth) -> BaseGeometry:
    """The piece where it is cut in the layer below: turned over, opened, turned and moved as its placement says."""
    drawn: BaseGeometry = affinity.scale(shapely.Polygon(placed.piece.cut_line), 1, -1, origin=(0, 0))
    lies = placed.placement
    if lies.opened and placed.piece.cut.on_fold:
        drawn = shapely.union_all([drawn, affinity.scale(drawn, -1, 1, origin=(0, 0))], grid_size=1e-9)
    if lies.mirrored:
        drawn = affinity.scale(drawn, -1, 1, origin=(0, 0))
    return affinity.translate(affinity.rotate(drawn, lies.turn_deg, origin=(0, 0)), lies.x_in, lies.y_in)


def above(placed: PieceOnCloth, folding: Folding) -> BaseGeometry:
    """The same in the layer above, unfolded about the fold."""
    line = placed.fold_line
    assert line is not None
    assert line.at_in in (folding.left_in, folding.cloth.width_in - folding.right_in, folding.far_in)
    across = line.direction is Direction.LENGTHWISE
    origin = (line.at_in, 0) if across else (0, line.at_in)
    return affinity.scale(below(placed), -1 if across else 1, 1 if across else -1, origin=origin)


def taken(placed: PieceOnCloth, folding: Folding) -> list[BaseGeometry]:
    """What is cut out of the flat cloth: one piece, or two."""
    one = below(placed)
    if placed.fold_line is None:
        return [one]
    other = above(placed, folding)
    if placed.piece.cut.on_fold and not placed.placement.opened:
        edge = np.flatnonzero(np.abs(shapely.get_coordinates(one)[:, 0] - placed.fold_line.at_in) < HAIR_IN)
        assert len(edge) >= 2, f"{placed.piece.name} has its fold edge off the fold"
        return [shapely.union_all([one, other], grid_size=1e-9)]
    return [one, other]


def check(lay: Lay) -> None:
    """Every rule of a lay, as it is defined."""
    cloth, folding = lay.cloth, lay.folding
    low, high = cloth.selvedge_in, cloth.width_in - cloth.selvedge_in
    parts = [part for placed in lay.placed for part in taken(placed, folding)]
    for one, other in combinations(parts, 2):
        assert one.distance(other) >= lay.terms.gap_in - HAIR_IN
        assert one.intersection(other).area < HAIR_IN
    ends = np.array([part.bounds for part in parts])
    assert ends[:, 0].min() >= low - HAIR_IN
    assert ends[:, 2].max() <= high + HAIR_IN
    assert ends[:, 1].min() >= -HAIR_IN
    assert lay.used_in == pytest.approx(ends[:, 3].max(), abs=HAIR_IN)
    for flaw in cloth.flaws:
        hole = shapely.box(flaw.left_in, flaw.bottom_in, flaw.right_in, flaw.top_in)
        assert all(part.intersection(hole).area < HAIR_IN for part in parts)
    for placed in lay.placed:
        check_layers(placed, folding)
        check_grain(placed, has_nap=cloth.has_nap)
    for piece in lay.pieces:
        lies = [placed for placed in lay.placed if placed.piece is piece]
        assert sum(len(taken(placed, folding)) for placed in lies) == piece.cut.count
        if piece.cut.mirrored:
            assert (
                2 * sum(placed.fold_line is not None or placed.placement.mirrored for placed in lies)
                == piece.cut.count
            )
        elif piece.cut.count == 1 and not piece.cut.on_fold:
            assert not any(placed.placement.mirrored for placed in lies)


def check_layers(placed: PieceOnCloth, folding: Folding) -> None:
    """One layer is cut where the cloth lies single, unless the rest was opened before."""
    left, _, right, top = below(placed).bounds
    width = folding.cloth.width_in
    if placed.fold_line is None:
        refolded = folding.fold is Fold.REFOLDED and placed.stage == 2
        assert folding.fold is not Fold.CROSSWISE
        assert refolded or (
            left >= 2 * folding.left_in - HAIR_IN and right <= width - 2 * folding.right_in + HAIR_IN
        )
    elif placed.fold_line.direction is Direction.CROSSWISE:
        assert top <= folding.far_in + HAIR_IN
    elif placed.fold_line.below > 0:
        assert folding.left_in - HAIR_IN <= left
        assert right <= 2 * folding.left_in + HAIR_IN
    else:
        assert width - 2 * folding.right_in - HAIR_IN <= left
        assert right <= width - folding.right_in + HAIR_IN


def check_grain(placed: PieceOnCloth, *, has_nap: bool) -> None:
    """Both ends of the grainline equally far from the selvedge within 1/8 in; the top at the far end with nap."""
    grain = placed.piece.grain if placed.piece.grain is not None else np.array([[0.0, 5.0], [0.0, 0.0]])
    across, along = (grain[1] - grain[0]) * (-1 if placed.placement.mirrored else 1, -1)
    turn = math.radians(placed.placement.turn_deg)
    rise = math.sin(turn) * across + math.cos(turn) * along
    assert abs(math.cos(turn) * across - math.sin(turn) * along) <= 1 / 8
    assert rise > 0 or not has_nap


@pytest.mark.parametrize("first", range(0, PATTERNS, 25))
def test_random_patterns_on_every_fold(first: int) -> None:
    for number in range(first, first + 25):
        fold = tuple(Fold)[number % len(Fold)]
        cloth = Cloth(
            bought_width_in=WIDER_IN.get(fold, WIDTHS_IN[number % 3]),
            has_nap=number % 2 == 1 and fold is not Fold.CROSSWISE,
            flaws=(Flaw(left_in=20, bottom_in=9, right_in=21, top_in=10),)
            if number % 5 == 4 and fold is not Fold.CROSSWISE
            else (),
        )
        terms = Terms(gap_in=(0.0, 0.25, 0.5)[number % 3])
        pattern = wardrobe(number, doubled=fold in DOUBLED)
        check(plan(pattern, cloth, fold, terms=terms, effort=QUICK))
