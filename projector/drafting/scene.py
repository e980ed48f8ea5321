"""What is lit while a pattern is drafted: the piece, where it came from, its list of changes, the strip."""

from collections.abc import Iterator
from functools import lru_cache
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
    strip, changes = _laid_words(said.roomy, work, lit, person)
    words = strip_layers(strip, said.numbers, lit, person)
    if controls.helping:
        taken = with_words_beside(work.laid.outline_in, work.piece, work.laid.placement)
        page = lay_help(station.bindings, lit, person, taken, strip)
        keys = Layer(name="help", key=(page, person), draw=lambda: page_light(page, lit, person))
        return (
            (*piece, keys, *words) if page.beside else (keys,)
        )  # a page that takes the light says all itself
    return (*piece, *changes, *words)


@lru_cache(maxsize=8)
def _laid_words(words: StripWords, work: DraftWork, lit: LitArea, person: Person) -> tuple[Strip, Scene]:
    """The strip and the list about a piece as it was before what is in hand was taken: they stay while it is pulled."""
    lies, piece, placement = work.laid.outline_in, work.piece, work.laid.placement
    taken = with_words_beside(lies, piece, placement)
    ticks = [line.points for line in lines_of(piece, placement) if line.kind is LineKind.FOLD_TICK]
    strip = lay_strip(words, lit, person, np.vstack([lies, *ticks]))
    lines = lay_list(list_rows(work), lit, person, taken, strip)
    return strip, tuple(_list(lines, lit, person))


def _list(lines: tuple[WordsLine, ...], lit: LitArea, person: Person) -> Iterator[Layer]:
    """A layer a line: mostly a single number has changed."""

    def layer(number: int, line: WordsLine) -> Layer:
        return Layer(name=f"line {number}", key=(line, person), draw=lambda: written([line], lit, person))

    return (layer(number, line) for number, line in enumerate(lines))


def _piece(station: "DraftStation") -> Iterator[Layer]:
    """As it will be cut; its words stay where they are while it changes about them."""
    lit, person, work = station.ground.lit, station.person, station.shown
    placement, worded, in_hand = work.laid.placement, work.worded, None
    yield from line_layers(work.piece, station.work.piece, placement, lit)
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
