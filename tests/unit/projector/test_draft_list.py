"""The list of changes on the table: in the largest room, off the piece and the strip, its lengths in one line."""

import numpy as np
import pytest

from calibration.frames import Array
from projector.drafting.list import LEGIBLE_IN, lay_list
from projector.drafting.list_rows import ListRow
from projector.lighting.letters import words_width
from projector.lighting.lit_area import lit_area
from projector.person import Person
from projector.words.line import WordsLine, written
from projector.words.strip import Strip, lay_strip
from projector.words.strip_rows import StripWords
from projector.words.unbroken import spaced, unbroken
from tests.unit.projector.samples import a_map

LIT = lit_area(a_map())
ROWS = (
    ListRow(text="Bosun's smock", light=0.2, indented=False),
    ListRow(text="> neck v, piece front, depth 8 3/16 in", light=0.7, indented=False),
    ListRow(text="keeps the neck-shoulder point where it is", light=0.2, small=True),
    ListRow(text="facing front, of front/neck, depth 2 1/2 in, below point 2 in", light=0.3),
)


def box(left: float, near: float, right: float, far: float) -> Array:
    return np.array([[left, near], [right, near], [right, far], [left, far]])


def strip_of(piece: Array, person: Person) -> Strip:
    return lay_strip(StripWords(first=("front", "depth 8 in")), LIT, person, piece)


def corners(line: WordsLine) -> Array:
    right = line.left + words_width(line.text) * line.height_in
    return box(line.left, line.top - line.height_in, right, line.top)


@pytest.mark.parametrize("facing_deg", [0.0, 90.0, 180.0, 270.0])
@pytest.mark.parametrize(
    "piece",
    [box(-20, -12, 0, 14), box(0, -12, 20, 14), box(-25, 3, 25, 14), box(-25, -12, 25, 2)],
    ids=["left", "right", "far", "near"],
)
def test_it_lies_in_the_light_off_the_piece_and_the_strip(piece: Array, facing_deg: float) -> None:
    person = Person(facing_deg=facing_deg)
    strip = strip_of(piece, person)
    lines = lay_list(ROWS, LIT, person, piece, strip)
    seen = person.seen(piece)
    assert len(lines) >= len(ROWS)
    left, low, right, high = strip.box_in
    for line in lines:
        at = corners(line)
        assert LIT.reaches(person.on_table(at)).max() < 0
        for low_in, high_in in ((seen.min(axis=0), seen.max(axis=0)), ((left, low), (right, high))):
            assert (at.max(axis=0) <= low_in).any() or (at.min(axis=0) >= high_in).any()
        assert written([line], LIT, person)


def test_the_letters_are_smaller_where_there_are_many() -> None:
    piece, person = box(-20, -12, 0, 14), Person()
    few = lay_list(ROWS, LIT, person, piece, strip_of(piece, person))
    many = lay_list(ROWS * 6, LIT, person, piece, strip_of(piece, person))
    assert many[0].height_in < few[0].height_in
    assert many[-1].top > person.seen(LIT.border_in)[:, 1].min()


def test_there_is_none_where_the_piece_takes_all_the_light() -> None:
    piece, person = box(-40, -20, 40, 20), Person()
    assert lay_list(ROWS, LIT, person, piece, strip_of(piece, person)) == ()


def test_a_small_change_of_the_piece_leaves_it_where_it_is() -> None:
    person = Person()
    laid = [
        lay_list(ROWS, LIT, person, box(-20.3, -12.2, edge, 14.1), strip_of(box(-20, -12, 0, 14), person))
        for edge in (0.1, 0.2, 0.4)
    ]
    assert laid[0] == laid[1] == laid[2]


@pytest.mark.parametrize(
    ("text", "pieces"),
    [
        ("depth 2 1/2 in, below", ["depth", "2 1/2 in,", "below"]),
        ("15 mm and 1.5 cm", ["15 mm", "and", "1.5 cm"]),
        ("cut 1 in front", ["cut", "1 in", "front"]),
        ("round 2 more", ["round", "2", "more"]),
    ],
)
def test_a_length_stays_in_one_line(text: str, pieces: list[str]) -> None:
    assert [spaced(part) for part in unbroken(text).split(" ")] == pieces


def long_list(count: int, chosen: int) -> tuple[ListRow, ...]:
    rows = [ListRow(text="Bosun's smock", light=0.2, indented=False)]
    for number in range(count):
        rows.append(ListRow(text=f"lengthen {number} in, at 16 in", light=0.3, chosen=number == chosen))
        if number == chosen:
            rows.append(ListRow(text="keeps the hem's form", light=0.2, small=True))
    return tuple(rows)


@pytest.mark.parametrize("chosen", [0, 1, 30, 58, 59])
def test_of_a_long_list_the_part_about_the_chosen_change_is_shown_in_letters_that_can_be_read(
    chosen: int,
) -> None:
    piece, person = box(-20, -12, 0, 14), Person()
    rows = long_list(60, chosen)
    lines = lay_list(rows, LIT, person, piece, strip_of(piece, person))
    texts = [line.text for line in lines]
    assert texts[0] == rows[0].text
    assert f"lengthen {chosen} in, at 16 in" in texts
    assert lines[0].height_in == LEGIBLE_IN
    assert lines[-1].top - lines[-1].height_in >= person.seen(LIT.border_in)[:, 1].min()
    shown = [int(text.split()[1]) for text in texts if text.startswith("lengthen")]
    assert shown == list(range(shown[0], shown[-1] + 1))
    above = [int(text.split()[0]) for text in texts if text.endswith("more above")]
    below = [int(text.split()[0]) for text in texts if text.endswith("more below")]
    assert sum(above) == shown[0]
    assert sum(below) == 59 - shown[-1]
    assert abs((chosen - shown[0]) - (shown[-1] - chosen)) <= 1 or not (above and below)


def test_a_list_that_fits_is_shown_whole() -> None:
    piece, person = box(-20, -12, 0, 14), Person()
    texts = [line.text for line in lay_list(long_list(6, 3), LIT, person, piece, strip_of(piece, person))]
    assert len(texts) == 8
    assert not any("more" in text for text in texts)
