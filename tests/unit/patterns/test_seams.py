import math

import numpy as np
import pytest

from patterns import PatternError
from patterns.curves import Curve
from patterns.cutting.corners import MITRE_LIMIT
from patterns.cutting.seams import cut_line
from patterns.parts import Corner, Kind
from patterns.shape import Shape, signed_area
from tests.unit.patterns.build import arc, edge, nearest_in, ring_of, shape

SQUARE = [[0, 0], [10, 0], [10, 10], [0, 10]]


def flared(degrees: float, *hem: float, side: float = 0.0, corner: Corner | None = None) -> Shape:
    """A half whose side flares out towards the hem, at whose end it stands at (10, 20)."""
    top = 10 - 20 * math.tan(math.radians(degrees))
    return shape(
        edge("neck", [[0, 0], [top, 0]], 0.5),
        edge("side", [[top, 0], [10, 20]], side, corner=corner),
        edge("hem", [[10, 20], [0, 20]], *hem, kind=Kind.HEM),
        edge("centre", [[0, 20], [0, 0]], kind=Kind.FOLD),
    )


def test_a_square_grows_by_its_allowance_with_sharp_corners() -> None:
    grown = [[-0.5, -0.5], [10.5, -0.5], [10.5, 10.5], [-0.5, 10.5]]
    assert cut_line(ring_of(SQUARE, 0.5)) == pytest.approx(np.array(grown))


def test_the_walking_direction_does_not_matter() -> None:
    there, back = cut_line(ring_of(SQUARE, 0.5)), cut_line(ring_of(SQUARE[::-1], 0.5))
    assert signed_area(there) == -signed_area(back) == 121


def test_without_allowance_the_cut_line_is_the_seam_line() -> None:
    assert cut_line(ring_of(SQUARE, 0.0)).tolist() == SQUARE


def test_allowances_of_nothing_stand_beside_others() -> None:
    assert cut_line(ring_of(SQUARE, 0.5, 0.0)).tolist() == [[0, -0.5], [10, -0.5], [10, 10.5], [0, 10.5]]


@pytest.mark.parametrize("degrees", [50, 60, 75, 90, 105, 120, 150])
@pytest.mark.parametrize(("a", "b"), [(0.5, 0.5), (0.5, 0.625), (0.25, 0.375)])
def test_a_mitre_lies_where_the_formula_says(degrees: float, a: float, b: float) -> None:
    """sqrt(a^2 + b^2 + 2ab cos t) / sin t from the seam corner (plain geometry)."""
    t = math.radians(degrees)
    far = math.sqrt(a * a + b * b + 2 * a * b * math.cos(t)) / math.sin(t)
    corner = ring_of([[0, 0], [20, 0], [20 * math.cos(t), 20 * math.sin(t)]], a, a, b)
    away = np.hypot(*cut_line(corner).T)
    assert away.min() == pytest.approx(far, abs=1e-9)


def test_a_sharp_corner_is_blunted_at_the_limit() -> None:
    t = math.radians(30)
    a = 0.5
    line = cut_line(ring_of([[0, 0], [20, 0], [20 * math.cos(t), 20 * math.sin(t)]], a))
    near = line[np.hypot(*line.T) < 3 * a]
    assert len(near) == 2
    assert np.hypot(*near.T) == pytest.approx([MITRE_LIMIT * a] * 2)
    bevel = abs(near[0, 0] * near[1, 1] - near[1, 0] * near[0, 1]) / np.hypot(*(near[1] - near[0]))
    assert bevel > a


def test_unequal_allowances_on_a_straight_seam_meet_in_a_step() -> None:
    line = cut_line(ring_of([[0, 0], [5, 0], [10, 0], [10, 10], [0, 10]], 0.25, 0.5, 0.5, 0.5, 0.5))
    assert [5, -0.25] in line.tolist()
    assert [5, -0.5] in line.tolist()


def test_a_corner_that_turns_in_is_trimmed_to_where_the_cut_edges_meet() -> None:
    line = cut_line(ring_of([[0, 0], [10, 0], [10, 4], [4, 4], [4, 10], [0, 10]], 0.5))
    assert len(line) == 6
    assert nearest_in(line, [4.5, 4.5]) < 1e-12


def test_a_curve_and_a_line_that_turn_in_are_trimmed() -> None:
    bump = shape(
        edge("left", [[-6, 0], [-2, 0]], 0.5),
        edge("bump", arc([0, 0], 2, 180, 0), 0.5),
        edge("right", [[2, 0], [6, 0], [6, -8], [-6, -8], [-6, 0]], 0.5),
    )
    line = cut_line(bump)
    half = math.sqrt(2.5**2 - 0.5**2)
    assert nearest_in(line, [half, 0.5]) < 0.001
    assert nearest_in(line, [-half, 0.5]) < 0.002


