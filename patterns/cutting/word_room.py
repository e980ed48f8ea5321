"""Where words on a piece are largest: all ways to lay them at once, in cells that shrink about the best places.

A place is counted in half blocks, along and across the words: words of size s at one reach from -s to s about it.
So a step of d half blocks makes them by d smaller at most, which says of every cell how large they are at most in it.
"""

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from typing import Final, TypeAlias

import numpy as np
import numpy.typing as npt
import shapely

from patterns.curves import Array

CLEAR_IN: Final = 0.15  # between the words and what they must not touch
CLOSE_PART: Final = (
    0.01  # of their worth: so little is not looked for, and is given for a place nearer the middle
)
FIRST_CELLS: Final = 200
KEPT_CELLS: Final = 128
ROUNDS: Final = 6  # of cells, each half as wide as the last
_SPLIT: Final = 2  # a cell becomes so many, across and along
_PARTS: Final = np.stack(np.meshgrid(*[np.arange(1 - _SPLIT, _SPLIT, 2.0)] * 2), axis=-1).reshape(-1, 2)
_STEPS: Final = np.stack(np.meshgrid(*[np.linspace(0.0, 1.0, 5)] * 2), axis=-1).reshape(-1, 2)

Ints: TypeAlias = npt.NDArray[np.intp]
Worth: TypeAlias = Callable[
    [Ints, Array], Array
]  # (..., m) of ways (m,), sizes (2, ..., m): the larger, the more


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Blocks:
    """Ways to lay a block of words: unit directions (w, 2, 2) along it and across, half its width and height (w, 2).

    `halves_in` are inches for words of size 1; `share` (w,) is what those are worth.
    """

    axes: Array
    halves_in: Array
    share: Array


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Found:
    """A block's way, its middle (2,) in piece inches, its size off the strong lines and off all lines (2,)."""

    way: int
    middle: Array
    sizes: Array


