import math
from pathlib import Path

import numpy as np
import pytest
import shapely

from patterns import DraftedPattern, PatternError
from patterns.curves import Curve
from tests.unit.patterns.build import HALF_TOP, nearest_in, pattern_of
from tests.unit.patterns.smock import drafted, edge_of


def neck_of(pattern: DraftedPattern, piece: str = "front") -> Curve:
    """The neck walked from the fold."""
    return edge_of(pattern, "neck", (0, 4), piece)


def hollow_in2(neck: Curve) -> float:
    """Square inches between the neck and the straight lines from its ends to the corner above the fold."""
    corner = np.array([0.0, neck.end[1]])
    return float(shapely.Polygon(np.vstack([neck.points, corner])).area)


@pytest.mark.parametrize("backwards", [False, True])
@pytest.mark.parametrize("depth", [1.0, 2.5, 3.5])
def test_a_round_neck_is_a_circle_square_to_the_fold(tmp_path: Path, backwards: bool, depth: float) -> None:
    """Plain geometry: R = (w^2 + e^2) / 2e; every point so far from the centre; the circle's own segment."""
    neck = neck_of(drafted(tmp_path, f"{{neck: round, piece: front, depth: {depth}}}", backwards=backwards))
    radius = (3.5**2 + depth**2) / (2 * depth)
    assert np.hypot(*(neck.points - [0, depth - radius]).T) == pytest.approx(radius, abs=1e-6)
    assert neck.start.tolist() == [0, depth]
    assert neck.end == pytest.approx([3.5, 0])
    assert neck.start_tangent == pytest.approx([1, 0], abs=1e-6)
    angle = math.asin(3.5 / radius)
    segment = radius**2 * angle / 2 - (radius - depth) * 3.5 / 2
    assert hollow_in2(neck) == pytest.approx(segment, abs=0.002)


def test_a_round_neck_deeper_than_wide_is_a_quarter_of_an_ellipse(tmp_path: Path) -> None:
    """Plain geometry: (x / w)^2 + (y / e)^2 = 1, area pi w e / 4; nowhere wider than at the shoulder."""
    neck = neck_of(drafted(tmp_path, "{neck: round, piece: front, depth: 7}"))
    assert np.hypot(*(neck.points / [3.5, 7]).T) == pytest.approx(1, abs=1e-6)
    assert hollow_in2(neck) == pytest.approx(math.pi * 3.5 * 7 / 4, abs=0.005)
    assert neck.end_tangent == pytest.approx([0, -1], abs=1e-6)
    assert neck.points[:, 0].max() <= 3.5


def test_a_scoop_is_flatter_below_and_fuller_than_a_round_neck(tmp_path: Path) -> None:
    scoop = neck_of(drafted(tmp_path, "{neck: scoop, piece: front, depth: 7}"))
    round_ = neck_of(drafted(tmp_path, "{neck: round, piece: front, depth: 7}"))
    assert scoop.start_tangent == pytest.approx([1, 0], abs=1e-9)
    assert scoop.end_tangent == pytest.approx([0, -1], abs=1e-9)
    assert scoop.start.tolist() == [0, 7]
    assert hollow_in2(scoop) > 1.05 * hollow_in2(round_)

    def risen(neck: Curve) -> float:
        return 7 - float(neck.points[np.argmin(np.abs(neck.points[:, 0] - 1)), 1])

    assert risen(scoop) < 0.6 * risen(round_)


def test_a_square_neck_has_its_corner_below_the_shoulder_or_where_it_is_asked_for(tmp_path: Path) -> None:
    square = "{neck: square, piece: front, depth: 6 in, corner: 4 in}"
    plain = neck_of(drafted(tmp_path, "{neck: square, piece: front, depth: 6 in}"))
    assert plain.points.tolist() == [[0, 6], [3.5, 6], [3.5, 0]]
    pattern = drafted(tmp_path, square)
    assert neck_of(pattern).points.tolist() == [[0, 6], [4, 6], [3.5, 0]]
    assert len(pattern.pieces["front"].clips) == 1


@pytest.mark.parametrize("shape", ["v", "round", "scoop", "square"])
@pytest.mark.parametrize("width", [2.0, 3.5, 6.5])
def test_a_width_puts_the_neck_shoulder_point_on_the_shoulder_line(
    tmp_path: Path, shape: str, width: float
) -> None:
    """Plain geometry: the overarm runs from [3.5, 0] with 5 down for 15 across."""
    change = "{{neck: {}, piece: {}, depth: 6, width: {}}}"
    pattern = drafted(tmp_path, *(change.format(shape, piece, width) for piece in ("front", "back")))
    neck = neck_of(pattern)
    assert neck.end == pytest.approx([width, (width - 3.5) / 3], abs=1e-6)
    overarm = pattern.pieces["front"].edges["overarm"]
    assert overarm.length_in == pytest.approx((18.5 - width) * math.hypot(1, 1 / 3), abs=1e-6)
    assert pattern.joins[0].difference_in == pytest.approx(0, abs=1e-9)


