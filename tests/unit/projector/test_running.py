"""Numbers that run while a hand pulls: each has room for any that may come, and nothing about it moves."""

from itertools import chain, groupby, pairwise

import numpy as np
import pytest

from patterns.cutting.marks import LineKind, lines_of
from patterns.measures import Unit, said_in
from projector.actions import TakeUp
from projector.lighting.letters import words_width
from projector.lighting.lit_area import lit_area
from projector.person import Person
from projector.words.running import DIGIT, filled, numbers_in, with_room
from projector.words.strip import Strip, lay_strip, strip_layers, strip_light
from projector.words.strip_rows import StripWords
from projector.words.unbroken import spaced
from tests.unit.projector.drafts import CALM, SHOULDER, after, at, begun
from tests.unit.projector.samples import a_map

LIT = lit_area(a_map())


@pytest.mark.parametrize(
    ("phrase", "numbers"),
    [
        ("neck 5 3/8 in", ["5 3/8 in"]),
        ("neck 25 9/16 in: goes over the head", ["25 9/16 in"]),
        ("LOOK: front/side 2 longer than back/side by 1/16 in", ["1/16 in"]),
        ("side 2 14 in", ["14 in"]),
        ("stitched 20.3 cm, cut 9 mm deep", ["20.3 cm", "9 mm"]),
        ("back joined: neck 178.5° of 180°", ["178.5°", "180°"]),
        ("front/neck meets back/neck at 182.4 degrees: a dip of 2.4 degrees", ["182.4", "2.4"]),
        ("3/8 in beyond the left edge", ["3/8 in"]),
        ("corner in hand", []),
        ("1 of 2 in all", ["2 in"]),
    ],
)
def test_the_numbers_of_a_phrase_are_found_and_come_back_into_their_room(
    phrase: str, numbers: list[str]
) -> None:
    assert [*numbers_in(phrase)] == numbers
    roomy = with_room(phrase)
    assert roomy.count(DIGIT) >= len(numbers)
    assert not [*numbers_in(roomy)]
    assert spaced("".join(filled(roomy, iter(numbers)))) == phrase
    assert [part for part in filled(roomy, iter(numbers)) if part in numbers] == numbers


@pytest.mark.parametrize("unit", [*Unit])
@pytest.mark.parametrize(("least_in", "most_in"), [(0.0, 0.9), (4.0, 8.0), (12.0, 35.0)])
def test_the_room_is_the_same_for_all_lengths_and_wide_enough(
    unit: Unit, least_in: float, most_in: float
) -> None:
    said = {f"hem {said_in(length, unit)}" for length in np.arange(least_in, most_in, 1 / 50)}
    by_digits: dict[int, set[str]] = {}
    for phrase in said:
        (number,) = numbers_in(phrase)
        whole = 1 if "/" in number.split(" ")[0] else len(number.replace(".", " ").split(" ")[0])
        by_digits.setdefault(whole, set()).add(with_room(phrase))
        assert words_width(with_room(phrase)) >= words_width(phrase) - 1e-9
    assert all(len(rooms) == 1 for rooms in by_digits.values())


def words(neck: str, apart: str) -> StripWords:
    first, aside = ("corner in hand", f"neck {neck}", "head 57 cm"), (f"LOOK: longer by {apart}", "h: keys")
    return StripWords(first=first, aside=aside, running=(*first[:2], aside[0]))


def test_a_strip_stands_still_while_its_numbers_run() -> None:
    said = [words("5 in", "1/4 in"), words("5 1/2 in", "1 1/16 in"), words("5 11/16 in", "9 15/16 in")]
    strips = [lay_strip(one, LIT, Person(), None) for one in said]
    assert strips[0] == strips[1] == strips[2]
    assert strips[0].rows[0].text.endswith("  ·  head 57 cm")
    layers = [
        {layer.name: layer.key for layer in strip_layers(strip, one.numbers, LIT, Person())}
        for strip, one in zip(strips, said, strict=True)
    ]
    assert [*layers[0]] == ["strip 0", "strip 1", "running 0", "running 1"]
    for before, now in pairwise(layers):
        assert [name for name in now if now[name] != before[name]] == ["running 0", "running 1"]
    (neck, apart), (same, more) = (
        [*strips[0].run(one.numbers)] for one in (words("5 in", "1/4 in"), words("5 in", "1 1/4 in"))
    )
    assert neck == same
    assert (apart.text, more.text) == ("1/4 in", "1 1/4 in")
    assert apart.left == more.left


