"""A piece larger than the light, cut in reaches; cloth that is slid, and its stretch."""

from dataclasses import replace

import numpy as np
import pytest
import shapely

from patterns.cutting.marks import LineKind
from projector.actions import (
    Accept,
    Back,
    CutInReaches,
    FindCloth,
    Flip,
    Freeze,
    Next,
    OpenAll,
    Show,
    Undo,
    Untick,
)
from projector.cloth.cloth_place import ClothPlace
from projector.cloth.laid_pieces import outline_in
from projector.cutting.crosses_layers import marks_in
from projector.cutting.stage import Stage
from projector.lighting.look import STYLES
from projector.lighting.strokes import Stroke
from projector.session import Session
from tests.unit.projector.cloth_hands import (
    LIT,
    a_session,
    begun_in_reaches,
    lying_along,
    mark,
    stage,
    take,
    to_finding,
    to_the_end,
    words,
)
from tests.unit.projector.long_pieces import cloak


def test_a_piece_larger_than_the_light_is_cut_reach_by_reach_with_page_keys_alone() -> None:
    session = begun_in_reaches()
    reaches = session.station.copy.reaches
    assert reaches is not None
    count = len(reaches.reaches)
    assert count == 2
    said, placements = [], [session.station.placement]
    for _ in range(12):
        if session.station.step is None:
            break
        said.append(words(session))
        if stage(session) is Stage.FINDING:
            assert not session.frozen
            (main,) = (layer for layer in session.scene() if layer.name == "main")
            brightest = max(part.light for part in main.draw() if isinstance(part, Stroke))
            assert brightest < STYLES[LineKind.CUT].light, "no cut line is lit before the cloth is found"
        session.take(Next())
        if session.station.placement != placements[-1]:
            placements.append(session.station.placement)
    assert session.station.step is None
    assert "reach 1 of 2 · cut up to the end sign" in said[0]
    assert "clip the notches: side" in said[1]
    assert "mark both crosses" in said[2]
    assert "slide the cloth 12" in said[3]
    assert "reach 2 of 2 · cut to the end" in said[4]
    assert "clip the notches: side double" in said[5]
    slid = np.subtract((placements[1].x_in, placements[1].y_in), (placements[0].x_in, placements[0].y_in))
    assert slid.tolist() == pytest.approx(reaches.slide_after(0))


def test_the_strip_never_lies_over_a_cross_that_is_to_be_marked_or_found() -> None:
    session = a_session(0)
    take(session, OpenAll(), CutInReaches(), Freeze())
    looked_at = 0
    for _ in range(12):
        marks = marks_in(session.station)
        if marks is not None:
            (strip,) = (layer.key for layer in session.scene() if layer.name == "strip")
            assert isinstance(strip, tuple)
            left, near, right, far = strip[0].box_in
            seen = session.station.person.seen(np.array(marks))
            assert not ((seen > (left, near)) & (seen < (right, far))).all(axis=1).any()
            looked_at += 1
        session.take(Next())
    assert looked_at > 2


def test_crosses_set_on_the_marks_bring_the_light_there_and_tell_the_stretch() -> None:
    session = begun_in_reaches()
    tool, before = to_finding(session), session.station.placement
    moved = ClothPlace(x_in=1.5, y_in=-0.75, turn_deg=2.0)
    one, other = (tuple(point) for point in moved.on_table(np.array(tool.expected_in)).tolist())
    mark(session, one, other)
    assert stage(session) is Stage.CUTTING
    assert session.station.copy.reach == 1
    there = moved.on_table(tool.expected.laid(session.station.copy.place).placed(cloak().cut_line))
    assert np.abs(session.station.placement.placed(cloak().cut_line) - there).max() < 1e-4
    assert session.station.placement.turn_deg == pytest.approx(before.turn_deg + 2, abs=1e-4)
    assert "by 0.0%, give or take 0.1% between the marks" in words(session)


def test_too_much_stretch_is_told_and_nothing_lit_until_the_person_says_so() -> None:
    session = begun_in_reaches()
    tool = to_finding(session)
    one, other = np.array(tool.expected_in)
    grown = (*((one + 0.01 * (one - other)).tolist(),), tuple(other.tolist()))
    mark(session, (grown[0][0], grown[0][1]), grown[1])
    assert stage(session) is Stage.FINDING
    assert "THE CLOTH HAS STRETCHED · the cloth grew by 1.0%" in words(session)
    assert "13/64 in over 20 in, and 1/16 in is the most" in words(session)
    take(session, Undo())
    assert "its marks on to the crosses" in words(session)
    mark(session, (grown[0][0], grown[0][1]), grown[1])
    take(session, Accept())
    assert stage(session) is Stage.CUTTING
    assert "grew by 1.0%" in words(session)
    lengths = [float(np.hypot(*np.diff(one.placed(cloak().cut_line)[[0, -1]], axis=0)[0])) for one in
               (session.station.placement, tool.expected.laid(session.station.copy.place))]  # fmt: skip
    assert lengths[0] == pytest.approx(lengths[1]), "never scaled"


