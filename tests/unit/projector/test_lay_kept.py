"""A lay at the table is on disk before it is shown, or it is not shown."""

from pathlib import Path

import pytest

from patterns.files.reader import read_pattern
from patterns.measures import Unit
from projector.actions import Flip, Freeze, Move, Show, Undo
from projector.laying.kept import KeptLay, LaySession
from projector.laying.lay_file import lay_path, read_lay
from projector.laying.words import strip_words
from projector.places import read_work
from projector.scene import Controls
from tests.unit.patterns.build import saved
from tests.unit.projector.lay_stations import TOP_AND_POCKET, a_station


@pytest.fixture
def kept(tmp_path: Path) -> KeptLay:
    return KeptLay(
        lay_path=lay_path(saved(tmp_path, TOP_AND_POCKET)),
        version=None,
        unit=Unit.IN,
        places_path=tmp_path / "table.places.json",
        setup="table",
        pattern="Prompt corner",
    )


def test_every_move_is_kept_and_looking_is_not(tmp_path: Path, kept: KeptLay) -> None:
    session = LaySession(a_station(tmp_path), kept)
    session.take(Flip(by=1))
    session.take(Show(number=2))
    assert not kept.lay_path.exists()
    assert kept.cloth is None
    for action in (Move(right=-1), Move(away=1), Undo()):
        session.take(action)
        drafted = read_pattern(tmp_path / "top.yaml").drafted()
        lay, _ = read_lay(kept.lay_path, None, drafted)
        shown = session.station.work
        assert [one.placement for one in lay.placed] == [one.placement for one in shown.lay.placed]
        work = read_work(kept.places_path, "table", "Prompt corner")
        assert work is not None
        assert [copy.place for copy in work.copies] == [one.placement for one in shown.lay.placed]
        assert kept.cloth == shown.cloth


def test_cloth_that_is_moved_leaves_the_lay_alone(tmp_path: Path, kept: KeptLay) -> None:
    session = LaySession(a_station(tmp_path), kept)
    session.take(Move(right=1))
    assert not kept.lay_path.exists()
    assert kept.cloth == session.station.work.cloth


def test_what_cannot_be_kept_is_not_shown(tmp_path: Path, kept: KeptLay) -> None:
    kept.lay_path.mkdir()
    session = LaySession(a_station(tmp_path).after(Show(number=2)), kept)
    before = session.station.work
    session.take(Move(right=1))
    assert session.station.work is before
    assert "cannot be read (Is a directory); move it away" in session.station.notice


def test_a_frozen_light_stays_where_it_is(tmp_path: Path, kept: KeptLay) -> None:
    session = LaySession(a_station(tmp_path), kept)
    before = session.station.work
    for action in (Freeze(), Move(right=1), Flip(by=1)):
        session.take(action)
    assert session.station.work is before
    assert strip_words(session.station, Controls(frozen=True)).first[0] == "FROZEN"
    session.take(Freeze())
    session.take(Move(right=1))
    assert session.station.work is not before
