"""What is lit at the cut station: the piece as it lies, what its tool adds, and the strip of words."""

from collections.abc import Iterator
from functools import partial
from typing import TYPE_CHECKING, Final

import numpy as np

from calibration.frames import Array
from patterns.cutting.marks import LineKind, lines_of
from patterns.cutting.placement import Placement
from projector.cloth.mark_light import CROSS_IN
from projector.cloth.reach_light import end_signs, reach_light
from projector.cutting.crosses_layers import crosses_layers, marks_in
from projector.cutting.doubt import doubt_light, doubts
from projector.cutting.finding import expecting
from projector.cutting.piece_words import corners, lying_states, piece_labels
from projector.cutting.progress import progress_rows
from projector.cutting.stage import Stage
from projector.drafting.list import lay_list
from projector.lighting.grid import grid_light
from projector.lighting.letters import words_width
from projector.lighting.light import chalk, chalk_light, labels_light
from projector.lighting.lit_area import LitArea
from projector.lighting.looks import Look
from projector.lighting.piece_light import lines_light
from projector.lighting.repeats import repeats_light
from projector.lighting.strokes import Drawing
from projector.person import Person
from projector.scene import Controls, Layer, Scene
from projector.words.help_page import lay_help, page_light
from projector.words.line import WordsLine, written
from projector.words.strip import Strip, lay_strip, strip_light

if TYPE_CHECKING:
    from projector.stations.cut import CutStation

KEYS_LEAST: Final = 0.5  # of the strip's letters: read standing, as its words aside are
BESIDE_CROSS: Final = CROSS_IN * np.array(
    [(-1.0, -1.0), (-1.0, 2.5), (2.5, 2.5), (1.0, -1.0)]
)  # and its number
WHERE: Final = (
    LineKind.FOLD,
    LineKind.FOLD_SIGN,
    LineKind.FOLD_TICK,
    LineKind.CENTRE,
    LineKind.GRAIN,
)


def cut_scene(station: "CutStation", controls: Controls) -> Scene:
    """The layers of the station as it is; while help is asked for, the keys beside the piece or in its place."""
    lit, person, look, taken = station.ground.lit, station.person, station.look, taken_in(expecting(station))
    said = station.strip_words(controls)
    strip = lay_strip(said, lit, person, taken, look.text_in, _signs_in(station))
    if not controls.helping:
        return (*_piece(station), *_progress(station, strip), _strip(strip, lit, person, look))
    page = lay_help(station.bindings, lit, person, taken, strip, look.text_in, KEYS_LEAST)
    keys = Layer(
        name="help", key=(page, person, look), draw=lambda: look.beside(page_light(page, lit, person))
    )
    if page.beside:
        return (*_piece(station), keys, _strip(strip, lit, person, look))
    return (keys, _strip(lay_strip(said, lit, person, None, look.text_in), lit, person, look))


def _strip(strip: Strip, lit: LitArea, person: Person, look: Look) -> Layer:
    key = (strip, person, look)
    return Layer(name="strip", key=key, draw=lambda: look.beside(strip_light(strip, lit, person)))


def _signs_in(station: "CutStation") -> list[Array]:
    """(n, 2) each: round crosses and marks on the cloth, and the words on it while it is asked whether it moved."""
    set_in = station.tool.set_in if station.measured is not None or not station.frozen else ()
    marks = (*(marks_in(station) or ()), *set_in)
    crosses = [station.person.on_table(BESIDE_CROSS) + mark for mark in marks]
    if station.stage not in (Stage.ASKING, Stage.FINDING):
        return crosses
    return [*crosses, *map(corners, piece_labels(expecting(station)))]


