"""A piece that is longer and wider than the light: in lanes, all of it cut once, each reach in the light."""

from dataclasses import replace

import numpy as np
import pytest

from calibration.frames import Array
from patterns.cutting.placement import Placement
from patterns.tracing.hand_trace import Place
from projector.actions import CutInReaches, Freeze, Next, OpenAll
from projector.cloth.ground import Ground
from projector.cloth.laid_pieces import in_the_middle, shifted
from projector.cloth.reach_crosses import planned
from projector.cloth.reach_light import end_signs, part_in, reach_light
from projector.cloth.reach_split import cut_path, row_of
from projector.cloth.reaches import LAP_IN, room_in
from projector.lighting.lit_area import LitArea, lit_area
from projector.lighting.looks import USUAL
from projector.lighting.piece_light import lines_light
from projector.lighting.strokes import Drawing, Stroke
from projector.person import Person
from projector.session import Session
from projector.stations.cut import CutStation
from tests.unit.projector.samples import SCREEN_PX, a_map, an_alignment, pieces

PERSON = Person()
MAP = a_map(
    corners_in=((-16, 10.5), (15.5, 10), (14, -9.6), (-14.5, -10))
)  # about 30 by 20 in, as over a small table
LIT = lit_area(MAP)
FRONT = pieces()["front"]


def lit(points: Array, placement: Placement, slide_in: Place) -> bool:
    """Whether points of the piece are all lit with the cloth slid so far."""
    there = replace(placement, x_in=placement.x_in + slide_in[0], y_in=placement.y_in + slide_in[1])
    pixels = MAP.screen_from_table(there.placed(points))
    return bool(((pixels > 0) & (pixels < np.array(SCREEN_PX) - 1)).all())


def bright_in(drawn: Drawing, lit: LitArea) -> float:
    """Inches of the brightest lines: the cut line and its notches."""
    bright = [one for one in drawn if isinstance(one, Stroke) and one.light == 1.0]
    line = max(bright, key=lambda one: len(one.points))
    runs = np.split(lit.projector_map.table_from_screen(line.points), line.ends[:-1])
    return sum(float(np.hypot(*np.diff(run, axis=0).T).sum()) for run in runs)


@pytest.mark.parametrize(("turn_deg", "mirrored"), [(0.0, False), (3.0, True)])
def test_a_piece_wider_than_the_light_both_ways_is_cut_in_lanes(turn_deg: float, mirrored: bool) -> None:
    middle = in_the_middle(FRONT, Placement(opened=True, mirrored=mirrored), LIT, PERSON)
    laid = replace(middle, turn_deg=turn_deg)
    assert row_of(FRONT, laid, room_in(LIT, PERSON)) is None
    reaches = planned(FRONT, laid, room_in(LIT, PERSON))
    path, numbers = laid.lifted(cut_path(FRONT, laid)), range(len(reaches.reaches))
    cut = np.array([reaches.block(number).holds(path) for number in numbers])
    assert (cut.sum(axis=0) == 1).all(), "every point of the cut line is cut once"
    for number in numbers:
        slide = reaches.reaches[number].slide_in
        assert lit(path[reaches.block(number, LAP_IN / 2).holds(path)], laid, slide)
        assert bool(end_signs(FRONT, laid, reaches, number, PERSON)) == (number < numbers[-1])
        crosses = reaches.reaches[number].crosses
        assert (crosses is None) == (number == numbers[-1])
        if crosses is not None:
            marks = np.array(crosses.marks_in)
            assert lit(marks, laid, slide)
            assert lit(marks, laid, reaches.reaches[number + 1].slide_in)
    parts = [
        reach_light(FRONT, shifted(laid, np.array(reach.slide_in)), reaches, number, LIT, PERSON, ("opened",))
        for number, reach in enumerate(reaches.reaches)
    ]
    wide = lit_area(a_map())
    whole = lines_light(FRONT, in_the_middle(FRONT, middle, wide, PERSON), wide, USUAL)
    assert sum(bright_in(part, LIT) for part in parts) == pytest.approx(bright_in(whole, wide), abs=0.01)


def test_it_is_cut_to_its_end_by_page_keys_and_nothing_of_it_is_left_unlit() -> None:
    session = Session(CutStation.begun(Ground(pieces=(FRONT,), alignment=an_alignment(MAP), lit=LIT)))
    for action in (OpenAll(), CutInReaches(), Freeze()):
        session.take(action)
    reaches = session.station.copy.reaches
    assert reaches is not None
    assert reaches.reaches[0].across_in is not None
    for _ in range(40):
        if session.station.step is None:
            break
        if session.frozen:
            pixels = MAP.screen_from_table(
                part_in(FRONT, session.station.placement, reaches, session.station.copy.reach)
            )
            assert ((pixels > 0) & (pixels < np.array(SCREEN_PX) - 1)).all()
        session.take(Next())
    assert f"cut {len(reaches.reaches)}" in session.station.copy.ticked
    assert session.station.step is None