def test_a_neck_wider_on_the_front_alone_is_told_by_its_join(tmp_path: Path) -> None:
    assert drafted(tmp_path, "{widen neck: 1}").joins[0].warning == ""
    warning = drafted(tmp_path, "{widen neck: 1, pieces: front}").joins[0].warning
    assert warning.startswith("front/overarm is 14.81 in and back/overarm 15.81 in long: they differ by 1 in")


@pytest.mark.parametrize("backwards", [False, True])
@pytest.mark.parametrize(("word", "sign"), [("widen", 1), ("narrow", -1)])
def test_a_neck_is_widened_along_the_shoulder_and_keeps_its_depth(
    tmp_path: Path, backwards: bool, word: str, sign: int
) -> None:
    pattern = drafted(tmp_path, f"{{{word} neck: 1 1/4}}", backwards=backwards)
    along = np.array([15, 5]) / math.hypot(15, 5) * 1.25 * sign
    for piece in ("front", "back"):
        neck = neck_of(pattern, piece)
        assert neck.start.tolist() == [0, 4]
        assert neck.end == pytest.approx(np.array([3.5, 0]) + along)
        assert neck.start_tangent == pytest.approx([1, 0], abs=1e-9)
        overarm = pattern.pieces[piece].edges["overarm"]
        assert overarm.length_in == pytest.approx(math.hypot(15, 5) - 1.25 * sign)
        assert overarm.curve.is_straight
        assert len(overarm.curve.beziers) == 1


@pytest.mark.parametrize("backwards", [False, True])
@pytest.mark.parametrize("by", [0.5, 2.0, 6.0])
def test_a_lowered_neck_stays_smooth_square_and_at_its_shoulder(
    tmp_path: Path, backwards: bool, by: float
) -> None:
    neck = neck_of(drafted(tmp_path, f"{{lower neck: {by}, piece: front}}", backwards=backwards))
    assert neck.start.tolist() == [0, 4 + by]
    assert neck.end.tolist() == [3.5, 0]
    assert neck.start_tangent == pytest.approx([1, 0], abs=1e-6)
    assert len(neck.runs()) == 1
    assert neck.points[:, 0].max() < 3.6


@pytest.mark.parametrize("move", ["raise neck: 1", "lower neck: 2"])
@pytest.mark.parametrize(
    ("shape", "corners"), [("v", [[0.0, 6.0], [3.5, 0.0]]), ("square", [[0.0, 6.0], [3.5, 6.0], [3.5, 0.0]])]
)
def test_straight_necks_stay_straight_when_they_are_moved(
    tmp_path: Path, move: str, shape: str, corners: list[list[float]]
) -> None:
    neck = neck_of(
        drafted(tmp_path, f"{{neck: {shape}, piece: front, depth: 6}}", f"{{{move}, piece: front}}")
    )
    deeper = -1 if "raise" in move else 2
    expected = [[x, y + deeper if y else 0] for x, y in corners]
    assert neck.points == pytest.approx(np.array(expected))


def test_a_circle_raised_or_lowered_is_the_circle_of_its_new_depth(tmp_path: Path) -> None:
    """Plain geometry: the reshaped neck against the one drawn at that depth."""

    def apart(*changes: str) -> float:
        one = neck_of(drafted(tmp_path, *changes)).points
        two = neck_of(drafted(tmp_path, "{neck: round, piece: front, depth: 3}")).points
        return float(shapely.hausdorff_distance(shapely.LineString(one), shapely.LineString(two)))

    assert apart("{neck: round, piece: front, depth: 2}", "{lower neck: 1, piece: front}") < 1e-3
    assert apart("{neck: round, piece: front, depth: 5}", "{raise neck: 2, piece: front}") < 1e-3


def test_a_wide_facing_and_a_narrow_one_follow_every_shape(tmp_path: Path) -> None:
    """Common practice: a facing for sheer cloth is trimmed to 3/8 in."""
    for shape in ("v", "round", "scoop", "square"):
        for depth in (3 / 8, 2.0):
            pattern = drafted(
                tmp_path,
                f"{{neck: {shape}, piece: front, depth: 6, width: 5}}",
                f"{{facing: front, of: front/neck, depth: {depth}}}",
            )
            facing = pattern.pieces["front facing"]
            assert facing.edges["neck"].length_in == pattern.pieces["front"].edges["neck"].length_in
            assert facing.edges["overarm"].length_in == pytest.approx(depth)
            assert nearest_in(facing.edges["outer"].points, [0, 6 + depth]) < 1e-6


