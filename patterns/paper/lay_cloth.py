"""The cloth of a lay plan as it lies folded, with the pieces on it, what stays whole, and its dimensions."""

from collections.abc import Iterator
from dataclasses import dataclass
from typing import Final

import numpy as np
import shapely
from shapely.geometry.base import BaseGeometry

from patterns.curves import Array
from patterns.cutting.signs import arrowhead
from patterns.laying.cloth import Flaw
from patterns.laying.folded import Box, Folded
from patterns.laying.folding import Fold, Folding
from patterns.laying.lay import Lay, PieceOnCloth
from patterns.laying.moving import TOP
from patterns.laying.repeat_lines import repeat_lines
from patterns.paper import svg
from patterns.paper.lay_pieces import FOLD_DASH_IN, name_place, piece_drawing
from patterns.paper.page import BLACK, FAINT, QUIET, PageItem
from patterns.paper.scaled import (
    FINE_IN,
    HEAVY_IN,
    LEAST_IN,
    LEVEL,
    LINE_IN,
    SMALL_IN,
    UPRIGHT,
    Scaled,
    first_free,
    hatched,
    outline_of,
)
from patterns.saying import Say

HATCH_IN: Final = 0.11  # between the lines that tell two layers from one
REPEAT_DASH_IN: Final = (0.02, 0.08)
REMNANT_DASH_IN: Final = (0.12, 0.07)
STAND_IN: Final = (0.25, 0.5, 0.75)  # from the cloth: of the nap's arrow, of the dimension lines
NAP_IN: Final = 0.9
INSET_IN: Final = 0.03  # of a dashed line from the edge that it follows
TICK_IN: Final = 0.05
SELVEDGE_SHADE, FLAW_SHADE, GONE_SHADE = 0.9, 0.8, 0.85


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class LayDrawing:
    """The cloth while the pieces of one `stage` are cut.

    `length_in` is as much of it as is drawn, flat; `remnant_in` a box on the flat cloth, None for none.
    """

    lay: Lay
    length_in: float
    remnant_in: Box | None
    buy: str
    say: Say
    stage: int = 1

    @property
    def folded(self) -> Folded:
        """The cloth as it lies: flat again once it was opened."""
        flat = Folding(fold=Fold.SINGLE, cloth=self.lay.cloth)
        return Folded(folding=self.lay.folding if self.stage == 1 else flat, length_in=self.length_in)

    @property
    def size_in(self) -> tuple[float, float]:
        """Inches across and along of the cloth as it lies."""
        left, bottom, right, top = self.folded.box_in
        return right - left, top - bottom

    @property
    def placed(self) -> tuple[tuple[int, PieceOnCloth], ...]:
        """The pieces that are cut now, with their numbers in the order of cutting."""
        numbered = enumerate(self.lay.placed, start=1)
        return tuple((number, one) for number, one in numbered if one.stage == self.stage)

    @property
    def gone(self) -> BaseGeometry:
        """What was cut before, off the flat cloth."""
        before = [one for one in self.lay.placed if one.stage < self.stage]
        return shapely.union_all([shapely.Polygon(part) for one in before for part in one.parts_in])

    @property
    def bare(self) -> BaseGeometry:
        """The part of the cloth as it lies on which nothing is cut."""
        taken = shapely.union_all([shapely.Polygon(one.outline_in) for _, one in self.placed])
        return shapely.box(*self.folded.box_in).difference(taken).difference(self.gone)

    def items(self, corner_in: Array, scale: int) -> Iterator[PageItem]:
        """All of it at 1/`scale`, the left end of the cut edge at `corner_in`, (2,) page inches."""
        left, bottom, _, _ = self.folded.box_in
        sheet = Scaled(origin_in=np.array([left, bottom]), corner_in=corner_in, scale=scale)
        bare = self.bare
        yield from _cloth(self, bare, sheet)
        yield from _gone(self, sheet)
        yield from _remnant(self, sheet)
        free = bare.difference(shapely.union_all(list(self._other_signs())))
        for number, placed in self.placed:
            others = self._hulls_besides(number)
            beside = name_place(number, placed, free.difference(others), others, sheet)
            yield from piece_drawing(number, placed, beside, sheet)
            free = free if beside is None else free.difference(beside)
        yield from _folds(self, sheet)
        yield from _nap(self, sheet)
        yield from _dimensions(self, sheet)

    def _hulls_besides(self, number: int) -> BaseGeometry:
        """What the other pieces lie about: words in a hollow of one would be taken for its own."""
        others = [one for other, one in self.placed if other != number]
        return shapely.union_all([shapely.MultiPoint(one.outline_in).convex_hull for one in others])

    def _other_signs(self) -> Iterator[shapely.Polygon]:
        """Selvedges, flaws, and what stays whole."""
        yield from (shapely.box(*box) for box in self.folded.selvedges_in)
        for flaw in self.lay.cloth.flaws:
            yield from self.folded.lying(flaw_box(flaw))
        if self.remnant_in is not None:
            yield from self.folded.lying(shapely.box(*self.remnant_in))


