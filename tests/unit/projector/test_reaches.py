"""A piece longer than the light in reaches: all of it, each in the light, ended at plain places, as few as can be."""

import math
from dataclasses import replace
from functools import cache

import numpy as np
import pytest
import shapely

from calibration.frames import Array
from patterns.cutting.drafted import DraftedPiece
from patterns.cutting.marks import LineKind, lines_of
from patterns.cutting.placement import Placement
from patterns.tracing.hand_trace import Place
from projector.cloth.laid_pieces import in_the_middle, middle, outline_in, shifted
from projector.cloth.reach_crosses import crosses_between, error_in
from projector.cloth.reach_labels import reach_labels
from projector.cloth.reach_lanes import split_of
from projector.cloth.reach_light import reach_light
from projector.cloth.reaches import EDGE_IN, LAP_IN, Reaches, room_in
from projector.errors import ProjectorError
from projector.lighting.letters import words_width
from projector.lighting.lit_area import LitArea, lit_area
from projector.lighting.strokes import Stroke
from projector.person import Person
from tests.unit.projector.long_pieces import cloak
from tests.unit.projector.samples import SCREEN_PX, a_map, pieces

PERSON = Person()
WIDE = lit_area(a_map())
SMALL = lit_area(a_map(corners_in=((-16, 9), (15.5, 8.5), (14, -8.2), (-14.5, -8.5))))
CLOAK, FRONT = cloak(), pieces()["front"]
STATES = ("opened full", "mirrored")


@cache
def split(piece: DraftedPiece, placement: Placement, lit: LitArea) -> Reaches:
    return split_of(piece, placement, room_in(lit, PERSON))


def placed(piece: DraftedPiece, lit: LitArea, turn_deg: float = 0.0, *, opened: bool = False) -> Placement:
    upright = in_the_middle(piece, Placement(opened=opened), lit, PERSON)
    turned = replace(upright, turn_deg=turn_deg)
    return shifted(turned, middle(outline_in(piece, upright)) - middle(outline_in(piece, turned)))


CASES = [
    (CLOAK, WIDE, 0.0, False),
    (CLOAK, WIDE, 90.0, False),
    (CLOAK, WIDE, 93.0, False),
    (CLOAK, WIDE, -2.5, True),
    (FRONT, SMALL, 0.0, False),
    (FRONT, SMALL, 90.0, False),
    (FRONT, SMALL, 92.0, True),
]


@pytest.mark.parametrize(("piece", "lit", "turn_deg", "opened"), CASES)
def test_every_reach_is_within_the_light_and_shows_what_goes_on_in_the_next(
    piece: DraftedPiece, lit: LitArea, turn_deg: float, opened: bool
) -> None:
    placement = placed(piece, lit, turn_deg, opened=opened)
    reaches = split(piece, placement, lit)
    assert len(reaches.reaches) > 1
    outline = outline_in(piece, placement)
    along = reaches.along_in(placement.lifted(outline))
    assert math.hypot(*reaches.along) == pytest.approx(1)
    ends = [reach.end_in for reach in reaches.reaches]
    assert [reach.start_in for reach in reaches.reaches] == [pytest.approx(along.min()), *ends[:-1]]
    assert ends[-1] == pytest.approx(along.max())
    assert ends == sorted(ends)
    ring = shapely.Polygon(placement.lifted(outline))
    for reach in reaches.reaches:
        shown = shapely.intersection(
            ring, _band(reaches, reach.start_in - LAP_IN / 2, reach.end_in + LAP_IN / 2)
        )
        table = shifted(placement, np.array(reach.slide_in)).placed(shapely.get_coordinates(shown))
        pixels = lit.projector_map.screen_from_table(table)
        assert (pixels > 0).all()
        assert (pixels < np.array(SCREEN_PX) - 1).all()
        assert PERSON.seen(table)[:, 1].min() > lit.border_in[:, 1].min() + 3 - 1e-6, "room for the words"


def _band(reaches: Reaches, start: float, end: float) -> shapely.Polygon:
    along = np.array(reaches.along)
    across = np.array([-along[1], along[0]]) * 200
    return shapely.Polygon(
        [start * along - across, end * along - across, end * along + across, start * along + across]
    )


def test_a_piece_that_fits_is_one_reach_where_it_lies() -> None:
    placement = placed(FRONT, WIDE)
    (reach,) = split(FRONT, placement, WIDE).reaches
    assert reach.slide_in == (0.0, 0.0)


def test_there_are_no_more_reaches_than_the_length_of_the_light_asks_for() -> None:
    """In a light without keystone the closed form: each reach but the first adds its length less the lap."""
    square = lit_area(a_map(corners_in=((-30, 17), (30, 17), (30, -17), (-30, -17)), k1=0.0))
    placement = placed(CLOAK, square)
    reaches = split(CLOAK, placement, square).reaches
    height = 34 - 3 - EDGE_IN - 0.5  # half an inch for the step of the search
    length = float(np.ptp(outline_in(CLOAK, placement)[:, 1]))
    assert len(reaches) == math.ceil((length - LAP_IN) / (height - LAP_IN))
    lying = split(CLOAK, placed(CLOAK, square, 90.0), square).reaches
    assert len(lying) == math.ceil((length - LAP_IN) / (60 - 2 * EDGE_IN - LAP_IN))


