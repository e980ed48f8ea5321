"""Marks in inches become strokes that lie on the exact curve, cut off beyond the screen."""

import numpy as np
import pytest

from calibration.frames import Array
from patterns.cutting.labels import Label
from patterns.cutting.marks import Line, LineKind, marks_of
from patterns.cutting.placement import Placement
from projector.lighting.clipping import clipped, within_reach
from projector.lighting.light import chalk, chalk_light, label_light, light, subdivided, words_light
from projector.lighting.lit_area import BEND_PX, MARGIN_PX, lit_area
from projector.lighting.look import STYLES
from projector.lighting.piece_light import lines_light, words_on_piece
from projector.lighting.strokes import Patch, Stroke, split
from projector.person import Person
from tests.unit.projector.samples import SCREEN_PX, a_map, pieces

LIT = lit_area(a_map())
BOW_PX = 8  # the reach is convex, the bowed margin is not


def farthest_from(path: Array, points: Array) -> float:
    """Greatest distance of the points from the path."""
    start, step = path[:-1], np.diff(path, axis=0)
    along = ((points[:, None] - start) * step).sum(axis=2) / (step**2).sum(axis=1)
    nearest = start + np.clip(along, 0, 1)[:, :, None] * step
    distance: Array = np.linalg.norm(points[:, None] - nearest, axis=2).min(axis=1)
    return float(distance.max())


@pytest.mark.parametrize("k1", [-0.03, 0.0, 0.006, 0.05])
@pytest.mark.parametrize(
    "ends", [((-30.0, -14.0), (28.0, 16.0)), ((-30.0, 15.0), (30.0, 15.0)), ((25.0, -16.0), (-10.0, 17.0))]
)
def test_a_straight_line_keeps_to_the_lens_curve(
    k1: float, ends: tuple[tuple[float, float], tuple[float, float]]
) -> None:
    lit = lit_area(a_map(k1=k1))
    line = Line(kind=LineKind.CUT, points=np.array(ends))
    (stroke,) = chalk_light(chalk((line,), lit.span_in), lit)
    t = np.linspace(0, 1, 3000)[:, None]
    exact = lit.projector_map.screen_from_table(np.array(ends[0]) * (1 - t) + np.array(ends[1]) * t)
    on_screen = exact[((exact > 0) & (exact < SCREEN_PX)).all(axis=1)]
    assert farthest_from(stroke.points, on_screen) < BEND_PX


def test_a_line_without_bow_needs_no_points_between() -> None:
    flat = a_map()
    lit = lit_area(
        type(flat)(
            screen_px=flat.screen_px,
            homography=flat.homography,
            lens=type(flat.lens)(k1=0.0, k2=0.0, centre_px=(960.0, 540.0), unit_px=960.0),
            covariance=flat.covariance,
        )
    )
    assert len(subdivided(np.array([[-20.0, 0.0], [20.0, 0.0]]), lit.span_in)) == 2


def test_subdivision_keeps_every_point_and_the_longest_step() -> None:
    path = np.array([[0.0, 0.0], [10.0, 0.0], [10.0, 0.3]])
    fine = subdivided(path, 1.5)
    assert np.linalg.norm(np.diff(fine, axis=0), axis=1).max() <= 1.5
    assert all((np.abs(fine - point).sum(axis=1) < 1e-12).any() for point in path)


def test_a_line_that_leaves_the_light_comes_back_in_two_parts() -> None:
    path = np.array([[0.0, 0.0], [0.0, 80.0], [4.0, 80.0], [4.0, 0.0]])
    parts = clipped(path, LIT)
    assert len(parts) == 2
    assert parts[0][0].tolist() == [0.0, 0.0]
    assert parts[1][-1].tolist() == [4.0, 0.0]
    ends = LIT.projector_map.screen_from_table([parts[0][-1], parts[1][0]])
    assert ends[:, 1] == pytest.approx(-MARGIN_PX, abs=BOW_PX)


def test_a_line_that_grazes_a_vertex_inside_stays_one_part() -> None:
    path = np.array([[0.0, 80.0], [0.0, 0.0], [4.0, 1.0], [80.0, 1.0]])
    (part,) = clipped(path, LIT)
    assert part[1].tolist() == [0.0, 0.0]
    assert len(part) == 4


def test_paths_far_from_the_light_are_left_out() -> None:
    far = np.array([[200.0, 200.0], [210.0, 200.0]])
    near = np.array([[0.0, 0.0], [1.0, 0.0]])
    assert [path.tolist() for path in within_reach([far, near], LIT)] == [near.tolist()]
    assert chalk_light(chalk((Line(kind=LineKind.CUT, points=far),), LIT.span_in), LIT) == ()


def test_no_stroke_lies_farther_off_the_screen_than_the_margin() -> None:
    front = pieces()["front"]
    for x in (-60.0, -33.0, 20.0, 45.0):
        placement = Placement(x_in=x, y_in=25.0, turn_deg=30)
        words = words_on_piece(front, placement, LIT, Person())
        for part in (*lines_light(front, placement, LIT), *words):
            assert part.points.min() > -MARGIN_PX - BOW_PX
            assert (part.points.max(axis=0) < np.array(SCREEN_PX) + MARGIN_PX + BOW_PX).all()


