"""The sewing card on the table: its steps, its keys, and where its words lie."""

from dataclasses import replace

import numpy as np
import pytest

from patterns.paper.card import CAUTIONS
from projector.actions import Action, Blank, ChangeSide, Flip, Freeze, Help, Move, Quit, Show
from projector.bindings import action_of
from projector.lighting.letters import words_width
from projector.lighting.lit_area import lit_area
from projector.scene import Controls
from projector.session import Session
from projector.sewing.page import CardLine, lay_step
from projector.stations.card import CardStation
from projector.words.strip import lay_strip
from tests.unit.projector.cards import GROUND, STEPS, begun
from tests.unit.projector.samples import a_map, an_alignment

CALM = Controls()
LEAST_READ_IN = 0.75  # the strip's smaller letters, read standing two steps away


def words(station: CardStation, controls: Controls = CALM) -> str:
    said = station.strip_words(controls)
    return " | ".join((*said.first, "/", *said.aside))


def lines(station: CardStation, cautions: tuple[str, ...] = ()) -> tuple[CardLine, ...]:
    strip = lay_strip(station.strip_words(CALM), station.ground.lit, station.person, None)
    return lay_step(station.step, cautions, station.ground.lit, station.person, strip)


def test_the_strip_says_which_step_of_which_garment_and_what_comes_next() -> None:
    assert words(begun()) == (
        "step 1 of 9 | Harbour overtop | / | next: Hold a tape against every piece | h shows the keys"
    )
    assert "| the last step |" in words(begun().after(Show(number=9)))
    assert words(begun(), Controls(preview=True)).partition("/ | ")[2].startswith("preview, not true to size")
    assert words(begun(), Controls(frozen=True)).startswith("FROZEN | step 1 of 9")


def test_the_card_goes_on_step_by_step_and_stops_at_its_ends() -> None:
    first = begun()
    second = first.after(Flip(by=1))
    assert second.step.title == "Hold a tape against every piece"
    assert second.after(Flip(by=-1)).step is first.step
    back = first.after(Flip(by=-1))
    assert (back.shown, "this is the first step" in words(back)) == (0, True)
    last = first.after(Show(number=9)).after(Flip(by=1))
    assert (last.shown, "there is no step 10" in words(last)) == (8, True)


def test_it_begins_where_it_was_left_as_long_as_there_is_such_a_step() -> None:
    assert begun("Sew the side").shown == 6
    assert begun("Set the zip").shown == 0


def test_keys_of_keyboards_pedals_and_presenters() -> None:
    keys = {
        "page down": Flip(by=1), "page up": Flip(by=-1), "n": Flip(by=1), "p": Flip(by=-1),
        "right": Flip(by=1), "left": Flip(by=-1), "down": Flip(by=1), "up": Flip(by=-1), "return": Flip(by=1),
        "4": Show(number=4), "home": Show(number=1), "t": ChangeSide(), "b": Blank(), ".": Blank(),
        "f5": Freeze(), "f": Freeze(), "h": Help(), "q": Quit(),
    }  # fmt: skip
    asked: dict[str, Action | None] = {key: action_of(begun().bindings, key, shift=False) for key in keys}
    assert asked == keys
    assert begun().after(Move(right=1)).shown == 0


def test_a_held_step_stays_and_a_blank_light_is_dark() -> None:
    session = Session(begun())
    for action in (Freeze(), Flip(by=1)):
        session.take(action)
    assert session.station.shown == 0
    session.take(Freeze())
    session.take(Flip(by=1))
    assert session.station.shown == 1
    session.take(Help())
    assert session.scene()[0].key == ("help", session.station.person)
    session.take(Blank())
    assert session.scene() == ()


@pytest.mark.parametrize("side", range(4))
@pytest.mark.parametrize("number", range(len(STEPS)))
def test_every_step_lies_within_the_light_above_the_strip_and_is_read_standing(
    side: int, number: int
) -> None:
    station = replace(begun(), shown=number, side=side)
    strip = lay_strip(station.strip_words(CALM), GROUND.lit, station.person, None)
    laid = lines(station, CAUTIONS if number == 0 else ())
    corners = np.array(
        [
            (line.left_in + x * words_width(line.text) * line.height_in, line.away_in + y * line.height_in)
            for line in laid
            for x, y in ((0, -0.5), (1, -0.5), (1, 0.5), (0, 0.5))
        ]
    )
    assert GROUND.lit.reaches(station.person.on_table(corners)).max() <= 0.0
    _, near, _, far = strip.taken_in
    assert corners[:, 1].min() > far or corners[:, 1].max() < near
    said = {line.text for line in laid}
    assert all(word in " ".join(said) for word in station.step.title.split())
    assert min(line.height_in for line in laid) >= (LEAST_READ_IN if side % 2 == 0 else 0.5)
    assert len({round(line.left_in, 6) for line in laid}) == 1


def test_lengths_are_the_brightest_and_not_torn_from_their_edges() -> None:
    laid = lines(begun("Hold a tape against every piece"))
    bright = max(line.light for line in laid)
    lengths = [line.text for line in laid if line.light == bright]
    assert lengths[0].startswith("front, folded: neck 8 3/4 in,")
    assert "\N{NO-BREAK SPACE}" not in "".join(line.text for line in laid)


@pytest.mark.parametrize("wide_in", [14.0, 18.0, 24.0, 36.0, 48.0])
def test_no_length_is_torn_from_its_edge_at_the_end_of_a_line(wide_in: float) -> None:
    half = wide_in / 2
    lit = lit_area(a_map(corners_in=((-half, 12), (half, 12), (half, -12), (-half, -12)), k1=0.0))
    laid = lines(CardStation.begun(replace(GROUND, lit=lit), "Hold a tape against every piece"))
    assert not [
        line.text for line in laid if line.text[0].isdigit() or line.text.endswith((" sleeve", " neck"))
    ]


def test_a_small_light_has_smaller_letters() -> None:
    small = lit_area(a_map(screen_px=(800, 600), corners_in=((-9, 6), (8, 7), (7, -6), (-8, -5))))
    station = CardStation.begun(replace(GROUND, lit=small))
    laid = lines(replace(station, shown=3))
    assert max(line.height_in for line in laid) < LEAST_READ_IN
    ends = np.array([(line.left_in + words_width(line.text) * line.height_in, line.away_in) for line in laid])
    assert small.reaches(station.person.on_table(ends)).max() <= 0.0


def test_only_what_changed_is_drawn_again() -> None:
    session = Session(begun())
    first = [layer.key for layer in session.scene()]
    assert [layer.key for layer in session.scene()] == first
    session.take(Flip(by=1))
    assert session.scene()[0].key != first[0]


def test_a_turned_table_turns_the_words() -> None:
    alignment = an_alignment(turn_deg=3.0)
    station = CardStation.begun(replace(GROUND, alignment=alignment))
    assert station.person.facing_deg == 3.0
    assert station.after(ChangeSide()).person.facing_deg == 93.0
