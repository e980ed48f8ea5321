"""The strip of words: true to size, at the near edge, clear of the piece, never lost."""

import numpy as np
import pytest

from projector.lighting.letters import words_width
from projector.lighting.lit_area import lit_area
from projector.lighting.look import STRIP_HEIGHT_IN
from projector.person import Person, room_across
from projector.words.strip import Strip, lay_strip, strip_light
from projector.words.strip_rows import StripWords
from tests.unit.projector.samples import SCREEN_PX, a_map

LIT = lit_area(a_map())
WORDS = StripWords(
    first=("front", "cut 1 on fold", "half, on the fold"), aside=("good to 1/32 in here", "h shows keys")
)


def box_around(x: float, y: float, half: float) -> "np.ndarray[tuple[int, ...], np.dtype[np.float64]]":
    return np.array([[x - half, y - half], [x + half, y - half], [x + half, y + half], [x - half, y + half]])


def on_screen(strip: Strip, person: Person) -> bool:
    left, near, right, far = strip.box_in
    corners = person.on_table(np.array([[left, near], [right, near], [right, far], [left, far]]))
    pixels = LIT.projector_map.screen_from_table(corners)
    return bool(((pixels > 0) & (pixels < np.array(SCREEN_PX))).all())


@pytest.mark.parametrize("facing", [0.0, 90.0, 180.0, 270.0, 33.0])
def test_it_lies_within_the_light_at_the_near_edge_for_each_side(facing: float) -> None:
    person = Person(facing_deg=facing)
    strip = lay_strip(WORDS, LIT, person, None)
    assert on_screen(strip, person)
    border = person.seen(LIT.border_in)
    assert strip.box_in[1] - border[:, 1].min() < (4.5 if facing % 90 == 0 else 19)
    for part in strip_light(strip, LIT, person):
        assert ((part.points > 0) & (part.points < np.array(SCREEN_PX))).all()


def test_its_letters_are_an_inch_high_where_there_is_room() -> None:
    strip = lay_strip(WORDS, LIT, Person(), None)
    assert [row.height_in for row in strip.rows] == [STRIP_HEIGHT_IN, 0.75]
    assert strip.rows[0].text == "front  ·  cut 1 on fold  ·  half, on the fold"


def test_it_goes_to_the_far_edge_when_the_piece_lies_at_the_near_one() -> None:
    strip = lay_strip(WORDS, LIT, Person(), box_around(0, -14, 4))
    assert strip.box_in[1] > 10
    assert on_screen(strip, Person())


def test_it_goes_beside_a_piece_that_takes_both_edges() -> None:
    tall = np.array([[-20.0, -20.0], [5.0, -20.0], [5.0, 20.0], [-20.0, 20.0]])
    strip = lay_strip(WORDS, LIT, Person(), tall)
    assert strip.box_in[0] > 5
    assert on_screen(strip, Person())


@pytest.mark.parametrize("points", [1, 2, 3])
def test_it_keeps_off_the_first_points_of_a_garment_that_is_being_traced(points: int) -> None:
    begun = np.array([[-2.0, -14.0], [2.0, -14.0], [2.0, -12.0]])[:points]
    strip = lay_strip(WORDS, LIT, Person(), begun)
    assert strip.box_in[1] > 0
    assert on_screen(strip, Person())


def test_it_stays_at_the_near_edge_when_no_place_is_free() -> None:
    strip = lay_strip(WORDS, LIT, Person(), box_around(0, 0, 60))
    assert strip.box_in == lay_strip(WORDS, LIT, Person(), None).box_in


def test_long_words_are_broken_between_phrases_and_none_is_lost() -> None:
    words = StripWords(first=tuple(f"phrase number {n}" for n in range(9)), aside=("last",))
    strip = lay_strip(words, LIT, Person(), None)
    text = "  ·  ".join(row.text for row in strip.rows)
    assert all(phrase in text for phrase in (*words.first, "last"))
    assert on_screen(strip, Person())


SENTENCE = (
    "add: neck round, piece front, depth 2 3/8 in below the high shoulder point: "
    "it meets the fold there, deeper than before by 1 1/2 in_"
)


def test_a_sentence_is_broken_between_its_words_alone_and_no_separator_comes_into_it() -> None:
    words = StripWords(first=(SENTENCE,), aside=("enter: that is it",))
    strip = lay_strip(words, LIT, Person(), None)
    rows = [row.text for row in strip.rows]
    assert len(rows) > 2
    assert " ".join(rows) == f"{SENTENCE} enter: that is it"
    assert all(length in "|".join(rows) for length in ("2 3/8 in", "1 1/2 in_"))
    assert on_screen(strip, Person())


@pytest.mark.parametrize("share", [0.2, 0.3, 0.4, 0.5, 0.6])
def test_no_length_is_torn_apart_however_narrow_the_room(share: float) -> None:
    half = 18.0
    tall = np.array([[-30.0, -20.0], [half - 36 * share, -20.0], [half - 36 * share, 20.0], [-30.0, 20.0]])
    strip = lay_strip(StripWords(first=(SENTENCE,)), LIT, Person(), tall)
    rows = [row.text for row in strip.rows]
    assert " ".join(rows) == SENTENCE
    assert all(length in "|".join(rows) for length in ("2 3/8 in", "1 1/2 in_"))


def test_what_is_short_is_not_broken() -> None:
    tall = np.array([[-20.0, -20.0], [5.0, -20.0], [5.0, 20.0], [-20.0, 20.0]])
    rows = [row.text for row in lay_strip(WORDS, LIT, Person(), tall).rows]
    assert all(any(phrase in row for row in rows) for phrase in WORDS.first)


def test_a_very_small_light_still_says_everything() -> None:
    small = lit_area(a_map(corners_in=((-3, 2), (3, 2), (3, -2), (-3, -2))))
    strip = lay_strip(WORDS, small, Person(), None)
    assert "half, on the fold" in "".join(row.text for row in strip.rows)
    assert max(words_width(row.text) * row.height_in for row in strip.rows) < 6


def test_room_in_a_trapezium_is_that_of_its_narrower_end() -> None:
    border = np.array([[-10.0, 0.0], [10.0, 0.0], [5.0, 10.0], [-5.0, 10.0]])
    room = room_across(border, 2.0, 8.0)
    assert room is not None
    assert room == pytest.approx((-6.0, 6.0))
    assert room_across(border, 9.0, 11.0) is None


def test_what_a_person_sees_goes_back_to_the_table() -> None:
    person = Person(facing_deg=123.0)
    points = np.array([[1.0, 2.0], [-3.0, 0.5]])
    assert person.on_table(person.seen(points)) == pytest.approx(points)
    assert Person(facing_deg=90.0).seen(np.array([[0.0, 1.0]])) == pytest.approx(np.array([[1.0, 0.0]]))
