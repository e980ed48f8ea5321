"""The station that shows how true the light is."""

from projector.actions import Action, Blank, ChangeSide, Help, Move, Quit
from projector.bindings import action_of
from projector.scene import Controls
from projector.session import Session
from projector.stations.forecast import ForecastStation
from tests.unit.projector.forecasts import a_graded_alignment
from tests.unit.projector.samples import an_alignment

STATION = ForecastStation.begun(a_graded_alignment(), warnings=("no ruler test yet",))


def words(station: ForecastStation, controls: Controls | None = None) -> str:
    said = station.strip_words(controls or Controls())
    return " | ".join((*said.first, "/", *said.aside))


def test_the_strip_says_what_is_shown_the_claim_and_the_warnings() -> None:
    assert words(STATION) == (
        "how true the light is | good to 1/32 in nearly everywhere | / | no ruler test yet | h shows the keys"
    )
    assert "preview, not true to size" in words(STATION, Controls(preview=True))


def test_a_map_that_cannot_be_cut_by_is_shown_and_says_so() -> None:
    doubtful = ForecastStation.begun(an_alignment(trustworthy=False, size_checked=False))
    assert "| NOT GOOD ENOUGH TO CUT BY | /" in words(doubtful)
    assert "size not checked" in words(doubtful)


def test_keys_turn_blank_help_and_leave_and_no_other_changes_anything() -> None:
    keys = {"t": ChangeSide(), "b": Blank(), "space": Blank(), "h": Help(), "q": Quit()}
    asked: dict[str, Action | None] = {key: action_of(STATION.bindings, key, shift=False) for key in keys}
    assert asked == keys
    assert action_of(STATION.bindings, "left", shift=False) is None
    assert STATION.after(Move(right=1)) is STATION


def test_the_areas_are_drawn_again_only_when_the_person_changes_side() -> None:
    session = Session(STATION)
    first = [layer.key for layer in session.scene()]
    assert [layer.key for layer in session.scene()] == first
    session.take(ChangeSide())
    assert session.station.person.facing_deg == 90.0
    assert session.scene()[0].key != first[0]
    for _ in range(3):
        session.take(ChangeSide())
    assert [layer.key for layer in session.scene()] == first


def test_help_takes_the_place_of_the_areas_and_blank_is_dark() -> None:
    session = Session(STATION)
    session.take(Help())
    assert session.scene()[0].key == ("help", STATION.person)
    session.take(Blank())
    assert session.scene() == ()
