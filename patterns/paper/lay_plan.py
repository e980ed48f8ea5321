"""A lay plan to pin to the wall: the cloth as it lies folded, the pieces on it, and beside it what to do.

The cut end is at the bottom, where the person stands, so that left and right are theirs.
"""

import math
import re
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from typing import Final

import numpy as np

from patterns.laying.folded import Box
from patterns.laying.lay import Lay
from patterns.paper import svg
from patterns.paper.lay_cloth import LayDrawing
from patterns.paper.page import QUIET, Page, PageItem, PageWords, level
from patterns.saying import Say

SCALES: Final = (4, 5, 6, 8, 10, 12, 16, 20, 24, 32, 40, 64)
ROOM_IN: Final = (6.5, 9.5)  # for the cloth on the page, beside the words: it is then about a sheet of paper
MARGIN_IN: Final = 0.5
DIMENSIONS_IN: Final = 0.9  # beside and above the cloth
COLUMN_IN: Final = 3.5
GUTTER_IN: Final = 0.6  # from the cloth to the words, with the word at its fold between
TITLE_IN, HEADING_IN, TEXT_IN = 0.2, 0.12, 0.095
SPACING: Final = 1.75
PARAGRAPH: Final = 0.7  # more, in text heights, before a new one
_WORDS: Final = re.compile(r"[0-9.]+(?: [0-9]+/[0-9]+)? (?:in|cm|mm|m|yd)\b\S*|\S+")  # a length is one word


@dataclass(frozen=True, slots=True, kw_only=True)
class Block:
    """A heading and its paragraphs, numbered from the `first` on where there is one."""

    heading: str
    says: tuple[str, ...]
    first: int | None = None


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class LayPlan:
    """What the page shows.

    `length_in` is how long the cloth lies, washed, `buy` the length to buy in words, `remnant_in` what stays
    whole as a box on the flat cloth.
    """

    title: str
    subtitle: str
    lay: Lay
    length_in: float
    buy: str
    remnant_in: Box | None
    blocks: tuple[Block, ...]
    say: Say


def lay_plan(plan: LayPlan, scale: int | None = None) -> Page:
    """The page, its cloth at 1/`scale` of its size; without one, at the largest usual scale that fits a sheet."""
    drawings = [
        LayDrawing(
            lay=plan.lay,
            remnant_in=plan.remnant_in,
            length_in=plan.length_in,
            buy=plan.buy,
            say=plan.say,
            stage=stage,
        )
        for stage in sorted({one.stage for one in plan.lay.placed})
    ]
    scale = scale or _fitting(drawings)
    top_in = MARGIN_IN + TITLE_IN * 3.5
    base_in = top_in + DIMENSIONS_IN + max(drawing.size_in[1] for drawing in drawings) / scale
    left_in, items = MARGIN_IN, list(_heading(plan))
    for drawing in drawings:
        left_in += DIMENSIONS_IN
        items += drawing.items(np.array([left_in, -base_in]), scale)
        left_in += drawing.size_in[0] / scale + GUTTER_IN
    words, ends_in = _column(plan.blocks, left_in, top_in)
    height_in = max(base_in + GUTTER_IN, ends_in) + MARGIN_IN
    scale_words = level(f"scale 1:{scale}", (MARGIN_IN, MARGIN_IN - height_in), TEXT_IN)
    return Page(
        title=f"{plan.title}: lay plan",
        size_in=(left_in + COLUMN_IN + MARGIN_IN, height_in),
        items=(*items, *words, PageWords(label=scale_words, shade=QUIET, starts_there=True)),
    )


def _fitting(drawings: Sequence[LayDrawing]) -> int:
    widest, highest = (max(sides) for sides in zip(*(drawing.size_in for drawing in drawings), strict=True))
    needed = max(widest / ROOM_IN[0], highest / ROOM_IN[1])
    return next((scale for scale in SCALES if scale >= needed), math.ceil(needed))


def _heading(plan: LayPlan) -> Iterator[PageItem]:
    down = MARGIN_IN + TITLE_IN / 2
    yield PageWords(label=level(plan.title, (MARGIN_IN, -down), TITLE_IN), starts_there=True)
    down += TITLE_IN * SPACING
    yield PageWords(
        label=level(plan.subtitle, (MARGIN_IN, -down), HEADING_IN), shade=QUIET, starts_there=True
    )


def _column(blocks: Sequence[Block], left_in: float, top_in: float) -> tuple[list[PageItem], float]:
    """The blocks below one another, and how far down the page they reach."""
    items: list[PageItem] = []
    down = top_in

    def line(text: str, height_in: float, indent_in: float = 0.0) -> None:
        nonlocal down
        down += height_in * SPACING
        at = (left_in + indent_in, -(down - height_in * SPACING / 2))
        items.append(PageWords(label=level(text, at, height_in), starts_there=True))

    for block in blocks:
        line(block.heading, HEADING_IN)
        for number, says in enumerate(block.says, start=block.first or 0):
            down += TEXT_IN * PARAGRAPH
            indent_in = 0.0 if block.first is None else 2.5 * TEXT_IN
            rows = broken(says, (COLUMN_IN - indent_in) / TEXT_IN)
            if block.first is not None:
                line(str(number), TEXT_IN)
                down -= TEXT_IN * SPACING
            for row in rows:
                line(row, TEXT_IN, indent_in)
        down += HEADING_IN * 1.5
    return items, down


def broken(text: str, width: float) -> tuple[str, ...]:
    """The text in rows of at most so many letter heights, as the widest typefaces run.

    >>> broken("one two three", 6.0)
    ('one two', 'three')
    >>> broken("lies 22 1/2 in off", 9.0)
    ('lies', '22 1/2 in', 'off')
    >>> broken("lies 82.9 cm off", 8.0)
    ('lies', '82.9 cm', 'off')
    """
    most = max(1, int(width / svg.LETTER_PART))
    rows: list[str] = []
    for word in _WORDS.findall(text):
        if rows and len(rows[-1]) + 1 + len(word) <= most:
            rows[-1] = f"{rows[-1]} {word}"
        else:
            rows.append(word)
    return tuple(rows)
