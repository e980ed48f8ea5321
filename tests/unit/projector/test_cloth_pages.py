"""What page down makes of a piece that is not all lit."""

from dataclasses import replace

from projector.actions import (
    ChangeTool,
    Flip,
    Freeze,
    Move,
    Next,
)
from projector.cloth.ground import Ground
from projector.cutting.in_reaches import is_unlit
from projector.cutting.stage import Stage
from projector.lighting.lit_area import lit_area
from projector.scene import Controls
from projector.session import Session
from projector.stations.cut import CutStation
from tests.unit.projector.cloth_hands import (
    a_session,
    lying_along,
    mark,
    stage,
    take,
    to_the_end,
    words,
)
from tests.unit.projector.long_pieces import cloak
from tests.unit.projector.samples import a_map, an_alignment, pieces


def test_page_down_takes_a_long_piece_in_reaches_rather_than_tick_off_what_is_not_lit() -> None:
    session = a_session(0)
    lying_along(session)
    take(session, Next())
    assert "FROZEN · NOT ALL OF IT IS LIT" in words(session)
    assert "page down: in reaches" in words(session)
    assert "cut 1" in to_the_end(session)
    assert "cut 2" in session.station.copy.ticked
    upright = a_session(0)
    take(upright, Next(), Next())
    assert (stage(upright), upright.station.copy.ticked) == (Stage.LAYING, ())
    assert "not all of it is lit: page down slides the cloth" in words(upright)
    take(upright, Next())
    assert upright.station.copy.reaches is not None
    assert "slide the cloth" in words(upright)
    assert "cut 2" in to_the_end(upright)


def test_page_down_asks_for_the_cloth_to_be_slid_where_a_piece_would_fit() -> None:
    session = a_session(0, "front")
    take(session, *[Move(right=-1)] * 50, Next(), Next())
    assert (stage(session), session.station.copy.ticked) == (Stage.LAYING, ())
    take(session, Next())
    assert "slide the cloth" in words(session)
    assert not is_unlit(session.station)
    assert to_the_end(session)[0] == "cut"


def test_page_down_slides_a_lay_into_the_light_by_two_crosses() -> None:
    session = a_session(0, "front")
    work = session.station.work
    session.station = replace(session.station, work=replace(work, is_lay=True))
    take(session, *[Move(right=-1)] * 50, Next(), Next(), Next())
    assert "page down: both are marked, slide it" in words(session)
    take(session, Next())
    assert stage(session) is Stage.FINDING
    take(session, Next())
    assert stage(session) is Stage.CUTTING
    assert not is_unlit(session.station)
    assert to_the_end(session)[0] == "cut"


def test_a_piece_that_cannot_be_lit_is_left_for_later_and_never_ticked_off() -> None:
    small = lit_area(a_map(corners_in=((-8, 5), (8, 5), (8, -5), (-8, -5))))
    ground = Ground(pieces=(cloak(), pieces()["pocket"]), alignment=an_alignment(), lit=small)
    session = Session(CutStation.begun(ground))
    take(session, Freeze(), Next())
    assert stage(session) is Stage.CUTTING
    assert "not all of it is lit: cloak is larger than 12 reaches of this light" in words(session)
    assert session.station.piece.name == "cloak"
    take(session, Next())
    assert session.station.piece.name == "pocket"
    assert session.station.work.copies[0].ticked == ()


def test_the_way_on_to_the_fold_comes_first_until_it_was_gone() -> None:
    session = a_session(0, "front", "pocket")

    def aside() -> tuple[str, ...]:
        return session.station.strip_words(Controls()).aside

    assert aside()[0] == "tab: on to the cloth's fold"
    take(session, Flip(by=1))
    assert aside()[0] == "tab: on to the cloth's selvedge"
    take(session, Flip(by=-1), ChangeTool())
    assert "tab: on" not in words(session)
    mark(session, (-6, 10), (-4, -10))
    take(session, *[ChangeTool()] * 3)
    assert aside()[0] == "page down: pocket"
    begun = a_session(0, "front", "pocket")
    take(begun, Freeze(), Freeze())
    assert "tab: on" not in words(begun), "the cloth is cut already"
