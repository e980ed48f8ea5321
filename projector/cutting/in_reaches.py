"""A piece at the table taken to be cut in reaches, or in one again; cloth slid on for it."""

from dataclasses import replace
from typing import TYPE_CHECKING, Final

import numpy as np

from calibration.frames import Array
from patterns.saying import Say, lengths_said_in
from projector.cloth.laid_pieces import shifted
from projector.cloth.on_cloth import FINEST
from projector.cloth.reach_crosses import planned
from projector.cloth.reach_split import cut_path
from projector.cloth.reaches import room_in
from projector.cutting.following import following
from projector.cutting.reach_words import slide_words
from projector.cutting.sliding import sliding
from projector.errors import ProjectorError
from projector.lighting.reach import LARGER, overhang_words

if TYPE_CHECKING:
    from projector.stations.cut import CutStation

UNLIT: Final = "not all of it is lit"


def is_unlit(station: "CutStation") -> bool:
    """Whether what is to be cut next without sliding the cloth leaves the light."""
    step, ground = station.step, station.ground
    if step is None or not step.cuts:
        return False
    return bool(overhang_words(_cut_next_in(station), ground.lit, station.person))


def _cut_next_in(station: "CutStation") -> Array:
    """(n, 2) table inches of the cut line that is cut without the cloth being slid."""
    reaches, placement = station.copy.reaches, station.placement
    if reaches is None:
        return station.outline_in
    path = cut_path(station.piece, placement)
    part: Array = path[reaches.block(station.copy.reach).holds(placement.lifted(path))]
    return part


def lit_by_pages(station: "CutStation") -> "CutStation":
    """A frozen piece that is not all lit, in reaches; the light freed first where the cloth must be slid for it.

    Where that cannot be it is said, and the next press leaves the piece for later.
    """
    try:
        with lengths_said_in(station.ground.unit):
            going = _brought_into_the_light(station)
    except ProjectorError as error:
        if not station.notice.startswith(UNLIT):
            return station.refusing(f"{UNLIT}: {error}. f: move it. page down: later")
        return station.showing(station.copies.still_to_cut(station.shown)[0])
    if going.lies == station.lies and going.tool is station.tool:
        return going
    return station.freed(f"{UNLIT}: page down slides the cloth")


def lit_before_held(station: "CutStation") -> "CutStation":
    """While pieces are laid: the piece in reaches or its cloth to be slid; frozen as it is where neither can be."""
    try:
        return _brought_into_the_light(station)
    except ProjectorError:
        return station.held()


def _brought_into_the_light(station: "CutStation") -> "CutStation":
    """What is cut next in reaches; or the cloth to be slid, if it is in reaches and was not slid as far as was said.

    Raises ProjectorError where neither can be.
    """
    if station.copy.reaches is None:
        return in_reaches(station)
    slide = room_in(station.ground.lit, station.person).slide_into(_cut_next_in(station))
    if slide is None:
        raise ProjectorError(f"{station.piece.name} lies askew in the light")
    return sliding(station, slide)


def reaches_words(station: "CutStation") -> tuple[str, ...]:
    """How to cut the lit piece in reaches where it is larger than the light, or in one again."""
    reaches = station.copy.reaches
    if reaches is not None:
        return (f"g: cut in one, not in {len(reaches.reaches)} reaches",)
    beyond = overhang_words(station.outline_in, station.ground.lit, station.person)
    if any(words.startswith(LARGER) for words in beyond):
        return ("g: cut in reaches",)
    return ("g: slide the cloth on",) if beyond and station.work.is_lay else ()


def in_reaches_if_larger(station: "CutStation") -> "CutStation":
    """The lit piece in reaches, or in one again; saying why where that cannot be."""
    try:
        return in_reaches(station)
    except ProjectorError as error:
        return station.refusing(str(error))


def in_reaches(station: "CutStation") -> "CutStation":
    """The lit piece in reaches from where it lies, or in one; of a lay, its cloth first to be slid into the light.

    Raises ProjectorError where that cannot be.
    """
    copy, piece, placement = station.copy, station.piece, station.placement
    if copy.ticked:
        raise ProjectorError(f"{piece.name} is begun already: take its ticks back first")
    if copy.reaches is not None:
        return replace(station, work=station.work.reaching(station.shown, None))
    reaches = planned(piece, placement, room_in(station.ground.lit, station.person))
    first = reaches.reaches[0]
    if station.work.is_lay and slide_words(station, first.slide_in):
        return sliding(station, first.slide_in)
    if len(reaches.reaches) == 1 and is_unlit(station):
        laid = following(station, shifted(placement, np.array(first.slide_in)))
        return laid.refusing(slide_words(station, first.slide_in))
    if len(reaches.reaches) == 1:
        raise ProjectorError(f"{piece.name} fits into the light: it needs no reaches")
    laid = following(station, shifted(placement, np.array(first.slide_in)))
    say, crosses = Say(station.ground.unit), [reach.crosses for reach in reaches.reaches if reach.crosses]
    join, most = max(one.at_join_in for one in crosses), max(one.at_most_in for one in crosses)
    said = [
        slide_words(station, first.slide_in),
        f"crosses {say(1 / 64, FINEST)} amiss: {say(join, FINEST)} where reaches meet, {say(most, FINEST)} at most",
    ]
    work = laid.work.reaching(station.shown, reaches)
    return replace(laid, work=work, notice=". ".join(word for word in said if word))