@pytest.mark.parametrize("one", [words("5 in", "1/4 in"), words("5 11/16 in", "9 15/16 in")])
def test_a_number_lies_in_its_room_between_the_words_about_it(one: StripWords) -> None:
    strip = lay_strip(one, LIT, Person(), None)
    for standing, run in zip(strip.standing, strip.run(one.numbers), strict=True):
        before, after_it = standing
        assert run.left == pytest.approx(before.right)
        assert run.right <= after_it.left + 1e-9
        assert (run.top, run.height_in, run.light) == (before.top, before.height_in, before.light)
    assert [line.text for line in strip.standing[0]] == ["corner in hand  ·  neck ", "  ·  head 57 cm"]
    assert len(strip_light(strip, LIT, Person(), one.numbers)) == 6


def test_words_without_numbers_that_run_are_laid_and_drawn_as_they_are() -> None:
    plain = StripWords(first=("neck 5 1/2 in", "cut 1 on fold"), aside=("good to 1/32 in here",))
    strip = lay_strip(plain, LIT, Person(), None)
    assert isinstance(strip, Strip)
    assert [line.text for row in strip.standing for line in row] == [row.text for row in strip.rows]
    assert strip.running == ()
    assert strip.rows[0].text == "neck 5 1/2 in  ·  cut 1 on fold"


def test_while_a_point_is_pulled_nothing_that_is_read_moves_but_numbers_that_change() -> None:
    station = after(begun(), at(begun(), SHOULDER), TakeUp(), at(begun(), (3.6, 0.05)))
    scenes = [
        {layer.name: layer.key for layer in one.scene(CALM)}
        for one in (
            station,
            *(after(station, at(station, (3.6 + along, 0.05))) for along in (0.03, 0.06, 0.4)),
        )
    ]
    for before, now in pairwise(scenes):
        still = [name for name in now if name == "words" or name.startswith(("strip ", "line "))]
        assert len(still) > 5
        assert [now[name] for name in still] == [before.get(name) for name in still]
    near = {name for name in scenes[1] if scenes[1][name] != scenes[0][name]}
    assert len(near & {f"running {number}" for number in range(4)}) < 4


@pytest.mark.parametrize("share", [0.25, 0.4, 0.6, 1.0])
def test_each_number_comes_into_its_own_room_however_the_words_are_broken(share: float) -> None:
    look = "LOOK: front/overarm at the shoulder shorter than back/overarm by 1 3/8 in"
    first = ("corner in hand", "overarm 12 5/16 in", "neck 25 9/16 in: goes over the head")
    said = StripWords(first=first, aside=(look, "good to 1/32 in", "h: keys"), running=(*first, look))
    tall = np.array([[-30.0, -20.0], [18 - 36 * share, -20.0], [18 - 36 * share, 20.0], [-30.0, 20.0]])
    strip = lay_strip(said, LIT, Person(), tall)
    lines = sorted(
        [*chain(*strip.standing), *strip.run(said.numbers)], key=lambda line: (-line.top, line.left)
    )
    read = " ".join("".join(line.text for line in row) for _, row in groupby(lines, lambda line: line.top))
    shown = [phrase for phrase in (*first, *said.aside) if phrase.split(" ")[0] in read]
    assert len(shown) > 2
    assert read.replace("  ·  ", " ") == " ".join(shown)


def test_the_strip_keeps_off_the_ticks_of_the_fold_beyond_the_piece() -> None:
    station = after(begun(), at(begun(), (15.5, 4.0)), TakeUp(), at(begun(), (16.0, 4.2)))
    piece, placement, lit = station.work.piece, station.work.laid.placement, station.ground.lit
    ticks = [line.points for line in lines_of(piece, placement) if line.kind is LineKind.FOLD_TICK]
    strip = [layer for layer in station.scene(CALM) if layer.name.startswith(("strip ", "running "))]
    letters = np.vstack([part.points for layer in strip for part in layer.draw()])
    for tick in ticks:
        ends_px = lit.projector_map.screen_from_table(tick)
        assert min(np.hypot(*(letters - end).T).min() for end in ends_px) > 10