def test_finding_is_gone_back_from_or_given_up_for_laying_anew() -> None:
    session = begun_in_reaches()
    to_finding(session)
    take(session, Back())
    assert stage(session) is Stage.CUTTING
    assert "slide the cloth on" in words(session)
    take(session, Next())
    assert stage(session) is Stage.FINDING
    take(session, Freeze())
    assert stage(session) is Stage.LAYING
    assert session.station.copy.reach == 0


def test_a_slide_is_not_unticked_in_the_frozen_light() -> None:
    session = begun_in_reaches()
    to_finding(session)
    take(session, Next(), Untick())
    assert session.station.copy.reach == 1
    assert "the cloth was slid since" in words(session)


def test_a_piece_that_fits_needs_no_reaches_and_one_that_is_begun_keeps_them() -> None:
    session = a_session(0, "front")
    assert "reaches" not in words(session)
    take(session, CutInReaches())
    assert session.station.copy.reaches is None
    assert "front fits into the light: it needs no reaches" in words(session)
    session = a_session(0)
    lying_along(session)
    assert "g: cut in reaches" in words(session)
    take(session, CutInReaches(), CutInReaches())
    assert session.station.copy.reaches is None
    take(session, CutInReaches(), Freeze(), Next(), Freeze(), CutInReaches())
    assert session.station.copy.reaches is not None
    assert "cloak is begun already" in words(session)


def test_cloth_that_is_longer_than_the_light_is_slid_on_by_two_crosses_for_the_next_piece() -> None:
    session = a_session(0, "front", "front", "front")
    work = session.station.work
    copies = tuple(
        replace(copy, place=replace(copy.place, x_in=copy.place.x_in + 17 * number, y_in=copy.place.y_in + 2))
        for number, copy in enumerate(work.copies)
    )
    session.station = replace(session.station, work=replace(work, copies=copies, is_lay=True))
    take(session, Show(number=1), Flip(by=2))
    assert "g: slide the cloth on" in words(session)
    cut = session.station.work.ticked(0, ("cut",)).ticked(1, ("cut",))
    gone = Session(replace(session.station, work=cut))
    take(gone, CutInReaches())
    left = gone.station.work.crosses_in
    assert left is not None
    uncut = shapely.Polygon(outline_in(gone.station.piece, gone.station.copy.place))
    assert all(uncut.contains(shapely.Point(mark)) for mark in left), "what is cut may be lifted off"
    take(session, CutInReaches())
    crosses = session.station.work.crosses_in
    assert crosses is not None
    assert "mark both crosses" in words(session)
    assert "m: slide the cloth" in words(session)
    take(session, FindCloth(), Next())
    assert stage(session) is Stage.LAYING
    assert "beyond the right edge" not in words(session)
    for marks in (np.array(crosses), session.station.work.cloth.on_table(np.array(crosses))):
        pixels = LIT.projector_map.screen_from_table(marks)
        assert (pixels > 20).all()
        assert (pixels < np.array(LIT.projector_map.screen_px) - 20).all()


def test_a_reach_that_was_slid_elsewhere_is_not_cut_until_it_is_in_the_light() -> None:
    session = begun_in_reaches()
    tool = to_finding(session)
    one, other = ((x + 8, y) for x, y in tool.expected_in)
    mark(session, one, other)
    assert (stage(session), session.station.copy.reach) == (Stage.CUTTING, 1)
    assert "NOT ALL OF IT IS LIT" in words(session)
    take(session, Next(), Next())
    assert "mark both crosses" in words(session)
    assert "page down: both are marked, slide it" in words(session)
    take(session, Next(), Next())
    assert stage(session) is Stage.CUTTING
    assert "reach 2 of 2 · cut to the end" in words(session)
    assert session.station.copy.ticked[-1] == "slide 1"
    assert to_the_end(session)[-2:] == ["cut 2", "notches 2"]


def test_marks_that_were_swapped_are_both_set_again() -> None:
    session = begun_in_reaches()
    one, other = to_finding(session).expected_in
    mark(session, other, one)
    assert "the two marks were taken one for the other: set the first on mark 1" in words(session)
    assert "enter: the cross is on mark 1" in words(session)
    mark(session, one, other)
    assert stage(session) is Stage.CUTTING


def test_a_stretch_of_just_the_most_is_none_too_far() -> None:
    session = begun_in_reaches()
    one, other = np.array(to_finding(session).expected_in)
    grown = other + (other - one) / 320
    mark(session, tuple(one.tolist()), tuple(grown.tolist()))
    assert stage(session) is Stage.CUTTING
