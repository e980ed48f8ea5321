"""What is lit while a pattern is drafted: the piece, where it came from, its list of changes, the strip."""

from collections.abc import Iterator
from functools import lru_cache
from itertools import starmap
from typing import TYPE_CHECKING

import numpy as np

from patterns.cutting.marks import LineKind, lines_of
from projector.drafting.joined_piece import joined_light
from projector.drafting.light import traced_light, traced_runs, v_layers, v_points, with_words_beside
from projector.drafting.list import lay_list
from projector.drafting.moved_lines import line_layers
from projector.drafting.words import list_rows, strip_words
from projector.drafting.work import DraftWork
from projector.lighting.lit_area import LitArea
from projector.lighting.piece_light import words_on_piece
from projector.person import Person
from projector.scene import Controls, Layer, Scene
from projector.tracing.light import cross_layer, point_marks, points_layer
from projector.words.help_page import lay_help, page_light
from projector.words.line import WordsLine, written
from projector.words.strip import Strip, lay_strip, strip_layers
from projector.words.strip_rows import StripWords

if TYPE_CHECKING:
    from projector.stations.draft import DraftStation


def draft_scene(station: "DraftStation", controls: Controls) -> Scene:
    """The layers of the station as it is; while help is asked for, the keys in place of the list, or of it all."""
    lit, person, work = station.ground.lit, station.person, station.work
    said, piece = strip_words(station, controls), tuple(_piece(station))
    strip = _strip(said.roomy, station)
    words = strip_layers(strip, said.numbers, lit, person)
    if controls.helping:
        taken = with_words_beside(work.laid.outline_in, work.piece, work.laid.placement)
        page = lay_help(station.bindings, lit, person, taken, strip)
        keys = Layer(name="help", key=(page, person), draw=lambda: page_light(page, lit, person))
        return (
            (*piece, keys, *words) if page.beside else (keys,)
        )  # a page that takes the light says all itself
    return (*piece, *_laid_list(work, strip, lit, person), *words)


def _strip(words: StripWords, station: "DraftStation") -> Strip:
    """About the piece as it was before it began to move: it stays while the piece does not come near."""
    lit, person, work = station.ground.lit, station.person, station.work
    strip = _laid_strip(words, _before(station), lit, person)
    if work.before is None or strip.clear_of(person.seen(work.laid.outline_in)):
        return strip
    return _laid_strip(words, work, lit, person)


def _before(station: "DraftStation") -> DraftWork:
    """The work before what is in hand, or else its chosen number, began to move."""
    return station.work.before if station.work.before and station.held is None else station.work


@lru_cache(maxsize=8)
def _laid_strip(words: StripWords, work: DraftWork, lit: LitArea, person: Person) -> Strip:
    ticks = [
        line.points for line in lines_of(work.piece, work.laid.placement) if line.kind is LineKind.FOLD_TICK
    ]
    return lay_strip(words, lit, person, np.vstack([work.laid.outline_in, *ticks]))


@lru_cache(maxsize=8)
def _laid_list(work: DraftWork, strip: Strip, lit: LitArea, person: Person) -> Scene:
    """The list about the piece, the same while a point is in hand: a layer a line, as mostly one number changes."""
    taken = with_words_beside(work.laid.outline_in, work.piece, work.laid.placement)

    def layer(number: int, line: WordsLine) -> Layer:
        return Layer(name=f"line {number}", key=(line, person), draw=lambda: written([line], lit, person))

    return tuple(starmap(layer, enumerate(lay_list(list_rows(work), lit, person, taken, strip))))


def _piece(station: "DraftStation") -> Iterator[Layer]:
    """As it will be cut; its words stay where they are while it changes about them."""
    lit, person, work = station.ground.lit, station.person, station.shown
    placement, worded, in_hand = work.laid.placement, work.worded, None
    yield from line_layers(work.piece, _before(station).piece, placement, lit)
    joined = station.joined
    if joined is not None:
        yield Layer(name="joined", key=(joined, placement), draw=lambda: joined_light(joined, placement, lit))
    if work.traced is not None:
        points = work.points
        runs = traced_runs(points.piece, points.curves, work.piece)
        key = (*(run.tobytes() for run in runs), placement)
        yield Layer(name="traced", key=key, draw=lambda: traced_light(runs, placement, lit))
        if station.pointing:
            held, marks = None if station.held is None else station.held.point, point_marks(points)
            in_hand = None if held is None else marks[held]
            yield points_layer(marks, held, lit, person)
    vees, say = v_points(work.piece), work.drafted.say
    if vees is not None:
        yield from v_layers(vees, say, placement, lit, person)
    yield Layer(
        name="words",
        key=(worded, placement, person),
        draw=lambda: words_on_piece(worded, placement, lit, person),
    )
    if station.pointing:
        yield cross_layer(station.cross.at_in, in_hand, lit, person)
