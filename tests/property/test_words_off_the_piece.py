"""Words on the table never lie on cloth that is being cut: the strip and the page of keys, wherever a piece lies."""

from dataclasses import replace

import numpy as np
import shapely
from hypothesis import example, given, settings
from hypothesis import strategies as st

from calibration.frames import Array
from patterns.cutting.placement import Placement
from projector.bindings import CUT_BINDINGS, SEEING_BINDINGS
from projector.cloth.laid_pieces import outline_in
from projector.lighting.lit_area import lit_area
from projector.person import Person
from projector.words.free_room import boxed
from projector.words.help_page import lay_help, page_light
from projector.words.strip import Strip, lay_strip, strip_light
from projector.words.strip_rows import StripWords
from tests.unit.projector.samples import SCREEN_PX, a_map, pieces

LITS = {
    "large": lit_area(a_map()),
    "small": lit_area(a_map(corners_in=((-14, 8), (15, 9), (13, -8), (-13, -9)))),
}
WORDS = StripWords(
    first=("FROZEN", "front", "cut 1 on fold", "half, on the fold", "not mirrored"),
    aside=(
        "the light has not been tested for a month",
        "good to 1/32 in here",
        "piece 1 of 4",
        "h shows the keys",
    ),
)
KEYS = (*CUT_BINDINGS, *SEEING_BINDINGS)
NO_ROOM = 0.8  # of the light: a piece that covers more may leave no place for words

placements = st.builds(
    Placement,
    x_in=st.floats(-30, 30),
    y_in=st.floats(-20, 30),
    turn_deg=st.floats(-180, 180),
    mirrored=st.booleans(),
    opened=st.booleans(),
)
names = st.sampled_from(sorted(pieces()))
persons = st.builds(Person, facing_deg=st.sampled_from([0.0, 90.0, 180.0, 270.0, 12.5]))


def laid(name: str, placement: Placement) -> Array:
    piece = pieces()[name]
    return outline_in(piece, placement if piece.fold is not None else replace(placement, opened=False))


def box_of(strip: Strip) -> shapely.Polygon:
    return shapely.box(*strip.taken_in)


@settings(max_examples=150, deadline=None)
@given(
    name=names,
    placement=placements,
    person=persons,
    size=st.sampled_from(sorted(LITS)),
    text_in=st.sampled_from([0.5, 1.0, 2.0]),
)
@example(  # half of large letters would still not fit beside it
    name="front",
    placement=Placement(x_in=-1, y_in=-5.4760971831133745, turn_deg=179, mirrored=True, opened=True),
    person=Person(facing_deg=0.0),
    size="small",
    text_in=2.0,
)
def test_the_strip_never_lies_on_the_piece_nor_on_its_cut_line(
    name: str, placement: Placement, person: Person, size: str, text_in: float
) -> None:
    lit, outline = LITS[size], laid(name, placement)
    strip = lay_strip(WORDS, lit, person, outline, text_in)
    seen, border = person.seen(outline), shapely.Polygon(person.seen(lit.border_in))
    cloth = shapely.Polygon(seen)
    assert shapely.distance(cloth.exterior, box_of(strip)) > 0.45
    assert border.buffer(1e-6).contains(box_of(strip))
    points = np.vstack([patch.points for patch in strip_light(strip, lit, person)])[::5]
    letters = person.seen(lit.projector_map.table_from_screen(points))
    assert shapely.dwithin(box_of(strip), shapely.points(letters), 0.05).all()
    if shapely.intersection(cloth, border).area < NO_ROOM * border.area:
        assert not cloth.intersects(box_of(strip))
    assert strip.rows[0].text.startswith(WORDS.first[0])


@settings(max_examples=40, deadline=None)
@given(name=names, placement=placements, person=persons)
def test_the_keys_lie_beside_the_piece_and_the_strip_or_the_piece_is_not_lit(
    name: str, placement: Placement, person: Person
) -> None:
    lit, outline = LITS["large"], laid(name, placement)
    strip = lay_strip(WORDS, lit, person, outline)
    page = lay_help(KEYS, lit, person, outline, strip)
    points = np.vstack([patch.points for patch in page_light(page, lit, person)])[::5]
    assert ((points > 0) & (points < np.array(SCREEN_PX))).all()
    if page.beside:
        letters = shapely.MultiPoint(person.seen(lit.projector_map.table_from_screen(points)))
        assert shapely.distance(shapely.Polygon(person.seen(outline)), letters) > 0.5
        assert shapely.distance(box_of(strip), letters) > 0.3
        assert page.letter_in >= 0.4


def test_keys_are_as_large_as_the_words_that_were_chosen_and_never_too_small_to_read() -> None:
    lit, person, outline = LITS["large"], Person(), laid("pocket", Placement(x_in=-20.0, y_in=10.0))
    for text_in, letter_in in ((1.0, 0.8), (0.75, 0.6), (0.375, 0.35)):
        strip = lay_strip(WORDS, lit, person, outline, text_in)
        page = lay_help(KEYS, lit, person, outline, strip, text_in)
        assert page.beside
        assert 0.35 <= page.letter_in <= letter_in + 1e-9


def test_a_strip_without_room_beside_the_piece_says_less_and_at_last_lies_within_it() -> None:
    lit, person = LITS["small"], Person()
    full = lay_strip(WORDS, lit, person, None)
    border = lit.border_in
    left, right = border[:, 0].min(), border[:, 0].max()
    tall = boxed((left - 2, border[:, 1].min() - 2, right - 6.5, border[:, 1].max() + 2))
    beside = lay_strip(WORDS, lit, person, tall)
    assert beside.box_in[0] > right - 6.5
    assert len(" ".join(row.text for row in beside.rows)) < len(" ".join(row.text for row in full.rows))
    covering = boxed((left - 20, -60.0, right + 20, 60.0))
    assert lay_strip(WORDS, lit, person, covering) == full