def _cloth(drawing: LayDrawing, bare: BaseGeometry, sheet: Scaled) -> Iterator[PageItem]:
    """Hatched where it lies double, with its selvedges, repeats and flaws."""
    folded, cloth = drawing.folded, drawing.lay.cloth
    double = shapely.union_all([shapely.box(*box) for box in folded.double_in]).intersection(bare)
    yield sheet.lines(hatched(double, sheet.large(HATCH_IN)), FINE_IN, FAINT)
    for strip in (shapely.box(*box) for box in folded.selvedges_in):
        yield sheet.area(outline_of(strip), SELVEDGE_SHADE)
        yield sheet.lines([outline_of(strip)], FINE_IN, QUIET)
        places = _places_beside(strip, *sheet.room("selvedge"))
        if place := first_free(places, bare):
            yield from sheet.on_white("selvedge", place, UPRIGHT)
    yield from _repeats(drawing, sheet)
    for flaw in cloth.flaws:
        for part in folded.lying(flaw_box(flaw)):
            yield from _flaw(part, sheet)
    yield sheet.lines([outline_of(shapely.box(*folded.box_in))], LINE_IN)


def _places_beside(strip: shapely.Polygon, long: float, high: float) -> Iterator[shapely.Polygon]:
    """Where upright words may stand beside a strip, from the far end on."""
    left, bottom, right, top = strip.bounds
    for y in np.arange(top - 1.5 * long, bottom, -long / 2):
        for x in (right + high / 2, left - 1.5 * high):
            yield shapely.box(x, y, x + high, y + long)


def flaw_box(flaw: Flaw) -> shapely.Polygon:
    """The flaw on the flat cloth."""
    return shapely.box(flaw.left_in, flaw.bottom_in, flaw.right_in, flaw.top_in)


def _flaw(part: shapely.Polygon, sheet: Scaled) -> Iterator[PageItem]:
    left, bottom, right, top = part.bounds
    cross = [np.array([(left, bottom), (right, top)]), np.array([(left, top), (right, bottom)])]
    yield sheet.area(outline_of(part), FLAW_SHADE)
    yield sheet.lines([outline_of(part), *cross], LINE_IN)
    yield sheet.words("flaw", np.array([right + sheet.room("flaw")[0] / 2, (bottom + top) / 2]))


def _repeats(drawing: LayDrawing, sheet: Scaled) -> Iterator[PageItem]:
    """Where the stripes run through the first piece's match point."""
    lines = repeat_lines(drawing.lay, drawing.folded)
    if lines:
        yield sheet.lines(lines, FINE_IN, QUIET, REPEAT_DASH_IN)


def _gone(drawing: LayDrawing, sheet: Scaled) -> Iterator[PageItem]:
    """Holes where pieces were cut before."""
    for part in shapely.get_parts(drawing.gone):
        yield sheet.area(outline_of(part), GONE_SHADE)
        yield sheet.lines([outline_of(part)], FINE_IN, QUIET)