def test_beside_a_neck_that_leans_over_its_shoulder_a_facing_turns_where_it_first_comes_too_near(
    tmp_path: Path,
) -> None:
    """Shapely's distances from the shoulder's chords: 0.6 of the depth where it turns, more from there to the fold."""
    leaning = "[[0, 2.25], [2.2, 2.25], [3.9, 1.25], [3.5, 0]]"
    text = HALF_TOP.replace("[[0, 4], [2, 4], [3.5, 2.4], [3.5, 0]]", leaning).replace("[0, 4]", "[0, 2.25]")
    facing = pattern_of(tmp_path, f"{text}changes: [{{facing: front, of: front/neck, depth: 2.5}}]").drafted()
    outer = edge_of(facing, "outer", (0, 4.75), "front facing")
    blend, turn = outer.beziers[-1], outer.beziers[-1, 0]
    shoulder = shapely.LineString([(3.5, 0), (9, 2)])
    assert shoulder.distance(shapely.Point(blend[3])) < 1e-9
    assert shoulder.distance(shapely.Point(turn)) == pytest.approx(0.6 * 2.5, abs=1e-5)
    beside = Curve(outer.beziers[:-1])
    away = shapely.distance(shoulder, shapely.points(beside.points_at(np.linspace(0, beside.length_in, 500))))
    assert away.min() > 0.6 * 2.5 - 1e-5


@pytest.mark.parametrize(
    ("changes", "sentence"),
    [
        (
            ("{neck: round, piece: front, depth: 25}",),
            "front: a round neck 25 in deep leaves no body at the centre, which ends at 25 5/8 in; "
            "make it at most 24 5/8 in",
        ),
        (
            ("{neck: square, piece: front, depth: 6, corner: 22}",),
            "front: a square neck 6 in deep crosses neck and sleeve hem; choose another",
        ),
        (
            ("{neck: scoop, piece: front, depth: 1, width: 9}",),
            "front: a scoop 1 in deep would lie above the neck-shoulder point, which is at 1 13/16 in; "
            "make it deeper",
        ),
        (
            ("{neck: v, piece: front, depth: 6, width: 20}",),
            "front: a neck 20 in from the centre is beyond its overarm; make it narrower",
        ),
        (
            ("{lower neck: 21, piece: front}",),
            "front: lowering the neck 21 in leaves no body at the centre, which ends at 25 5/8 in; "
            "lower it by at most 20 5/8 in",
        ),
        (
            ("{widen neck: 15}",),
            "front: a neck 15 in wider leaves no overarm, which is 15 13/16 in long; "
            "widen it by at most 14 13/16 in",
        ),
        (
            ("{neck: round, piece: front, depth: 1}", "{widen neck: 4}"),
            "front: a neck so much wider brings the neck-shoulder point below its centre, which is at 1 in; "
            "lower the neck first, or widen it by less",
        ),
        (
            ("{narrow neck: 4}",),
            "front: a neck so much narrower would close across the centre; it is 3 1/2 in wide on the half "
            "piece, so narrow it by less",
        ),
        (
            ("{raise neck: 4, piece: front}",),
            "front: raising the neck 4 in would bring its centre across the shoulder; it lies 4 in below the "
            "neck-shoulder point, so raise it by less",
        ),
    ],
)
def test_a_neck_that_cannot_be_says_why(tmp_path: Path, changes: tuple[str, ...], sentence: str) -> None:
    with pytest.raises(PatternError) as error:
        drafted(tmp_path, *changes)
    assert str(error.value) == sentence


def test_a_boat_neck_cannot_be_lowered_by_its_own_shape(tmp_path: Path) -> None:
    boat = HALF_TOP.replace("[[0, 4], [2, 4], [3.5, 2.4], [3.5, 0]], curve: bezier", "[[0, 0], [3.5, 0]]")
    text = boat.replace("[[0, 24], [0, 4]]", "[[0, 24], [0, 0]]")
    with pytest.raises(PatternError) as error:
        pattern_of(tmp_path, text + "changes: [{lower neck: 1, piece: front}]\n").drafted()
    assert str(error.value) == (
        "front: the neck's centre does not lie below the neck-shoulder point, so its shape says nothing of a "
        "lower one; draw it with neck: round"
    )
