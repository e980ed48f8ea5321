"""Looks: what each draws, in how much light, and that every cut line lies where the map says in all of them."""

from dataclasses import replace

import numpy as np
import pytest

from calibration.frames import Array
from patterns.cutting.marks import Line, LineKind
from patterns.cutting.placement import Placement
from projector.errors import ProjectorError
from projector.lighting.canvas import compose, tile, whole
from projector.lighting.light import LEAST_CORE_PX, LEAST_RAILS_PX, chalk, chalk_light
from projector.lighting.limits import LOOK_NAMES
from projector.lighting.lit_area import LitArea, lit_area
from projector.lighting.looks import LOOKS, USUAL, LineForm, Look
from projector.lighting.piece_light import lines_light, words_on_piece
from projector.lighting.strokes import Patch, Picture, Stroke, split
from projector.person import Person
from tests.outside.test_projective import sections
from tests.unit.projector.samples import a_map, pieces

MOST_PX = 0.1
EYE_IN = 1 / 8  # along the line, over which light is centred: less no eye and no blade follows
LINES_IN = (
    np.array([(-28.0, -12.0), (26.0, 14.0)]),
    np.array([(-20.0, 10.0), (20.0, 10.0)]),
    np.array([(3.0, -14.0), (2.0, 15.0)]),
    np.array([(-11.0, 12.0), (9.0, -9.0)]),
)


def shown(look: Look, ends: Array, lit: LitArea) -> Array:
    """The light, 0 to 1, of one straight cut line in a look."""
    line = Line(kind=LineKind.CUT, points=ends)
    strokes = look.seen(chalk_light(chalk((line,), lit.span_in, look), lit))
    screen = lit.projector_map.screen_px
    light: Array = compose([tile(strokes, screen)], whole(screen)) / 255.0
    return light


def off_px(look: Look, ends: Array, lit: LitArea) -> Array:
    """How far the light's centre lies from the exactly mapped line, over each eighth of an inch."""
    every = 1 / 128
    length = float(np.hypot(*(ends[1] - ends[0])))
    along = np.linspace(0.02, 0.98, round(0.96 * length / every))[:, None]
    exact = lit.projector_map.screen_from_table(ends[0] * (1 - along) + ends[1] * along)
    distances = sections(shown(look, ends, lit), exact, reach=9)
    window = round(EYE_IN / every)
    return np.convolve(distances, np.ones(window) / window, "valid")


@pytest.mark.parametrize("name", LOOK_NAMES)
def test_the_cut_line_lies_on_the_exactly_mapped_one_in_every_look(name: str) -> None:
    lit = lit_area(a_map(k1=0.02))
    for ends in LINES_IN:
        assert np.abs(off_px(LOOKS[name], ends, lit)).max() < MOST_PX


@pytest.mark.parametrize("line_in", [1 / 32, 1 / 4])
def test_and_in_the_narrowest_and_the_widest(line_in: float) -> None:
    lit = lit_area(a_map(k1=0.02))
    for form in LineForm:
        look = replace(USUAL, form=form, line_in=line_in)
        assert np.abs(off_px(look, LINES_IN[0], lit)).max() < MOST_PX


def test_the_measure_can_fail() -> None:
    lit = lit_area(a_map(k1=0.02))
    moved = LINES_IN[1] + (0.0, 0.006)  # 0.18 px
    along = np.linspace(0.1, 0.9, 1000)[:, None]
    exact = lit.projector_map.screen_from_table(moved[0] * (1 - along) + moved[1] * along)
    assert np.abs(sections(shown(USUAL, LINES_IN[1], lit), exact)).mean() > MOST_PX


@pytest.mark.parametrize("name", ["shiny", "printed"])
def test_between_two_rails_it_is_dark_where_there_is_no_dash(name: str) -> None:
    lit, look = lit_area(a_map()), LOOKS[name]
    light = shown(look, LINES_IN[1], lit)
    along = np.linspace(0.1, 0.9, 2000)[:, None]
    exact = lit.projector_map.screen_from_table(LINES_IN[1][0] * (1 - along) + LINES_IN[1][1] * along)
    middle = light[tuple(np.rint(exact[:, ::-1]).astype(int).T)] / look.gain
    dark = (middle < 0.4).mean()
    assert (dark > 0.95) if look.form is LineForm.DOUBLE else (0.35 < dark < 0.6)
    assert 0.85 * look.gain < light.max() <= look.gain + 0.01