def _remnant(drawing: LayDrawing, sheet: Scaled) -> Iterator[PageItem]:
    """What stays whole, with its size."""
    if drawing.remnant_in is None or drawing.stage < max(one.stage for one in drawing.lay.placed):
        return
    left, bottom, right, top = drawing.remnant_in
    parts = list(drawing.folded.lying(shapely.box(*drawing.remnant_in)))
    for part in parts:
        inside = shapely.box(*part.bounds).buffer(-sheet.large(INSET_IN), join_style="mitre")
        yield sheet.lines([outline_of(inside)], LINE_IN, BLACK, REMNANT_DASH_IN)
    size = f"{drawing.say(right - left)} x {drawing.say(top - bottom)}"
    yield from sheet.fitted(("stays whole", size), max(parts, key=lambda part: part.area))


def _folds(drawing: LayDrawing, sheet: Scaled) -> Iterator[PageItem]:
    """Heavy, with their word outside."""
    for fold in drawing.folded.folds:
        ends = np.array(fold.ends_in)
        yield sheet.lines([ends], HEAVY_IN, BLACK, FOLD_DASH_IN)
        outside = ends.mean(axis=0) + np.array(fold.outwards) * sheet.large(1.6 * SMALL_IN)
        yield sheet.words("fold of the cloth", outside, along=UPRIGHT if fold.outwards[0] else LEVEL)


def _nap(drawing: LayDrawing, sheet: Scaled) -> Iterator[PageItem]:
    """Which way the nap or the print lies: as the tops of the pieces do."""
    if not drawing.lay.cloth.has_nap or not drawing.placed:
        return
    way = np.sign(drawing.placed[0][1].placement.direction(TOP)[1])
    left, bottom, _, top = drawing.folded.box_in
    middle, half = (
        np.array([left - sheet.large(STAND_IN[0] / 2), (bottom + top) / 2]),
        sheet.large(NAP_IN / 2),
    )
    tip, foot = middle + (0.0, way * half), middle - (0.0, way * half)
    head = tip + arrowhead(np.zeros(2), (foot - tip) / sheet.scale) * sheet.scale / 2
    yield sheet.lines([np.array([foot, tip]), head], HEAVY_IN)
    yield sheet.words("nap", foot - (0.0, way * sheet.large(2 * SMALL_IN)), along=UPRIGHT)


def _dimensions(drawing: LayDrawing, sheet: Scaled) -> Iterator[PageItem]:
    """Each part of the width above the cloth; length used and length bought on its left."""
    say, (left, bottom, _, top) = drawing.say, drawing.folded.box_in
    for span in drawing.folded.spans:
        words = f"{say(span.width_in)} {'double (hatched)' if span.layers == 2 else 'single'}"
        up = top + sheet.large(STAND_IN[0])
        yield from _dimension(words, np.array([(span.start_in, up), (span.end_in, up)]), sheet)
    used_in, far_in = drawing.lay.used_in, drawing.lay.folding.far_in
    if far_in:
        lengths = [(f"{say(far_in)} double", top)]
    else:
        lengths = [(f"{say(used_in)} used", min(used_in, top)), (_whole_words(drawing), top)]
    for stand, (words, end) in zip(STAND_IN[1:], lengths, strict=False):
        x = left - sheet.large(stand)
        yield from _dimension(words, np.array([(x, bottom), (x, end)]), sheet)


def _dimension(words: str, ends: Array, sheet: Scaled) -> Iterator[PageItem]:
    """A line from end to end with a tick at both, its words on its left as it runs."""
    length = float(np.hypot(*(ends[1] - ends[0])))
    along = (ends[1] - ends[0]) / length
    leftwards = np.array([-along[1], along[0]])
    tick = leftwards * sheet.large(TICK_IN)
    yield sheet.lines([ends, *(np.array([end - tick, end + tick]) for end in ends)], FINE_IN, QUIET)
    height_in = min(SMALL_IN, length / sheet.scale / (svg.LETTER_PART * len(words)))
    at = ends.mean(axis=0) + leftwards * sheet.large(SMALL_IN)
    yield sheet.words(words, at, max(height_in, LEAST_IN), along)


def _whole_words(drawing: LayDrawing) -> str:
    at_hand_in = drawing.lay.cloth.length_in
    return f"to buy: {drawing.buy}" if at_hand_in is None else f"{drawing.say(at_hand_in)} at hand"
