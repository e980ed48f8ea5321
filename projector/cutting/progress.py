"""The list beside the piece that is cut: what is done of it, what it wants before it is lifted, which pieces follow."""

from collections.abc import Iterator
from typing import TYPE_CHECKING, Final

from projector.cutting.steps import steps_of
from projector.cutting.words import order_words
from projector.drafting.list_rows import ListRow

if TYPE_CHECKING:
    from projector.stations.cut import CutStation

NOW_LIGHT: Final = 0.7
WAITING_LIGHT: Final = 0.3
DONE_LIGHT: Final = 0.14
# help would move the light
KEYS: Final = (
    "b: light off, or on",
    "page up: the piece before",
    "x: not done after all",
    "tab: tape measure, seam gauge",
)


def progress_rows(station: "CutStation") -> Iterator[ListRow]:
    """Every copy in order, the steps of the lit one below it; how true the light was found; keys of a frozen light."""
    for number in station.copies.order:
        name = station.work.copies[number].piece + _which(station, number)
        if number == station.shown:
            yield ListRow(text=f"> {name}", light=NOW_LIGHT, indented=False)
            yield from _steps(station)
        elif station.copies.steps_left(number):
            yield ListRow(text=name, light=WAITING_LIGHT)
        else:
            yield ListRow(text=f"{name}: done", light=DONE_LIGHT)
    for words in station.ground.tested:
        yield ListRow(text=words, light=DONE_LIGHT, indented=False)
    for words in KEYS if station.frozen and station.measured is None else ():
        yield ListRow(text=words, light=DONE_LIGHT, small=True)


def _steps(station: "CutStation") -> Iterator[ListRow]:
    """Those of the piece; of one that is cut in reaches, those of the reach at hand."""
    reaches, reach = station.copy.reaches, station.copy.reach
    for step in steps_of(station.piece, reaches):
        if reaches is not None and not step.name.endswith(f" {reach + 1}"):
            continue
        if step.name in station.copy.ticked:
            yield ListRow(text=f"{step.name}: done", light=DONE_LIGHT, small=True)
        else:
            light = NOW_LIGHT if step is station.step else WAITING_LIGHT
            yield ListRow(text=order_words(station, step), light=light, small=True)


def _which(station: "CutStation", number: int) -> str:
    """Which of several copies it is, and of a pair which hand."""
    cut, copy = station.ground.pieces[number].cut, station.work.copies[number]
    if cut.count == 1:
        return ""
    if copy.gives > 1:
        return f", {copy.gives} at once"
    hand = (", right, mirrored" if copy.place.mirrored else ", left") if cut.mirrored else ""
    return f" {copy.number} of {cut.count}{hand}"