@pytest.mark.parametrize(("piece", "lit", "turn_deg", "opened"), CASES)
def test_a_reach_ends_away_from_corners_and_notches_where_there_is_such_a_place(
    piece: DraftedPiece, lit: LitArea, turn_deg: float, opened: bool
) -> None:
    placement = placed(piece, lit, turn_deg, opened=opened)
    reaches = split(piece, placement, lit)
    flat = Placement(opened=opened)
    marks = [line.points for line in lines_of(piece, flat) if line.kind is LineKind.NOTCH]
    notches = reaches.along_in(flat.lifted(np.vstack(marks)))
    ends = np.array([reach.end_in for reach in reaches.reaches[:-1]])
    assert np.abs(notches - ends[:, None]).min() > 0.5


def test_reaches_are_about_as_long_as_one_another() -> None:
    reaches = split(CLOAK, placed(CLOAK, WIDE), WIDE).reaches
    lengths = [reach.end_in - reach.start_in for reach in reaches]
    assert max(lengths) - min(lengths) < 4


def test_the_first_reach_is_where_the_person_laid_it_if_that_end_is_in_the_light() -> None:
    high = placed(CLOAK, WIDE)
    top_in_light = replace(high, y_in=10.0)
    first = split(CLOAK, top_in_light, WIDE).reaches[0]
    assert first.slide_in == (0.0, 0.0)


def test_a_piece_too_wide_both_ways_is_refused() -> None:
    tiny = lit_area(a_map(corners_in=((-6, 5), (6, 5), (6, -5), (-6, -5))))
    with pytest.raises(
        ProjectorError, match=r"^front is larger than 12 reaches of this light: align the projector from h"
    ):
        split(FRONT, placed(FRONT, tiny), tiny)


def worth(marks: tuple[Place, Place], ahead: Array) -> float:
    """The error to expect, and what is hidden of a stretch over 10 in: less is better."""
    return float(error_in(marks, ahead).max()) + math.sqrt(2) / 64 * 10 / math.dist(*marks)


@pytest.mark.parametrize(("piece", "lit", "turn_deg", "opened"), CASES)
def test_crosses_lie_on_the_piece_in_both_lights_and_no_other_two_are_much_better(
    piece: DraftedPiece, lit: LitArea, turn_deg: float, opened: bool
) -> None:
    placement, room = placed(piece, lit, turn_deg, opened=opened), room_in(lit, PERSON)
    reaches = split(piece, placement, lit)
    corners = shapely.LineString(placement.lifted(outline_in(piece, placement)))
    outline = shapely.get_coordinates(corners.segmentize(0.2))
    ring, rng = shapely.Polygon(outline), np.random.default_rng(3)
    along = reaches.along_in(outline)
    for number in range(len(reaches.reaches) - 1):
        crosses = crosses_between(piece, placement, reaches, number, room)
        before, after = reaches.reaches[number : number + 2]
        marks = np.array(crosses.marks_in)
        assert shapely.contains_xy(ring, marks[:, 0], marks[:, 1]).all()
        for reach in (before, after):
            pixels = lit.projector_map.screen_from_table(
                shifted(placement, np.array(reach.slide_in)).placed(marks)
            )
            assert (pixels > 20).all()
            assert (pixels < np.array(SCREEN_PX) - 20).all()
        ahead = outline[(along >= after.start_in) & (along <= after.end_in)]
        assert crosses.at_most_in == pytest.approx(error_in(crosses.marks_in, ahead).max(), rel=0.03)
        spots = rng.uniform(outline.min(axis=0), outline.max(axis=0), (400, 2))
        inside = shapely.contains_xy(ring.buffer(-0.25), spots[:, 0], spots[:, 1])
        for reach in (before, after):
            inside &= (
                shifted(placement, np.array(reach.slide_in)).placed(spots) @ room.normals.T - room.limits
                <= -1
            ).all(axis=1)
        spots = spots[inside]
        for one, other in zip(spots[::2].tolist(), spots[1::2].tolist(), strict=False):
            if math.dist(one, other) > 4:
                assert worth((tuple(one), tuple(other)), ahead) > 0.97 * worth(crosses.marks_in, ahead)


@pytest.mark.parametrize(("piece", "lit", "turn_deg", "opened"), CASES)
def test_words_and_lines_of_a_reach_are_within_it(
    piece: DraftedPiece, lit: LitArea, turn_deg: float, opened: bool
) -> None:
    laid = placed(piece, lit, turn_deg, opened=opened)
    reaches = split(piece, laid, lit)
    for number, reach in enumerate(reaches.reaches):
        placement = shifted(laid, np.array(reach.slide_in))
        ring = shapely.Polygon(outline_in(piece, placement)).buffer(0)
        for label in reach_labels(piece, placement, reaches, number, PERSON, STATES):
            half = np.array([words_width(label.text), 1.0]) * label.height_in / 2
            box = label.at + np.array([[1, 1], [1, -1], [-1, -1], [-1, 1]]) * half
            assert ring.contains(shapely.Polygon(box))
            along = reaches.along_in(placement.lifted(box))
            assert along.min() > reach.start_in
            assert along.max() < reach.end_in
        drawn = reach_light(piece, placement, reaches, number, lit, PERSON, STATES)
        strokes = [stroke for stroke in drawn if isinstance(stroke, Stroke)]
        cut = max((one for one in strokes if one.light == 1.0), key=lambda one: len(one.points))
        table = lit.projector_map.table_from_screen(cut.points)
        away = shapely.distance(ring.boundary, shapely.points(table))
        along = reaches.along_in(placement.lifted(table))[away < 0.01]
        assert along.min() > reach.start_in - 0.5, "and a notch reaches out"
        assert along.max() < reach.end_in + 0.5
        bars = [one for one in strokes if one.width_px > 1.2 * cut.width_px]
        assert len(bars) == (number + 1 < len(reaches.reaches))
