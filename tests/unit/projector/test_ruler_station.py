"""What the ruler test shows, and what typing on the table does."""

import pytest

from patterns.measures import in_words
from projector.actions import Accept, Action, ChangeSide, Help, Quit, Type, Undo
from projector.scene import Controls
from projector.session import Session
from projector.stations.ruler import MOST_SIGNS, RulerStation
from tests.unit.projector.samples import an_alignment

BEGUN = RulerStation.begun(an_alignment())
CALM = Controls()


def typed(text: str) -> tuple[Action, ...]:
    return tuple(Type(text=sign) for sign in text)


def after(*actions: Action, station: RulerStation = BEGUN) -> RulerStation:
    for action in actions:
        station = station.after(action)
    return station


def taped(over_in: float = 0.0) -> RulerStation:
    """Every line, as the tape says it where all is so much too long."""
    station = BEGUN
    for line in BEGUN.lines.all:
        station = after(*typed(in_words(line.length_in + over_in, 64)), Accept(), station=station)
    return station


def said(station: RulerStation, controls: Controls = CALM) -> str:
    words = station.strip_words(controls)
    return " · ".join((*words.first, *words.aside))


def test_what_is_typed_stands_on_the_table_and_enter_takes_it() -> None:
    assert said(BEGUN).startswith(
        "line 1 · the tape says: _ · from tick to tick · such as 35 15/16 or 912 mm"
    )
    station = after(*typed("51 15/16"))
    assert "line 1 · the tape says: 51 15/16_" in said(station)
    station = after(Accept(), station=station)
    assert station.taped_in == (51.9375,)
    assert "line 2 · the tape says: _" in said(station)


@pytest.mark.parametrize(
    "spelling", ["52", "52.0 in", '52"', "1320.8mm", "132.08 cm", "51 64/64", "51-32/32"]
)
def test_lengths_are_typed_as_everywhere(spelling: str) -> None:
    assert after(*typed(spelling), Accept()).taped_in == pytest.approx((52.0,))


def test_backspace_erases_and_then_goes_back_a_line() -> None:
    station = after(*typed("52"), Accept(), *typed("2"), Undo())
    assert (station.taped_in, station.typed) == ((52.0,), "")
    station = after(Undo(), station=station)
    assert (station.taped_in, station.typed) == ((), "")
    assert "nothing to erase" in said(after(Undo(), station=station))


@pytest.mark.parametrize(
    ("spelling", "says"),
    [
        ("", "type what the tape says"),
        ("  ", "type what the tape says"),
        ("5/0", "that is no length"),
        ("36 mi", "that is no length"),
        ("91,4 cm", "that is no length: write 35 15/16 or 91.2 cm"),
        ("25", "that cannot be: measure again, and mind the unit"),
        ("52 cm", "that cannot be: measure again, and mind the unit"),
    ],
)
def test_what_cannot_be_is_said_and_changes_nothing(spelling: str, says: str) -> None:
    station = after(*typed(spelling), Accept())
    assert says in said(station)
    assert (station.taped_in, station.typed) == ((), spelling)
    assert says not in said(after(Type(text="1"), station=station))


def test_how_long_a_line_should_be_is_not_told_beforehand() -> None:
    for station in (BEGUN, after(*typed("9"), Accept())):
        assert "52" not in said(station)
        assert "52" not in str([layer.key for layer in station.scene(CALM)])


def test_no_more_is_typed_than_a_length_needs() -> None:
    assert len(after(*typed("1" * 40)).typed) == MOST_SIGNS


def test_the_result_is_said_on_the_table_until_enter_leaves() -> None:
    station = taped()
    assert station.result is not None
    assert station.result.passed
    assert not station.finished
    main, _ = station.scene(CALM)
    assert station.result.words in str(main.key)
    assert main.draw()
    assert said(station) == "the result is kept · enter leaves · backspace types the last line again"
    assert after(Type(text="5"), station=station) is station
    assert after(Accept(), station=station).finished


def test_a_slip_in_the_last_line_can_be_mended() -> None:
    station = after(Undo(), station=taped(over_in=0.25))
    assert station.result is None
    assert len(station.taped_in) == 3


def test_a_failure_says_what_to_do() -> None:
    result = taped(over_in=1 / 8).result
    assert result is not None
    assert "FAILED" in str(taped(over_in=1 / 8).scene(CALM)[0].key)
    assert not result.passed


def test_a_preview_is_not_true_to_size_and_its_result_is_not_kept() -> None:
    preview = Controls(preview=True)
    assert "preview, not true to size" in said(BEGUN, preview)
    assert said(taped(), preview).startswith("the result is not kept · preview, not true to size")


def test_typing_draws_only_the_strip_anew_and_walking_round_both() -> None:
    lines, strip = BEGUN.scene(CALM)
    lines_now, strip_now = after(*typed("3")).scene(CALM)
    assert lines_now.key == lines.key
    assert strip_now.key != strip.key
    turned = after(ChangeSide()).scene(CALM)
    assert turned[0].key != lines.key
    assert after(*4 * (ChangeSide(),)).scene(CALM)[0].key == lines.key


def test_a_session_of_it_types_helps_and_leaves() -> None:
    session = Session(BEGUN)
    for action in (*typed("52"), Help()):
        session.take(action)
    assert session.helping
    assert "help" in str(session.scene()[0].key)
    for action in (Undo(), *typed("1 1/2"), Undo(), Undo(), Undo(), Undo(), Undo(), *typed("2"), Accept()):
        session.take(action)
    assert not session.helping
    assert session.station.taped_in == (52.0,)
    session.take(Quit())
    assert session.finished
    assert session.station.result is None
