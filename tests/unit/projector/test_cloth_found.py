"""Cloth that has slipped, or lies there after a power cut, is found again."""

from dataclasses import replace

import numpy as np
import pytest

from patterns.cutting.marks import LineKind
from projector.actions import (
    Back,
    CutInReaches,
    FindCloth,
    Forget,
    Freeze,
    LayOn,
    Mirror,
    Move,
    Next,
    Open,
    Turn,
)
from projector.cloth.ground import Ground
from projector.cutting.crosses_tool import CrossesTool
from projector.cutting.finding import FindTool
from projector.cutting.stage import Stage
from projector.lighting.look import STYLES
from projector.lighting.strokes import Stroke
from projector.places import read_work, write_work
from projector.session import Session
from projector.stations.cut import CutStation
from tests.unit.projector.cloth_hands import (
    CROSSES,
    LIT,
    a_session,
    begun_in_reaches,
    fold_in,
    lying_along,
    mark,
    off,
    stage,
    take,
    to_finding,
    words,
)
from tests.unit.projector.samples import an_alignment, pieces


def test_two_crosses_find_cloth_again_that_has_slipped() -> None:
    session = a_session(CROSSES, "front")
    take(session, FindCloth())
    assert "no crosses are marked on this cloth" in words(session)
    mark(session, (-15, -5), (14, 8))
    assert session.station.work.crosses_in is not None
    before = session.station.placement.placed(session.station.piece.cut_line)
    take(session, FindCloth())
    mark(session, (-14.5, -5), (14.5, 8))
    assert stage(session) is Stage.LAYING
    assert isinstance(session.station.tool, CrossesTool)
    after = session.station.placement.placed(session.station.piece.cut_line)
    assert np.abs(after - before - (0.5, 0)).max() < 1e-4
    take(session, Forget())
    assert session.station.work.crosses_in is None


def test_after_a_power_cut_the_crosses_find_the_cloth_before_any_cut_line_is_lit() -> None:
    session = a_session(CROSSES, "front")
    mark(session, (-15, -5), (14, 8))
    take(session, Freeze())
    resumed = CutStation.begun(session.station.ground).resumed(session.station.work)
    again = Session(resumed)
    assert stage(again) is Stage.ASKING
    assert "m: it has moved, find it by its crosses" in words(again)
    take(again, FindCloth())
    mark(again, (-15, -4), (14, 9))
    assert stage(again) is Stage.CUTTING
    shift = again.station.placement.y_in - session.station.placement.y_in
    assert shift == pytest.approx(1, abs=1e-5)


def test_after_a_power_cut_two_marks_on_the_fold_bring_all_pieces_before_any_cut_line_is_lit() -> None:
    session = a_session(0, "front", "pocket")
    take(session, Freeze())
    kept = session.station.work
    again = Session(CutStation.begun(Ground(pieces=(pieces()["front"], pieces()["pocket"]), alignment=an_alignment(),
                                            lit=LIT)).resumed(kept))  # fmt: skip
    assert "l: it has moved, mark its fold" in words(again)
    take(again, LayOn(), Next())
    assert stage(again) is Stage.FINDING
    assert "set both marks first" in words(again)
    mark(again, (-6, 10), (-4, -10))
    (main,) = (layer for layer in again.scene() if layer.name == "main")
    assert max(part.light for part in main.draw() if isinstance(part, Stroke)) < STYLES[LineKind.CUT].light
    assert again.station.work.lies.places == kept.lies.places
    assert off(fold_in(again), (-6, 10), (-4, -10)) < 1e-4
    take(again, Next())
    assert stage(again) is Stage.CUTTING
    back = Session(replace(again.station, stage=Stage.ASKING))
    take(back, LayOn(), Back())
    assert stage(back) is Stage.ASKING


def test_reaches_are_planned_from_where_the_piece_lies_and_given_up_once_it_is_moved() -> None:
    for action in (Move(right=1), Mirror(), Open(), Turn(anticlockwise=1)):
        session = a_session(0)
        lying_along(session)
        take(session, CutInReaches())
        assert session.station.copy.reaches is not None
        take(session, action)
        assert session.station.copy.reaches is None
        assert "g: cut in reaches" in words(session)
    begun = begun_in_reaches()
    take(begun, Next(), Freeze(), Move(right=1))
    assert begun.station.copy.reaches is not None, "it is cut already"


def test_after_a_power_cut_while_the_cloth_is_slid_it_is_looked_for_where_it_was_to_be() -> None:
    session = begun_in_reaches()
    tool = to_finding(session)
    again = Session(CutStation.begun(session.station.ground).resumed(session.station.work))
    take(again, FindCloth())
    found = again.station.tool
    assert isinstance(found, FindTool)
    assert found.expected == tool.expected
    take(again, Next())
    assert again.station.copy.reach == 1


def test_work_in_reaches_is_kept_and_read_as_it_was(tmp_path_factory: pytest.TempPathFactory) -> None:
    session = begun_in_reaches()
    to_finding(session)
    take(session, Next())
    path = tmp_path_factory.mktemp("kept") / "table.places.json"
    write_work(path, "sail loft", "cloak", session.station.work)
    assert read_work(path, "sail loft", "cloak") == session.station.work
