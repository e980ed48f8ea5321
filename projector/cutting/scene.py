"""What is lit at the cut station: the piece as it lies, what its tool adds, and the strip of words."""

from collections.abc import Iterator
from typing import TYPE_CHECKING, Final

import numpy as np

from calibration.frames import Array
from patterns.cutting.drafted import DraftedPiece
from patterns.cutting.marks import LineKind, lines_of
from patterns.cutting.placement import Placement
from projector.cutting.doubt import doubt_light, doubts
from projector.cutting.progress import progress_rows
from projector.cutting.stage import Stage
from projector.drafting.list import lay_list, line_light
from projector.lighting.light import chalk, chalk_light
from projector.lighting.lit_area import LitArea
from projector.lighting.piece_light import piece_light, words_on_piece
from projector.lighting.strokes import Drawing
from projector.person import Person
from projector.scene import Controls, Layer, Scene
from projector.words.help_page import help_light
from projector.words.strip import Strip, lay_strip, strip_light

if TYPE_CHECKING:
    from projector.stations.cut import CutStation

WHERE: Final = (
    LineKind.FOLD,
    LineKind.FOLD_SIGN,
    LineKind.FOLD_TICK,
    LineKind.CENTRE,
    LineKind.GRAIN,
)


def cut_scene(station: "CutStation", controls: Controls) -> Scene:
    """The layers of the station as it is; the keys instead of the piece while help is asked for."""
    lit, person = station.ground.lit, station.person
    taken = None if controls.helping else taken_in(station)
    strip = lay_strip(station.strip_words(controls), lit, person, taken)
    words = Layer(name="strip", key=(strip, person), draw=lambda: strip_light(strip, lit, person))
    if controls.helping:
        keys = station.bindings
        page = Layer(name="main", key=("help", keys, person), draw=lambda: help_light(keys, lit, person))
        return (page, words)
    return (*_piece(station), *_progress(station, strip), words)


def _progress(station: "CutStation", strip: Strip) -> Iterator[Layer]:
    """The list of what is done; while pieces are laid there is nothing to list."""
    if station.stage is not Stage.LAYING:
        lit, person = station.ground.lit, station.person
        lines = lay_list(tuple(progress_rows(station)), lit, person, taken_in(station), strip)
        yield Layer(
            name="list",
            key=(lines, person),
            draw=lambda: tuple(part for line in lines for part in line_light(line, lit, person)),
        )


def taken_in(station: "CutStation") -> Array:
    """(n, 2) table inches that words keep off: the cut line, and the ticks beyond the ends of the fold."""
    ticks = [
        line.points for line in lines_of(station.piece, station.placement) if line.kind is LineKind.FOLD_TICK
    ]
    return np.vstack([station.outline_in, *ticks])


def _piece(station: "CutStation") -> Iterator[Layer]:
    lit, person, piece, placement = station.ground.lit, station.person, station.piece, station.placement
    if station.stage is Stage.ASKING:
        yield Layer(
            name="main",
            key=("where it lay", piece, placement, person),
            draw=lambda: where_it_lay(piece, placement, lit, person),
        )
        return
    yield Layer(
        name="main",
        key=(piece, placement, person),
        draw=lambda: piece_light(piece, placement, lit, person),
    )
    found = doubts(piece, placement, lit.projector_map)
    if found:
        yield Layer(name="doubt", key=(piece, placement), draw=lambda: doubt_light(found, lit))
    if station.stage is Stage.LAYING:
        yield from station.tool.layers(station)


def where_it_lay(piece: DraftedPiece, placement: Placement, lit: LitArea, person: Person) -> Drawing:
    """Fold, grain and words, to see whether the cloth has moved; nothing that could be cut along."""
    lines = [line for line in lines_of(piece, placement) if line.kind in WHERE]
    return (*chalk_light(chalk(lines, lit.span_in), lit), *words_on_piece(piece, placement, lit, person))