def test_a_fold_is_met_on_the_centre_line_exactly() -> None:
    line = cut_line(flared(10, 0.5, side=0.5))
    assert line[0].tolist() == [0.0, -0.5]
    assert line[-1].tolist() == [0.0, 20.5]
    assert (line[1:-1, 0] > 0).all()


def test_the_fold_may_be_walked_first_or_last_and_either_way() -> None:
    one = flared(10, 0.5, side=0.5)
    for turned in range(4):
        assert cut_line(one.starting(turned)).tolist() == cut_line(one).tolist()
    edges = tuple(edge(e.name, e.curve.reversed(), *e.allowance_in, kind=e.kind) for e in one.edges[::-1])
    assert cut_line(shape(*edges)) == pytest.approx(cut_line(one)[::-1])


def test_a_pointed_hem_at_the_fold_is_cut_square_at_the_limit() -> None:
    steep = shape(
        edge("top", [[0, 0], [2, 0]], 0.5),
        edge("side", [[2, 0], [0, 20]], 0.5),
        edge("centre", [[0, 20], [0, 0]], kind=Kind.FOLD),
    )
    line = cut_line(steep)
    assert line[-1, 0] == 0
    assert line[-1, 1] == line[-2, 1]
    assert np.hypot(*(line[-2] - [0, 20])) == pytest.approx(1.25)


@pytest.mark.parametrize(
    ("hem", "ends"),
    [
        ((0.5,), [[10, 20], [10 - 0.5 * math.tan(math.radians(10)), 20.5]]),
        (
            (0.25, 0.25),
            [[10, 20], [10 - 0.25 * math.tan(math.radians(10)), 20.25], [10, 20.5]],
        ),
        (
            (0.5, 0.25),
            [
                [10, 20],
                [10 - 0.5 * math.tan(math.radians(10)), 20.5],
                [10 - 0.25 * math.tan(math.radians(10)), 20.75],
            ],
        ),
    ],
)
def test_a_hem_is_mirrored_about_its_fold_lines(hem: tuple[float, ...], ends: list[list[float]]) -> None:
    line = cut_line(flared(10, *hem))
    below = line[(line[:, 1] > 19.99) & (line[:, 0] > 5)]
    assert below == pytest.approx(np.array(ends), abs=1e-9)


def test_a_mirrored_hem_folds_on_to_the_sides_cut_edge_also_where_the_side_is_curved() -> None:
    side = Curve.bezier(np.array([[8.0, 0.0], [8.0, 10.0], [9.0, 18.0], [10.0, 20.0]]))
    line = cut_line(
        shape(
            edge("neck", [[0, 0], [8, 0]], 0.5),
            edge("side", side, 0.5),
            edge("hem", [[10, 20], [0, 20]], 1.0, kind=Kind.HEM),
            edge("centre", [[0, 20], [0, 0]], kind=Kind.FOLD),
        )
    )
    hem_end = line[(line[:, 1] > 20.01) & (line[:, 0] > 5)]
    folded = hem_end * [1, -1] + [0, 40]
    garment = line[(line[:, 1] <= 20.01) & (line[:, 1] > 18) & (line[:, 0] > 5)]
    order = np.argsort(garment[:, 1])
    expected = np.interp(folded[:, 1], garment[order, 1], garment[order, 0])
    assert folded[:, 0] == pytest.approx(expected, abs=1e-3)


@pytest.mark.parametrize("hem", [(0.0,), (0.0, 0.0)])
def test_a_hem_without_allowance_has_nothing_to_mirror(hem: tuple[float, ...]) -> None:
    mirrored = cut_line(flared(10, *hem, side=0.5, corner=Corner.REFLECTED))
    assert mirrored.tolist() == cut_line(flared(10, 0.0, side=0.5, corner=Corner.MITRE)).tolist()


def test_a_double_hem_may_have_nothing_turned_under() -> None:
    assert cut_line(flared(10, 0.5, 0.0)) == pytest.approx(cut_line(flared(10, 0.5)))


def test_a_hem_may_be_mitred_instead() -> None:
    line = cut_line(flared(10, 0.5, corner=Corner.MITRE))
    out = 0.5 * math.tan(math.radians(10))
    assert nearest_in(line, [10 + out, 20.5]) < 1e-9


