"""A step of the sewing card in words on the table, in letters as large as the light has room for."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from functools import lru_cache
from typing import Final

import numpy as np

from patterns.cutting.labels import Label
from patterns.sewing.step import Step
from projector.lighting.letters import words_width
from projector.lighting.light import words_light
from projector.lighting.lit_area import LitArea
from projector.lighting.strokes import Drawing
from projector.person import Person, room_across
from projector.words.messages import wrapped
from projector.words.strip import Strip
from projector.words.unbroken import HELD, spaced, unbroken

LETTERS_IN: Final = tuple(
    1.3 * 0.93**step for step in range(24)
)  # from two steps away, down to a small light's
TITLE, LENGTHS, ASIDE = 1.3, 1.15, 0.8  # heights against that of a sentence
TITLE_LIGHT: Final = 0.5
LENGTHS_LIGHT: Final = 0.8  # what the tape is held to is the brightest
SAYS_LIGHT: Final = 0.4
ASIDE_LIGHT: Final = 0.2
WIDTH: Final = 36.0  # letter heights in a line: longer ones are lost on the way back
WIDER: Final = 48.0  # unless letters gain by it
GAIN: Final = 1.15
SHORT: Final = 22  # letters of an item that is not torn apart
LINE: Final = 1.55  # from line to line, of a letter's height
APART: Final = 0.55  # of a sentence's letters, between one and the next
BELOW_TITLE: Final = 0.5  # and more below the title
EDGE_IN: Final = 0.75  # from the end of the light
CLEAR_IN: Final = 1.0  # above the strip
LEAST_SHARE: Final = 0.3  # of the light's depth: however askew, so much is a box


@dataclass(frozen=True, slots=True, kw_only=True)
class CardLine:
    """A line of words: `left_in` is its left end and `away_in` its middle, as the person sees it."""

    text: str
    height_in: float
    light: float
    left_in: float
    away_in: float


@dataclass(frozen=True, slots=True, kw_only=True)
class _Box:
    """Room for the step, as the person sees it."""

    left: float
    near: float
    right: float
    far: float


@dataclass(frozen=True, slots=True, kw_only=True)
class _Paragraph:
    """A sentence: how high its letters are against the others', and the gap above it."""

    text: str
    size: float
    light: float
    above: float


@lru_cache(maxsize=32)
def lay_step(
    step: Step, aside: tuple[str, ...], lit: LitArea, person: Person, strip: Strip
) -> tuple[CardLine, ...]:
    """The step's lines in the middle of the light above the strip; `aside` stands below it, dim."""
    box = _box_above(strip, lit, person)
    paragraphs = tuple(_paragraphs(step, aside))
    usual, wider = (_largest(paragraphs, box, widest) for widest in (WIDTH, WIDER))
    gains = wider[0].height_in > GAIN * usual[0].height_in
    return tuple(_centred(wider if gains else usual, box))


def card_light(lines: Sequence[CardLine], lit: LitArea, person: Person) -> Drawing:
    """The lines in projector pixels."""
    labels = []
    for line in lines:
        middle = line.left_in + words_width(line.text) * line.height_in / 2
        at = person.on_table(np.array([[middle, line.away_in]]))[0]
        labels.append(Label(text=line.text, at=at, height_in=line.height_in, along=person.axes[0]))
    return words_light(labels, [line.light for line in lines], lit)


def _paragraphs(step: Step, aside: tuple[str, ...]) -> Iterator[_Paragraph]:
    yield _Paragraph(text=step.title, size=TITLE, light=TITLE_LIGHT, above=0.0)
    below = BELOW_TITLE
    for texts, size, light in (
        (step.lengths, LENGTHS, LENGTHS_LIGHT),
        (step.says, 1.0, SAYS_LIGHT),
        (aside, ASIDE, ASIDE_LIGHT),
    ):
        for text in texts:
            yield _Paragraph(text=text, size=size, light=light, above=APART + below)
            below = 0.0


def _box_above(strip: Strip, lit: LitArea, person: Person) -> _Box:
    """The widest box of the light above the strip, less deep where the light is askew."""
    border = person.seen(lit.border_in)
    low, high = float(border[:, 1].min()), float(border[:, 1].max())
    _, strip_near, _, strip_far = strip.taken_in
    at_near_edge = strip_near - low < high - strip_far
    near = strip_far + CLEAR_IN if at_near_edge else low + EDGE_IN
    far = high - EDGE_IN if at_near_edge else strip_near - CLEAR_IN
    best = _Box(left=float(border[:, 0].min()), near=near, right=float(border[:, 0].max()), far=far)
    widest = 0.0
    for share in np.linspace(1.0, LEAST_SHARE, 15):
        inset = (far - near) * (1 - share) / 2
        room = room_across(border, near + inset, far - inset)
        if room is not None and (room[1] - room[0]) * share > widest:
            widest = (room[1] - room[0]) * share
            best = _Box(left=room[0] + EDGE_IN, near=near + inset, right=room[1] - EDGE_IN, far=far - inset)
    return best


def _largest(paragraphs: Sequence[_Paragraph], box: _Box, widest: float) -> list[CardLine]:
    """The lines in the largest letters that fit the box, in lines of at most so many letter heights."""
    for letter_in in LETTERS_IN:
        lines = _lines(paragraphs, letter_in, min(widest * letter_in, box.right - box.left))
        if -lines[-1].away_in + lines[-1].height_in <= box.far - box.near and _fits_across(lines, box):
            break
    return lines


def _lines(paragraphs: Sequence[_Paragraph], letter_in: float, width_in: float) -> list[CardLine]:
    """The lines one below the other, from 0 downwards, wrapped to that width where words allow."""
    lines, top = [], 0.0
    for paragraph in paragraphs:
        height = paragraph.size * letter_in
        top -= paragraph.above * letter_in
        for text in wrapped(_held(paragraph.text), width_in / height):
            middle = top - LINE * height / 2
            lines.append(
                CardLine(
                    text=spaced(text), height_in=height, light=paragraph.light, left_in=0.0, away_in=middle
                )
            )
            top -= LINE * height
    return lines


def _held(text: str) -> str:
    """The text with each length, and a short item of a list, held together: "sleeve hem 6 in"."""
    items = text.split(", ")
    return ", ".join(item.replace(" ", HELD) if len(item) <= SHORT else unbroken(item) for item in items)


def _fits_across(lines: Sequence[CardLine], box: _Box) -> bool:
    """A word that is wider than the light cannot be wrapped."""
    return _width(lines) <= box.right - box.left


def _width(lines: Sequence[CardLine]) -> float:
    return max(words_width(line.text) * line.height_in for line in lines)


def _centred(lines: Sequence[CardLine], box: _Box) -> Iterator[CardLine]:
    deep = lines[0].height_in / 2 - lines[-1].away_in
    left = (box.left + box.right - _width(lines)) / 2
    top = (box.near + box.far + deep) / 2
    for line in lines:
        yield CardLine(
            text=line.text,
            height_in=line.height_in,
            light=line.light,
            left_in=left,
            away_in=top + line.away_in,
        )