class WordRoom:
    """The room within an outline, off its strong lines or off faint ones too, for each of the ways to lay a block."""

    def __init__(
        self, outline: Array, strong: Sequence[Array], faint: Sequence[Array], blocks: Blocks
    ) -> None:
        self.blocks = blocks
        self._area = shapely.Polygon(outline)
        shapely.prepare(self._area)
        lines = [np.concatenate([outline, outline[:1]]), *strong, *faint]
        starts = np.concatenate([line[:-1] for line in lines])
        ends = np.concatenate([line[1:] for line in lines])
        self._strong = sum(len(line) - 1 for line in lines[: 1 + len(strong)])
        per_inch = (blocks.axes / blocks.halves_in[:, :, None]).swapaxes(0, 1)
        seen_starts, seen_ends = per_inch @ starts.T, per_inch @ ends.T  # (2, w, n) half blocks along, across
        self._middles = (seen_starts + seen_ends) / 2
        self._reaches = np.abs(seen_ends - seen_starts) / 2 + (CLEAR_IN / blocks.halves_in).T[:, :, None]
        ways = ends - starts
        normals = ways[:, ::-1] * (-1.0, 1.0) / np.hypot(*ways.T)[:, None]
        self._across = np.vstack([normals.T, -(normals * starts).sum(axis=1)])  # (3, n) of a place and 1
        self._inches = blocks.axes * blocks.halves_in[:, :, None]
        self._breadths = np.abs(self._inches @ normals.T).sum(axis=1)
        seen = seen_starts[:, :, : len(outline)]
        self.low, self.high = seen.min(axis=2).T, seen.max(axis=2).T

    def places_in(self, way: Ints, at: Array) -> Array:
        """(m, 2) piece inches of places (m, 2) in half blocks of their ways (m,)."""
        along, across = self._inches.take(way, axis=0).swapaxes(0, 1)
        places: Array = at[:, :1] * along + at[:, 1:] * across
        return places

    def sizes(self, way: Ints, at: Array) -> Array:
        """(2, m) sizes of the largest words about places (m, 2): off the strong lines, and off all.

        At most 0 where there is no room for any; outside the outline so far below it as words would be large.
        A block and a straight line are apart if they are so along the block, across it or across the line (the
        separating axis theorem).
        """
        places = np.ones((len(way), 3))
        places[:, :2] = self.places_in(way, at)
        along, across = (
            np.abs(middles.take(way, axis=0) - place[:, None]) - reaches.take(way, axis=0)
            for middles, reaches, place in zip(self._middles, self._reaches, at.T, strict=True)
        )
        away = (np.abs(places @ self._across) - CLEAR_IN) / self._breadths.take(way, axis=0)
        apart = np.maximum(np.maximum(along, across), away)
        strong = apart[:, : self._strong].min(axis=1)
        sizes = np.array([strong, np.minimum(strong, apart[:, self._strong :].min(axis=1))])
        return np.where(shapely.contains_xy(self._area, places[:, :2]), sizes, -np.maximum(sizes, 0.0))

    def largest(self, worth: Worth) -> Found:
        """The words of the most worth, to CLOSE_PART; among such places one towards the middle of the room.

        Of size 0, at any place within the outline, where none have room.
        """
        way, at, cell = self._first_cells()
        most, best = 0.0, None
        for _ in range(ROUNDS):
            sizes, reach = self.sizes(way, at), cell.max(axis=1)[way]
            here, within = worth(way, np.array([sizes, sizes + reach]).swapaxes(0, 1))
            first = int(here.argmax())
            if here[first] > most:
                most, best = float(here[first]), (way[first], at[first])
            live = np.flatnonzero(within > most * (1 + CLOSE_PART))
            if len(live) == 0:
                break
            if len(live) > KEPT_CELLS:
                likely = worth(way[live], sizes[:, live] + reach[live] / 2)
                live = live[np.argpartition(-likely, KEPT_CELLS)[:KEPT_CELLS]]
            cell = cell / _SPLIT
            at = (at[live, None] + cell[way[live], None] * _PARTS).reshape(-1, 2)
            way = np.repeat(way[live], len(_PARTS))
        if best is None:
            place = self._area.representative_point()
            return Found(way=0, middle=np.array([place.x, place.y]), sizes=np.zeros(2))
        return self._towards_middle(*best, worth)

    def _first_cells(self) -> tuple[Ints, Array, Array]:
        """Ways and middles of cells that cover the room, half their widths and heights (w, 2), all in half blocks.

        A cell is as wide for each way as its words need to be for the same worth.
        """
        extents = (self.high - self.low) / 2
        worths = extents * self.blocks.share[:, None]
        width = np.sqrt(worths.prod(axis=1).sum() / FIRST_CELLS)
        counts = np.ceil(worths / width).astype(np.intp)
        cell = extents / counts
        each = counts.prod(axis=1)
        way = np.repeat(np.arange(len(each)), each)
        number = np.arange(len(way)) - np.repeat(each.cumsum() - each, each)
        row, column = np.divmod(number, counts[way, 0])
        return way, self.low[way] + cell[way] * (2 * np.stack([column, row], axis=1) + 1), cell

    def _towards_middle(self, way: np.intp, at: Array, worth: Worth) -> Found:
        """The words laid as near to the middle of the room as their worth allows."""
        to_middle = (self.low[way] + self.high[way]) / 2 - at
        places, ways = at + _STEPS * to_middle, np.full(len(_STEPS), way)
        sizes = self.sizes(ways, places)
        worths = worth(ways, sizes)
        good = np.flatnonzero(worths >= worths[0] * (1 - CLOSE_PART))
        left = (1.0 - _STEPS[good]) * to_middle * self.blocks.halves_in[way]
        nearest = good[np.hypot(*left.T).argmin()]
        middle = self.places_in(ways[:1], places[nearest, None])[0]
        return Found(way=int(way), middle=middle, sizes=sizes[:, nearest])
