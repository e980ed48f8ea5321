"""What is lit at the lay station: how to fold, or a piece on its cloth among the others; broken rules; the strip."""

from collections.abc import Iterator
from typing import TYPE_CHECKING

import numpy as np

from calibration.frames import Array
from patterns.tracing.hand_trace import Place
from projector.cloth.laid_pieces import middle
from projector.cloth.mark_light import numbered_light
from projector.laying.broken import place_of
from projector.laying.cloth_signs import minded_light, whole_light
from projector.laying.left_free import left_free
from projector.laying.light import GONE, cloth_light, fold_light, others_light, sign_light, words_of
from projector.laying.tool import Tool
from projector.laying.words import strip_words
from projector.lighting.piece_light import lines_light
from projector.scene import Controls, Layer, Scene
from projector.tracing.light import cross_light
from projector.words.help_page import help_light
from projector.words.strip import lay_strip, strip_light

if TYPE_CHECKING:
    from projector.stations.lay import LayStation


def lay_scene(station: "LayStation", controls: Controls) -> Scene:
    """The layers of the station as it is; the keys instead of the cloth while help is asked for."""
    lit, person = station.ground.lit, station.person
    on_a_piece = station.page.piece is not None and not controls.helping
    taken = station.outline_in if on_a_piece else None
    free = () if controls.helping else left_free(station)
    strip = lay_strip(strip_words(station, controls), lit, person, taken, lines_in=free)
    words = Layer(name="strip", key=(strip, person), draw=lambda: strip_light(strip, lit, person))
    if controls.helping:
        keys = station.bindings
        return (Layer(name="help", key=(keys, person), draw=lambda: help_light(keys, lit, person)), words)
    shown = _fold(station) if station.page.piece is None else _piece(station, station.page.piece)
    return (*shown, *_marks(station), words)


def _fold(station: "LayStation") -> Iterator[Layer]:
    work, lit, person, say = station.work, station.ground.lit, station.person, station.ground.say
    folded, cloth = work.folded(station.page.stage), work.cloth
    yield Layer(
        name="fold",
        key=(folded, cloth, say, person),
        draw=lambda: fold_light(folded, cloth, say, lit, person),
    )
    yield _minded(station)
    lay, gone = work.lay, work.gone_in(station.page.stage)
    if gone:
        yield Layer(
            name="gone",
            key=(lay.placed, cloth, person),
            draw=lambda: others_light(gone, [GONE for _ in gone], lit, person),
        )
    yield Layer(
        name="whole",
        key=(lay, folded, cloth, say, person),
        draw=lambda: whole_light(lay, folded, cloth, say, lit, person),
    )


def _minded(station: "LayStation") -> Layer:
    work, lit, person = station.work, station.ground.lit, station.person
    lay, cloth, folded = work.lay, work.cloth, work.folded(station.page.stage)
    first = lay.placed[0]
    return Layer(
        name="minded",
        key=(lay.cloth, first, folded, cloth, person),
        draw=lambda: minded_light(lay, folded, cloth, lit, person),
    )


def _piece(station: "LayStation", number: int) -> Iterator[Layer]:
    work, lit, person, stage = station.work, station.ground.lit, station.person, station.page.stage
    folded, cloth, lay = work.folded(stage), work.cloth, work.lay
    yield Layer(name="cloth", key=(folded, cloth), draw=lambda: cloth_light(folded, cloth, lit))
    yield _minded(station)
    gone = work.gone_in(stage)
    others = tuple(other for other in work.pieces_of(stage) if other != number)
    lying = tuple(lay.placed[other] for other in others)
    yield Layer(
        name="others",
        key=(lying, lay.placed if gone else (), cloth, person),
        draw=lambda: others_light(
            [*(work.outline_in(other) for other in others), *gone],
            [*(one.piece.name for one in lying), *(GONE for _ in gone)],
            lit,
            person,
        ),
    )
    one = lay.placed[number]
    placement = cloth.laid(one.placement)
    yield Layer(
        name="piece",
        key=(one, cloth, person),
        draw=lambda: (*lines_light(one.piece, placement, lit), *words_of(one, cloth, lit, person)),
    )
    off_in = _place(middle(station.outline_in))
    for nth, broken in enumerate(station.broken):
        at_in = _place(cloth.on_table(place_of(broken, lay, folded)[None])[0])
        yield _sign(f"sign {nth}", (at_in, off_in), broken.sentence, station)


def _sign(name: str, at_and_off_in: tuple[Place, Place], sentence: str, station: "LayStation") -> Layer:
    lit, person = station.ground.lit, station.person
    at_in, off_in = np.array(at_and_off_in)
    return Layer(
        name=name,
        key=(at_and_off_in, sentence, person),
        draw=lambda: sign_light(at_in, off_in, sentence, lit, person),
    )


def _place(point_in: Array) -> Place:
    x, y = point_in.tolist()
    return x, y


def _marks(station: "LayStation") -> Iterator[Layer]:
    if station.tool is not Tool.MARKS:
        return
    lit, person, marks, at = station.ground.lit, station.person, station.marks_in, station.cross.at_in
    yield Layer(name="marks", key=(marks, person), draw=lambda: numbered_light(marks, lit, person))
    yield Layer(name="cross", key=(at, person), draw=lambda: cross_light(at, lit, person))