def test_a_squared_corner_of_a_slanted_side() -> None:
    """The side's seam line runs on to the cut edge below and the allowance ends square to it."""
    t = math.radians(10)
    slanted = flared(10, 0.5, side=0.5, corner=Corner.SQUARED)
    line = cut_line(slanted)
    foot = np.array([10 + 0.5 * math.tan(t), 20.5])
    assert nearest_in(line, list(foot)) < 1e-9
    assert nearest_in(line, list(foot + 0.5 * np.array([math.cos(t), -math.sin(t)]))) < 1e-9


def test_the_next_seam_line_may_run_on_instead() -> None:
    """The hem's seam line runs on to the side's cut edge and the hem's allowance ends square to it."""
    t = math.radians(10)
    line = cut_line(flared(10, 0.5, side=0.5, corner=Corner.SQUARED_NEXT))
    foot = 10 + 0.5 / math.cos(t)
    assert nearest_in(line, [foot, 20]) < 1e-9
    assert nearest_in(line, [foot, 20.5]) < 1e-9


def test_an_allowance_wider_than_a_hollow_is_refused_with_what_would_fit() -> None:
    bite = shape(
        edge("top", [[-6, 0], [-0.4, 0]], 0.5),
        edge("armhole", arc([0, 0], 0.4, 180, 360), 0.5),
        edge("rest", [[0.4, 0], [6, 0], [6, -8], [-6, -8], [-6, 0]], 0.5),
    )
    with pytest.raises(PatternError) as refused:
        cut_line(bite)
    assert str(refused.value).startswith(
        "flag, armhole: an allowance of 1/2 in does not fit the hollow of 0.40 in radius near ["
    )
    assert str(refused.value).endswith("]; give armhole at most 3/8 in, or reshape the piece there")


def test_a_slot_too_narrow_for_its_allowances_is_refused() -> None:
    slot = ring_of(
        [[0, 0], [4, 0], [4, 6], [4.6, 6], [4.6, 0], [10, 0], [10, 10], [0, 10]],
        0.5,
    )
    with pytest.raises(PatternError) as refused:
        cut_line(slot)
    assert str(refused.value) == (
        "flag, e2: between its neighbours' allowances nothing is left of its cut edge; "
        "give e2 and e1 and e3 at most 1/4 in, or reshape the piece there"
    )


def test_allowances_that_run_into_each_other_are_refused() -> None:
    """A gap of 0.6 between two points of the outline that are not neighbours."""
    gap = ring_of(
        [
            *([0, 0], [10, 0], [10, 10], [5.3, 10], [5.3, 5], [8, 5]),
            *([8, 2], [2, 2], [2, 5], [4.7, 5], [4.7, 10], [0, 10]),
        ],
        0.5,
    )
    with pytest.raises(PatternError) as refused:
        cut_line(gap)
    assert str(refused.value).startswith("flag, e2 and e3 and e10: the cut line crosses itself near [")
    assert str(refused.value).endswith("; give every edge at most 1/4 in, or reshape the piece there")


def test_a_side_that_comes_back_under_its_hem_line_is_mirrored_near_the_hem_only() -> None:
    """A cut-on sleeve: the sleeve hem's line, run on, crosses the body's side again."""
    sleeve = shape(
        edge("overarm", [[0, 0], [16, 4]], 0.5),
        edge("sleeve hem", [[16, 4], [13.69, 9.72]], 0.5, kind=Kind.HEM),
        edge("underarm", [[13.69, 9.72], [10.75, 8.5], [11.2, 25]], 0.625),
        edge("hem", [[11.2, 25], [0, 25]], 1.0, kind=Kind.HEM),
        edge("centre", [[0, 25], [0, 0]], kind=Kind.FOLD),
    )
    line = cut_line(sleeve)
    assert len(line) <= 10
    assert line[:, 0].max() < 17
    assert not ((line[:, 0] > 12.5) & (line[:, 1] > 11)).any()


def test_a_sharp_corner_beside_the_fold_does_not_run_across_it() -> None:
    """A neck that leans out below a shoulder which begins close to the centre: its mitre would lie on both halves."""
    piece = shape(
        edge("neck", [[0, 6], [3, 6], [0.6, 0]], 0.5),
        edge("shoulder", [[0.6, 0], [9, 5]], 0.5),
        edge("side", [[9, 5], [10, 24], [0, 24]], 0.5),
        edge("centre", [[0, 24], [0, 6]], kind=Kind.FOLD),
    )
    with pytest.raises(PatternError) as refused:
        cut_line(piece)
    assert str(refused.value) == (
        "flag, neck and shoulder: the cut line runs across the fold, to [-0.29 in, -0.88 in]; give neck and shoulder "
        "at most 5/16 in, or reshape the piece there"
    )
