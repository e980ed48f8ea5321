"""Folded cloth seen from above, against shapely's reflections and by hand."""

import pytest
import shapely
from shapely import affinity

from patterns.laying.cloth import Cloth
from patterns.laying.folded import Folded
from patterns.laying.folding import Fold, Folding

SIXTY = Cloth(bought_width_in=60)


def folded(fold: Fold, **depths: float) -> Folded:
    return Folded(folding=Folding(fold=fold, cloth=SIXTY, **depths), length_in=80)


@pytest.mark.parametrize(
    ("cloth", "box", "spans", "selvedges"),
    [
        (folded(Fold.SINGLE), (0, 0, 60, 80), [(0, 60, 1)], [(0, 0.5), (59.5, 60)]),
        (
            folded(Fold.PARTIAL, right_in=22),
            (0, 0, 38, 80),
            [(0, 16, 1), (16, 38, 2)],
            [(0, 0.5), (16, 16.5)],
        ),
        (folded(Fold.SELVEDGES, right_in=30), (0, 0, 30, 80), [(0, 30, 2)], [(0, 0.5)]),
        (
            folded(Fold.BOTH, left_in=10, right_in=12),
            (10, 0, 48, 80),
            [(10, 20, 2), (20, 36, 1), (36, 48, 2)],
            [(19.5, 20), (36, 36.5)],
        ),
        (folded(Fold.CROSSWISE, far_in=40), (0, 0, 60, 40), [(0, 60, 2)], [(0, 0.5), (59.5, 60)]),
    ],
)
def test_where_edges_and_layers_lie(
    cloth: Folded,
    box: tuple[float, ...],
    spans: list[tuple[float, ...]],
    selvedges: list[tuple[float, ...]],
) -> None:
    assert cloth.box_in == pytest.approx(box)
    assert [(span.start_in, span.end_in, span.layers) for span in cloth.spans] == spans
    assert [(left, right) for left, _, right, _ in cloth.selvedges_in] == selvedges


def test_what_is_turned_over_is_seen_where_it_comes_to_lie() -> None:
    partial = folded(Fold.PARTIAL, right_in=22)
    across_the_fold = shapely.box(35, 5, 50, 9)
    below, above = partial.lying(across_the_fold)
    assert below.equals(shapely.box(35, 5, 38, 9))
    assert above.equals(affinity.scale(shapely.box(38, 5, 50, 9), xfact=-1, origin=(38, 0)))
    assert above.bounds == (26, 5, 38, 9)
    (turned_back,) = folded(Fold.CROSSWISE, far_in=40).lying(shapely.box(1, 70, 4, 78))
    assert turned_back.bounds == (1, 2, 4, 10)
    (partly,) = folded(Fold.CROSSWISE, far_in=38).lying(shapely.box(1, 70, 4, 78))
    assert partly.bounds == (1, 0, 4, 6)


def test_a_fold_knows_which_way_the_cloth_is_not() -> None:
    left, right = folded(Fold.BOTH, left_in=10, right_in=12).folds
    assert (left.ends_in[0][0], left.outwards) == (10, (-1, 0))
    assert (right.ends_in[0][0], right.outwards) == (48, (1, 0))
    (far,) = folded(Fold.CROSSWISE, far_in=40).folds
    assert (far.ends_in, far.outwards) == (((0, 40), (60, 40)), (0, 1))