def _progress(station: "CutStation", strip: Strip) -> Iterator[Layer]:
    """The list of what is done, where there is room for it; while the cloth is laid there is nothing to list."""
    if station.stage in (Stage.ASKING, Stage.CUTTING):
        lit, person, taken = station.ground.lit, station.person, taken_in(station)
        lines = lay_list(tuple(progress_rows(station)), lit, person, taken, strip)
        near = float(person.seen(lit.border_in)[:, 1].min())
        if any(line.top - line.height_in < near or _lies_over(line, person.seen(taken)) for line in lines):
            return
        for number, line in enumerate(lines):  # a layer a line: mostly two of them change
            yield Layer(name=f"list {number}", key=(line, person), draw=partial(written, [line], lit, person))


def _lies_over(line: WordsLine, taken: Array) -> bool:
    """Whether a line of the list is within the box about what is taken, (n, 2) as the person sees it."""
    (left, near), (right, far) = taken.min(axis=0), taken.max(axis=0)
    width = words_width(line.text) * line.height_in
    across = line.left < right and line.left + width > left
    return bool(across and line.top > near and line.top - line.height_in < far)


def taken_in(station: "CutStation") -> Array:
    """(n, 2) table inches that words keep off: the cut line, ticks beyond the ends of the fold, ends of a reach."""
    piece, placement, reaches = station.piece, station.placement, station.copy.reaches
    ticks = [line.points for line in lines_of(piece, placement) if line.kind is LineKind.FOLD_TICK]
    if reaches is None:
        return np.vstack([station.outline_in, *ticks])
    signs = end_signs(piece, placement, reaches, station.copy.reach, station.person)
    return np.vstack([station.outline_in, *(sign.taken_in for sign in signs)])


def _piece(station: "CutStation") -> Iterator[Layer]:
    station = expecting(station)
    lit, person, piece, placement = station.ground.lit, station.person, station.piece, station.placement
    look = station.look
    yield from _grid(station)
    if station.stage in (Stage.ASKING, Stage.FINDING):
        yield Layer(
            name="main",
            key=("where it lay", piece, placement, person, look),
            draw=lambda: look.seen(where_it_lay(station)),
        )
        yield from crosses_layers(station)
        return
    reaches, reach = station.copy.reaches, station.copy.reach
    if reaches is None:
        yield Layer(
            name="main",
            key=(piece, placement, person, look),
            draw=lambda: (*lines_light(piece, placement, lit, look), *look.seen(_words(station))),
        )
    else:
        states = lying_states(station)
        yield Layer(
            name="main",
            key=(piece, placement, person, reaches, reach, states, look),
            draw=lambda: reach_light(piece, placement, reaches, reach, lit, person, states, look),
        )
    if station.work.seeing.repeats:
        part_in = None if reaches is None else station.outline_in
        yield Layer(
            name="repeats",
            key=(piece, placement, reaches, reach, look),
            draw=lambda: repeats_light(piece, placement, lit, look, part_in),
        )
    yield from crosses_layers(station)
    found = doubts(piece, placement, lit.projector_map)
    if found:
        yield Layer(name="doubt", key=(piece, placement), draw=lambda: doubt_light(found, lit))
    if station.stage is Stage.LAYING or station.measured is not None:
        yield from station.tool.layers(station)


def _grid(station: "CutStation") -> Iterator[Layer]:
    """The grid goes with the cloth, and stands upright for the person until it is known where that lies."""
    unit, cloth, lit, look = station.work.seeing.grid, station.work.cloth, station.ground.lit, station.look
    if unit is not None:
        turn_deg = cloth.turn_deg + station.ground.alignment.turn_deg
        laid = Placement(x_in=cloth.x_in, y_in=cloth.y_in, turn_deg=turn_deg)
        yield Layer(name="grid", key=(unit, laid, look), draw=lambda: grid_light(unit, laid, lit, look))


def where_it_lay(station: "CutStation") -> Drawing:
    """Fold, grain and words, to see whether the cloth has moved; nothing that could be cut along."""
    lit = station.ground.lit
    lines = [line for line in lines_of(station.piece, station.placement) if line.kind in WHERE]
    return (*chalk_light(chalk(lines, lit.span_in), lit), *_words(station))


def _words(station: "CutStation") -> Drawing:
    return labels_light(piece_labels(station), station.ground.lit)
