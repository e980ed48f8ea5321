"""A piece and its placement -> the lines and words to show, in surface inches.

The signs are the trade's: a bracket with two arrows on to the fold, a grainline with an arrowhead at both
ends, short clips for notches, the seam line within the cut line.
"""

from collections.abc import Iterable
from dataclasses import dataclass
from enum import Enum
from functools import lru_cache
from typing import Final

import numpy as np

from patterns.curves import Array
from patterns.cutting.drafted import DraftedPiece
from patterns.cutting.labels import Label, labels_of
from patterns.cutting.placement import Placement, both_halves
from patterns.cutting.signs import arrowhead, fold_bracket

TICK_GAP_IN: Final = 0.25  # between the cut line and the tick, so that the tick is never cut
TICK_IN: Final = 1.25
_MIRRORED: Final = np.array([-1.0, 1.0])  # what a half's points are multiplied by for the other half


class LineKind(Enum):
    """What a line means; the look gives it dash and strength."""

    CUT = "cut"
    SEAM = "seam"
    FOLD = "fold"
    FOLD_SIGN = "fold sign"
    FOLD_TICK = "fold tick"
    CENTRE = "centre"
    GRAIN = "grain"
    NOTCH = "notch"
    CLIP = "clip"


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Line:
    """One line: `points` (n, 2) surface inches, the last not repeating the first where it is `closed`."""

    kind: LineKind
    points: Array
    closed: bool = False


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Marks:
    """All that is shown of one placed piece."""

    lines: tuple[Line, ...]
    labels: tuple[Label, ...]

    def of_kind(self, kind: LineKind) -> tuple[Line, ...]:
        """The lines of one kind."""
        return tuple(line for line in self.lines if line.kind is kind)


def marks_of(piece: DraftedPiece, placement: Placement) -> Marks:
    """The piece's marks as placed.

    A piece on the fold shows its cut line as an open path from one end of the fold to the other, because the
    fold must never be cut; opened out, both halves as one closed outline. `opened` says nothing of a piece
    without a fold: it is always whole.
    """
    return Marks(lines=lines_of(piece, placement), labels=labels_of(piece, placement))


def lines_of(piece: DraftedPiece, placement: Placement) -> tuple[Line, ...]:
    """The lines of the piece as placed, without its words, whose place takes longer to find."""
    return tuple(
        Line(kind=line.kind, points=placement.placed(line.points), closed=line.closed)
        for line in piece_lines(piece, placement.opened)
    )


@lru_cache(maxsize=256)
def piece_lines(piece: DraftedPiece, opened: bool) -> tuple[Line, ...]:
    """The lines in piece inches; a piece is moved far more often than it is drafted."""
    both = opened and piece.fold is not None
    if piece.fold is None:
        outlines: Iterable[Line] = (
            Line(kind=LineKind.SEAM, points=piece.seam_line, closed=True),
            Line(kind=LineKind.CUT, points=piece.cut_line, closed=True),
        )
    elif both:
        outlines = (
            Line(kind=LineKind.SEAM, points=both_halves(piece.seam_line), closed=True),
            Line(kind=LineKind.CUT, points=both_halves(piece.cut_line), closed=True),
            Line(kind=LineKind.CENTRE, points=piece.cut_line[[0, -1]]),
        )
    else:
        outlines = (
            Line(kind=LineKind.SEAM, points=piece.seam_line),
            Line(kind=LineKind.CUT, points=piece.cut_line),
            *_fold_lines(piece),
        )
    small = [
        Line(kind=LineKind.NOTCH, points=clip)
        for notch in piece.notches
        for half in notch.clips
        for clip in ((half, half * _MIRRORED) if both else (half,))
    ]
    small += [
        Line(kind=LineKind.CLIP, points=clip)
        for half in piece.clips
        for clip in ((half, half * _MIRRORED) if both and half[0, 0] != 0.0 else (half,))
    ]
    return (*outlines, *small, *_grain_lines(piece))


def _fold_lines(piece: DraftedPiece) -> list[Line]:
    ends = piece.cut_line[[0, -1]]
    bracket = fold_bracket(piece)
    top, bottom = sorted(ends[:, 1].tolist())
    ticks = (
        [[0.0, top - TICK_GAP_IN], [0.0, top - TICK_GAP_IN - TICK_IN]],
        [[0.0, bottom + TICK_GAP_IN], [0.0, bottom + TICK_GAP_IN + TICK_IN]],
    )
    return [
        Line(kind=LineKind.FOLD, points=ends),
        Line(kind=LineKind.FOLD_SIGN, points=bracket),
        *(
            Line(kind=LineKind.FOLD_SIGN, points=arrowhead(tip, foot - tip))
            for tip, foot in ((bracket[0], bracket[1]), (bracket[3], bracket[2]))
        ),
        *(Line(kind=LineKind.FOLD_TICK, points=np.array(tick)) for tick in ticks),
    ]


def _grain_lines(piece: DraftedPiece) -> list[Line]:
    if piece.grain is None:
        return []
    low, high = piece.grain
    return [
        Line(kind=LineKind.GRAIN, points=piece.grain),
        Line(kind=LineKind.GRAIN, points=arrowhead(low, high - low)),
        Line(kind=LineKind.GRAIN, points=arrowhead(high, low - high)),
    ]