def test_a_moved_piece_has_the_light_of_its_marks() -> None:
    front = pieces()["front"]
    placement = Placement(x_in=-4.0, y_in=12.0, turn_deg=17.0, mirrored=True)
    fresh = [part for part in light(marks_of(front, placement), LIT) if isinstance(part, Stroke)]
    for one, other in zip(lines_light(front, placement, LIT), fresh, strict=True):
        assert isinstance(one, Stroke)
        assert one.ends.tolist() == other.ends.tolist()
        assert one.points == pytest.approx(other.points, abs=1e-6)


def test_widths_are_inches_on_the_table() -> None:
    line = Line(kind=LineKind.CUT, points=np.array([[-5.0, 0.0], [5.0, 0.0]]))
    (stroke,) = chalk_light(chalk((line,), LIT.span_in), LIT)
    assert isinstance(stroke, Stroke)
    ends = LIT.projector_map.screen_from_table(line.points)
    pixels_per_inch = np.linalg.norm(ends[1] - ends[0]) / 10
    assert stroke.width_px == pytest.approx(STYLES[LineKind.CUT].width_in * pixels_per_inch, rel=0.01)


def test_letters_lie_true_on_the_table_with_their_height_in_inches() -> None:
    label = Label(text="H", at=np.array([3.0, 2.0]), height_in=4.0, along=np.array([1.0, 0.0]))
    (patch,) = label_light(label, 0.5, LIT)
    on_table = LIT.projector_map.table_from_screen(patch.points)
    assert np.ptp(on_table[:, 1]) == pytest.approx(4.0, abs=1e-6)
    assert (on_table.min(axis=0) + on_table.max(axis=0)) / 2 == pytest.approx([3.0, 2.0], abs=0.1)


def test_letters_are_never_mirror_written_by_a_mirrored_projector() -> None:
    mirrored = lit_area(a_map(corners_in=((31.0, 17.0), (-32.0, 18.0), (-29.0, -17.0), (28.0, -16.5))))
    label = Label(text="F", at=np.zeros(2), height_in=4.0, along=np.array([1.0, 0.0]))
    for lit in (LIT, mirrored):
        (patch,) = label_light(label, 0.5, lit)
        on_table = lit.projector_map.table_from_screen(patch.points)
        stem = on_table[on_table[:, 1] < -1.0]
        assert stem[:, 0].max() < 0.0


def test_a_letter_far_off_the_screen_is_left_out_and_the_others_stay() -> None:
    label = Label(text="mmmmmmmm", at=np.array([30.0, 0.0]), height_in=4.0, along=np.array([1.0, 0.0]))
    (patch,) = label_light(label, 0.5, LIT)
    assert isinstance(patch, Patch)
    assert 0 < len(split(patch.points, patch.ends)) < 8
    assert (
        label_light(Label(text="m", at=np.array([90.0, 0.0]), height_in=1.0, along=label.along), 1.0, LIT)
        == ()
    )
    assert label_light(Label(text=" ", at=np.zeros(2), height_in=1.0, along=label.along), 1.0, LIT) == ()


def test_words_lit_together_are_as_each_alone_and_those_off_the_screen_are_left_out() -> None:
    texts = {"name": (0.0, 0.0), " ": (2.0, 0.0), "far off": (90.0, 0.0), "cut 2": (8.0, -5.0)}
    along = np.array([0.6, 0.8])
    labels = [Label(text=text, at=np.array(at), height_in=1.5, along=along) for text, at in texts.items()]
    lights = (0.2, 0.4, 0.6, 0.8)
    together = words_light(labels, lights, LIT)
    alone = [one for pair in zip(labels, lights, strict=True) for one in label_light(*pair, LIT)]
    assert [patch.light for patch in together] == [0.2, 0.8]
    for patch, single in zip(together, alone, strict=True):
        assert patch.ends.tolist() == single.ends.tolist()
        assert patch.points == pytest.approx(single.points, abs=1e-9)
        assert patch.letter_px == pytest.approx(single.letter_px)


def test_lines_of_one_weight_are_one_stroke_whatever_their_dashes() -> None:
    kinds = (LineKind.SEAM, LineKind.CUT, LineKind.GRAIN, LineKind.NOTCH)
    points = np.array([[0.0, 0.0], [10.0, 0.0]])
    strokes = chalk_light(chalk([Line(kind=kind, points=points) for kind in kinds], LIT.span_in), LIT)
    assert [stroke.light for stroke in strokes] == [STYLES[LineKind.SEAM].light, STYLES[LineKind.CUT].light]
    assert [len(split(stroke.points, stroke.ends)) for stroke in strokes] == [17, 2]


def test_words_on_a_piece_keep_to_the_room_counted_on() -> None:
    tie = pieces()["écharpe à nœud"]
    words = np.vstack([part.points for part in words_on_piece(tie, Placement(), LIT, Person())])
    on_table = LIT.projector_map.table_from_screen(words)
    cut = Placement().placed(tie.cut_line)
    assert (on_table.min(axis=0) > cut.min(axis=0)).all()
    assert (on_table.max(axis=0) < cut.max(axis=0)).all()
