"""A drafted piece with all that is marked on it, and several of them side by side on one sheet."""

import math
from collections.abc import Callable, Iterable, Iterator, Sequence
from dataclasses import dataclass, replace
from typing import Final

import numpy as np
import shapely

from patterns.curves import Array
from patterns.cutting.drafted import DraftedPattern, DraftedPiece
from patterns.cutting.labels import Label
from patterns.cutting.marks import Line, lines_of
from patterns.cutting.placement import Placement
from patterns.errors import PatternError
from patterns.paper.drawing import edge_words, piece_words
from patterns.paper.svg import LETTER_PART

GAP_IN: Final = 0.5  # between what is marked of two pieces, and round them all
_TRIES: Final = 16  # widths of a sheet


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class MarkedPiece:
    """A piece as it lies at `placement` on a sheet, in inches (x right, y **up**): its lines, its words, its edges'."""

    piece: DraftedPiece
    placement: Placement
    lines: tuple[Line, ...]
    words: tuple[Label, ...]
    edge_words: tuple[Label, ...]

    @property
    def opened(self) -> bool:
        """Whether both halves of a piece on the fold are there."""
        return self.placement.opened and self.piece.fold is not None

    @property
    def all_words(self) -> tuple[Label, ...]:
        """Those of the piece, then those of its edges."""
        return (*self.words, *self.edge_words)

    @property
    def box_in(self) -> tuple[Array, Array]:
        """(2,) the lowest and the highest coordinates that any mark reaches."""
        corners = np.concatenate([*(line.points for line in self.lines), *map(label_corners, self.all_words)])
        return corners.min(axis=0), corners.max(axis=0)

    def moved(self, shift_in: Array) -> "MarkedPiece":
        """The same, `shift_in` (2,) further on."""
        x, y = (self.placement.x_in + float(shift_in[0]), self.placement.y_in + float(shift_in[1]))
        return replace(
            self,
            placement=replace(self.placement, x_in=x, y_in=y),
            lines=tuple(replace(line, points=line.points + shift_in) for line in self.lines),
            words=_moved(self.words, shift_in),
            edge_words=_moved(self.edge_words, shift_in),
        )


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Spread:
    """Pieces that lie side by side on a sheet of `size_in`, none over another.

    The sheet's top left corner is at nought, so that all of it has y of 0 and below.
    """

    name: str
    size_in: tuple[float, float]
    pieces: tuple[MarkedPiece, ...]

    @property
    def half_round_in(self) -> float:
        """Half the inches round the sheet: little for one that is small and not too long to print."""
        return sum(self.size_in)


def marked_pieces(
    pattern: DraftedPattern, names: Sequence[str] = (), *, opened: bool = False
) -> tuple[MarkedPiece, ...]:
    """The pieces so named, or all, with their marks; `opened` out to both halves, or as they are drafted.

    Raises PatternError, naming every one that the pattern does not have.
    """
    unknown = [name for name in names if name not in pattern.pieces]
    if unknown:
        raise PatternError(
            f"{pattern.name} has no piece {' or '.join(unknown)}; it has {', '.join(pattern.pieces)}"
        )
    placement = Placement(opened=opened)
    return tuple(
        _marked(piece, placement, pattern)
        for piece in pattern.pieces.values()
        if not names or piece.name in names
    )


def _marked(piece: DraftedPiece, placement: Placement, pattern: DraftedPattern) -> MarkedPiece:
    words = piece_words(piece, placement, pattern.name)
    return MarkedPiece(
        piece=piece,
        placement=placement,
        lines=lines_of(piece, placement),
        words=words,
        edge_words=edge_words(piece, placement, pattern.say, words),
    )


def spread(
    name: str, pieces: Sequence[MarkedPiece], cost: Callable[[Spread], float] = lambda one: one.half_round_in
) -> Spread:
    """The pieces in rows on that sheet, of those tried, which costs least: the handiest one, if nothing is said."""
    boxes = [piece.box_in for piece in pieces]
    widths = [float((high - low)[0]) + GAP_IN for low, high in boxes]
    tried = np.unique(np.linspace(max(widths), sum(widths), _TRIES if len(pieces) > 1 else 1))
    return min((_in_rows(name, pieces, boxes, float(width)) for width in tried), key=cost)


def _in_rows(
    name: str, pieces: Sequence[MarkedPiece], boxes: Sequence[tuple[Array, Array]], width_in: float
) -> Spread:
    """In rows at most so wide, the tallest first, each at the top of its row."""
    tallest_first = sorted(range(len(pieces)), key=lambda i: -float((boxes[i][1] - boxes[i][0])[1]))
    placed = dict(_shifts(tallest_first, boxes, width_in))
    laid = tuple(piece.moved(placed[i]) for i, piece in enumerate(pieces))
    far = np.array([placed[i] + (boxes[i][1][0], boxes[i][0][1]) for i in placed])
    size = float(far[:, 0].max()) + GAP_IN, -float(far[:, 1].min()) + GAP_IN
    return Spread(name=name, size_in=size, pieces=laid)


def _shifts(
    order: Iterable[int], boxes: Sequence[tuple[Array, Array]], width_in: float
) -> Iterator[tuple[int, Array]]:
    """How far each piece, by its number, is to be moved."""
    across, top, below = 0.0, -GAP_IN, -GAP_IN
    for i in order:
        low, high = boxes[i]
        wide, tall = (high - low).tolist()
        if across > 0 and across + wide + GAP_IN > width_in + 1e-9:
            across, top = 0.0, below - GAP_IN
        yield i, np.array([across + GAP_IN, top]) - (low[0], high[1])
        across += wide + GAP_IN
        below = min(below, top - tall)


def label_corners(label: Label) -> Array:
    """(4, 2) corners, in order, of the box round a label, as wide as the widest typefaces run."""
    along = label.along * len(label.text) * LETTER_PART * label.height_in / 2
    up = np.array([-label.along[1], label.along[0]]) * label.height_in / math.sqrt(2)
    return np.stack(
        [label.at + sign * along + rise * up for sign, rise in ((1, 1), (1, -1), (-1, -1), (-1, 1))]
    )


def as_string(line: Line) -> shapely.LineString:
    """The line in the sheet's inches, a closed one back to where it began."""
    points = np.concatenate([line.points, line.points[:1]]) if line.closed else line.points
    return shapely.LineString(points)


def _moved(labels: Iterable[Label], shift_in: Array) -> tuple[Label, ...]:
    return tuple(replace(label, at=label.at + shift_in) for label in labels)