def test_rails_of_a_coarse_picture_are_as_far_apart_as_can_be_told() -> None:
    lit = lit_area(a_map(screen_px=(960, 540)))
    (stroke,) = chalk_light(
        chalk((Line(kind=LineKind.CUT, points=LINES_IN[1]),), lit.span_in, LOOKS["shiny"]), lit
    )
    assert (stroke.width_px, stroke.core_px) == (LEAST_RAILS_PX, LEAST_CORE_PX)


def front_in(look: Look) -> list[Stroke | Patch]:
    front, placement, lit = pieces()["front"], Placement(y_in=12.0), lit_area(a_map())
    words = words_on_piece(front, placement, lit, Person(), look)
    parts = (*lines_light(front, placement, lit, look), *words)
    return [part for part in parts if not isinstance(part, Picture)]


@pytest.mark.parametrize("name", LOOK_NAMES)
def test_what_the_blade_follows_is_brightest_and_faint_lines_keep_their_order(name: str) -> None:
    look = LOOKS[name]
    parts = front_in(look)
    lights = {part.light: part.light * part.gain for part in parts}
    ordered = [lights[own] for own in sorted(lights)]
    assert ordered == sorted(ordered)
    assert ordered[-1] == pytest.approx(look.gain)
    assert ordered[-2] < 0.97 * look.gain
    assert all(part.gain == 1.0 for part in front_in(USUAL))


def test_faint_lines_are_brought_up_on_dark_cloth_and_all_is_dimmer_on_shiny() -> None:
    drawing = (Patch(points=None, ends=None, letter_px=3.0, light=0.25),)  # type: ignore[arg-type]
    shown = {}
    for name, look in LOOKS.items():
        (part,) = look.seen(drawing)
        assert isinstance(part, Patch)
        shown[name] = part.light * part.gain
    assert shown["light"] == 0.25
    assert shown["dark"] == pytest.approx(0.5)
    assert shown["printed"] > shown["dark"]
    (beside,) = LOOKS["dark"].beside(drawing)
    assert isinstance(beside, Patch)
    assert 0.25 < beside.light * beside.gain < shown["dark"], "on a pale table it would outshine the cut line"
    assert LOOKS["sheer"].gain < 1
    assert LOOKS["shiny"].gain <= 0.5


def test_lines_that_give_way_to_words_do_so_in_every_look() -> None:
    kinds = (LineKind.SEAM, LineKind.CUT)
    points = np.array([[0.0, 0.0], [10.0, 0.0]])
    lit = lit_area(a_map())
    for look in LOOKS.values():
        strokes = look.seen(
            chalk_light(chalk([Line(kind=kind, points=points) for kind in kinds], lit.span_in, look), lit)
        )
        assert min(stroke.light for stroke in strokes if isinstance(stroke, Stroke)) == 0.25


def test_dashes_between_rails_are_one_line_with_them() -> None:
    lit = lit_area(a_map())
    rails, dashes = chalk_light(
        chalk((Line(kind=LineKind.CUT, points=LINES_IN[1]),), lit.span_in, LOOKS["printed"]), lit
    )
    assert rails.core_px > 0
    assert dashes.core_px == 0
    assert len(split(rails.points, rails.ends)) == 1
    assert len(split(dashes.points, dashes.ends)) == round((40 - 3 / 8) / (3 / 4)) + 1


def test_clips_of_a_notch_stay_apart_however_wide_the_line() -> None:
    wide = replace(LOOKS["dark"], line_in=1 / 4)
    (notch,) = wide.styles(LineKind.NOTCH)
    assert notch.width_in <= 3 / 32
    (seam,) = wide.styles(LineKind.SEAM)
    assert seam.width_in <= 1 / 16


@pytest.mark.parametrize(
    ("line_in", "text_in", "sentence"),
    [
        (1 / 2, 1.0, "a line 0.5 in wide cannot be cut along; choose 1/32 in"),
        (1 / 64, 1.0, "a line 0.0156 in wide cannot be cut along; choose 1/32 in"),
        (1 / 16, 3.0, "words 3 in high cannot be read on the table; choose 3/8 in"),
        (1 / 16, 0.25, "words 0.25 in high cannot be read on the table; choose 3/8 in"),
        (float("nan"), 1.0, "a line nan in wide cannot be cut along"),
    ],
)
def test_beyond_the_limits_a_sentence(line_in: float, text_in: float, sentence: str) -> None:
    with pytest.raises(ProjectorError) as refused:
        replace(USUAL, line_in=line_in, text_in=text_in)
    assert str(refused.value).startswith(sentence)


def test_the_usual_look_is_the_one_for_pale_cloth_and_changes_nothing() -> None:
    assert LOOKS["light"] == USUAL
    drawing = (Patch(points=None, ends=None, letter_px=3.0, light=0.4),)  # type: ignore[arg-type]
    assert USUAL.seen(drawing) is drawing
