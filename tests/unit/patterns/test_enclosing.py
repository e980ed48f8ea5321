import numpy as np
import pytest
import shapely

from patterns.curves import Array, Curve
from patterns.cutting.enclosing import left_out
from patterns.parts import CutCount, Kind
from patterns.shape import Shape, ShapeEdge

SQUARE = ((0.0, 0.0), (10.0, 0.0), (10.0, 10.0), (0.0, 10.0))


def square(*widths_in: float, folded: bool = False) -> Shape:
    """Ten inches by ten, each side with its allowance; the last may be the fold, along x = 0."""
    kinds = [Kind.SEAM] * 3 + [Kind.FOLD if folded else Kind.SEAM]
    return Shape(
        name="flag",
        cut=CutCount(on_fold=folded),
        edges=tuple(
            ShapeEdge(
                name=f"e{number}",
                kind=kind,
                curve=Curve.straight(np.array([SQUARE[number], SQUARE[(number + 1) % 4]])),
                allowance_in=(width,),
            )
            for number, (kind, width) in enumerate(zip(kinds, widths_in, strict=True))
        ),
    )


def found(shape: Shape, *line: tuple[float, float], bare_whole: bool = True) -> list[float] | None:
    ring: Array = np.array([*line, line[0]])
    place = left_out(shape, shapely.LineString(ring), ring, bare_whole)
    return None if place is None else place.tolist()


ROUND = ((-1.0, -1.0), (11.0, -1.0), (11.0, 11.0), (-1.0, 11.0))
ON_FOLD = ((0.0, -1.0), (11.0, -1.0), (11.0, 11.0), (0.0, 11.0))


@pytest.mark.parametrize("bare_whole", [True, False])
def test_a_cut_line_round_all_of_the_seam_line_leaves_out_nothing(bare_whole: bool) -> None:
    assert found(square(1, 1, 1, 1), *ROUND, bare_whole=bare_whole) is None
    assert found(square(1, 1, 1, 0, folded=True), *ON_FOLD, bare_whole=bare_whole) is None


@pytest.mark.parametrize("bare_whole", [True, False])
def test_along_edges_without_allowance_it_may_run_on_the_seam_line(bare_whole: bool) -> None:
    two_bare = (0.0, -1.0), (10.0, -1.0), (10.0, 10.0), (0.0, 10.0)
    assert found(square(1, 0, 0, 0), *two_bare, bare_whole=bare_whole) is None
    assert found(square(1, 0, 0, 0, folded=True), *two_bare, bare_whole=bare_whole) is None
    assert found(square(0, 0, 0, 0), *SQUARE, bare_whole=bare_whole) is None


def test_a_corner_that_is_cut_off_is_left_out() -> None:
    blunt = (-1.0, -1.0), (11.0, -1.0), (11.0, 6.0), (6.0, 11.0), (-1.0, 11.0)
    assert found(square(1, 1, 1, 1), *blunt) == [10, 10]
    assert found(square(1, 1, 1, 0, folded=True), (0.0, -1.0), *blunt[1:4], (0.0, 11.0)) == [10, 10]


def test_a_cut_line_that_meets_the_seam_line_nowhere_may_leave_out_all_of_it() -> None:
    assert found(square(1, 1, 1, 1), (3.0, 3.0), (7.0, 3.0), (7.0, 8.0), (3.0, 8.0)) is not None
    assert found(square(1, 1, 1, 1), (13.0, 3.0), (17.0, 3.0), (17.0, 8.0)) is not None
    assert found(square(1, 1, 1, 1), (-13.0, 3.0), (-17.0, 3.0), (-17.0, 8.0)) is not None


def test_a_fold_that_runs_beyond_its_cut_line_is_left_out() -> None:
    short = (0.0, 2.0), (2.0, -1.0), *ON_FOLD[1:]
    assert found(square(1, 1, 1, 0, folded=True), *short) == [0, 0]


def test_an_edge_without_allowance_that_is_not_whole_is_looked_at() -> None:
    trimmed = (-1.0, -1.0), (11.0, -1.0), (11.0, 8.0), (-1.0, 8.0)
    assert found(square(1, 1, 0, 1), *trimmed, bare_whole=False) in ([10, 10], [0, 10])
