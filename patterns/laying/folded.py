"""Folded cloth as it is seen from above: where its edges, its folds and its two layers lie."""

from collections.abc import Iterator
from dataclasses import dataclass
from typing import Final

import shapely
from shapely import affinity

from patterns.laying.folding import Direction, Folding

EVEN_IN: Final = 1 / 16  # a narrower strip is none, and selvedges so near meet: no hand folds closer
Box = tuple[float, float, float, float]  # left, bottom, right, top


@dataclass(frozen=True, slots=True, kw_only=True)
class Span:
    """Part of the width of the folded cloth, selvedges and all, and in how many layers it lies."""

    start_in: float
    end_in: float
    layers: int

    @property
    def width_in(self) -> float:
        """Inches across."""
        return self.end_in - self.start_in


@dataclass(frozen=True, slots=True, kw_only=True)
class FoldEdge:
    """A fold from end to end, and the unit direction off the cloth."""

    ends_in: tuple[tuple[float, float], tuple[float, float]]
    outwards: tuple[float, float]


@dataclass(frozen=True, slots=True, kw_only=True)
class Folded:
    """So much cloth, folded; `length_in` is from cut end to cut end, flat.

    Places are those of the layer below, which does not move.
    """

    folding: Folding
    length_in: float

    @property
    def box_in(self) -> Box:
        """What it covers."""
        folding = self.folding
        top_in = folding.far_in or self.length_in
        return folding.left_in, 0.0, folding.cloth.width_in - folding.right_in, top_in

    @property
    def spans(self) -> tuple[Span, ...]:
        """The width from the left, where it lies double and where single."""
        folding, (left, _, right, _) = self.folding, self.box_in
        if folding.far_in:
            return (Span(start_in=left, end_in=right, layers=2),)
        low, high = 2 * folding.left_in, folding.cloth.width_in - 2 * folding.right_in
        spans = (
            Span(start_in=left, end_in=low, layers=2),
            Span(start_in=low, end_in=high, layers=1),
            Span(start_in=high, end_in=right, layers=2),
        )
        return tuple(span for span in spans if span.width_in > EVEN_IN)

    @property
    def double_in(self) -> tuple[Box, ...]:
        """Where it lies in two layers."""
        top = self.box_in[3]
        return tuple((span.start_in, 0.0, span.end_in, top) for span in self.spans if span.layers == 2)

    @property
    def selvedges_in(self) -> tuple[Box, ...]:
        """The left one and the right one where they lie; on one another, one of them."""
        folding, top = self.folding, self.box_in[3]
        wide, left_in, right_in = folding.cloth.selvedge_in, 2 * folding.left_in, 2 * folding.right_in
        left = (left_in - wide, left_in) if left_in else (0.0, wide)
        edge = folding.cloth.width_in - right_in
        right = (edge, edge + wide) if right_in else (edge - wide, edge)
        strips = [left] if abs(left[0] - right[0]) <= EVEN_IN else [left, right]
        return tuple((low, 0.0, high, top) for low, high in strips)

    @property
    def folds(self) -> tuple[FoldEdge, ...]:
        """Each fold."""
        left, bottom, right, top = self.box_in
        return tuple(
            FoldEdge(ends_in=((line.at_in, bottom), (line.at_in, top)), outwards=(float(-line.below), 0.0))
            if line.direction is Direction.LENGTHWISE
            else FoldEdge(
                ends_in=((left, line.at_in), (right, line.at_in)), outwards=(0.0, float(-line.below))
            )
            for line in self.folding.fold_lines
        )

    def lying(self, flat: shapely.Polygon) -> Iterator[shapely.Polygon]:
        """The parts of an area of the flat cloth where they lie now, those above as they are seen through it.

        What comes to lie beyond the squared end is left out.
        """
        left, _, right, top = self.box_in
        width, far = self.folding.cloth.width_in, self.length_in
        moved = (
            (shapely.box(left, 0.0, right, top), None),
            (shapely.box(0.0, 0.0, left, far), (left, 0.0, -1.0, 1.0)),
            (shapely.box(right, 0.0, width, far), (right, 0.0, -1.0, 1.0)),
            (shapely.box(left, top, right, far), (0.0, top, 1.0, -1.0)),
        )
        for layer, mirror in moved:
            part = flat.intersection(layer)
            if part.area <= 0:
                continue
            if mirror is not None:
                x, y, xfact, yfact = mirror
                turned = affinity.scale(part, xfact=xfact, yfact=yfact, origin=(x, y))
                part = turned.intersection(shapely.box(*self.box_in))
            yield from (one for one in shapely.get_parts(part) if isinstance(one, shapely.Polygon))
