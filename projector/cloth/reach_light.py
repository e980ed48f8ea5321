"""One reach of a piece in light: bright what is cut now, dim a little beyond, and a sign where the reach ends."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from functools import lru_cache
from typing import Final

import numpy as np
import shapely

from calibration.frames import Array
from patterns.cutting.drafted import DraftedPiece
from patterns.cutting.labels import Label
from patterns.cutting.marks import Line, LineKind, lines_of
from patterns.cutting.placement import Placement
from projector.cloth.laid_pieces import outline_in
from projector.cloth.reach_labels import reach_labels
from projector.cloth.reach_split import cut_path
from projector.cloth.reaches import LAP_IN, Block, Reaches
from projector.lighting.letters import words_width
from projector.lighting.light import Chalk, chalk, chalk_light, label_light, labels_light
from projector.lighting.lit_area import LitArea
from projector.lighting.look import LineStyle
from projector.lighting.looks import USUAL, Look
from projector.lighting.strokes import Drawing
from projector.person import Person
from projector.tracing.light import stroked

DIM: Final = 0.3  # of its own light: what is cut in another reach
STOP: Final = LineStyle(width_in=1 / 12, light=1.0)  # across the cut line, where the blade stops
BREAK: Final = LineStyle(width_in=1 / 32, light=0.4)  # from there to there over the piece: it goes on
STOP_IN: Final = 0.6  # half the length of a stop
APART_IN: Final = 0.25  # between the two bars of a stop
TEETH_IN: Final = (5.0, 0.8)  # of the break line: as far apart, as high
SAID_IN: Final = 0.6
SAID_PART: Final = 0.35  # of the way over the piece: clear of grain and fold
SAID_LIGHT: Final = 0.5
JUST_IN: Final = 0.01
AROUND: Final = ((-1, -1), (1, -1), (1, 1), (-1, 1), (-1, -1))
AFTER_IN: Final = 0.9  # the words are beyond the sign, where nothing is cut yet


def part_in(piece: DraftedPiece, placement: Placement, reaches: Reaches, number: int) -> Array:
    """(n, 2) table inches of the cut line that is shown in a reach, counted from 0: with what is seen beyond it."""
    path = cut_path(piece, placement)
    part: Array = path[reaches.block(number, LAP_IN / 2).holds(placement.lifted(path))]
    return part


def reach_light(
    piece: DraftedPiece,
    placement: Placement,
    reaches: Reaches,
    number: int,
    lit: LitArea,
    person: Person,
    states: Sequence[str],
    look: Look = USUAL,
) -> Drawing:
    """The lines of a reach, counted from 0, as the piece lies; its name and `states` on it; the sign where it ends."""
    bright, dim = _chalked(piece, placement.opened, reaches, number, lit.span_in, look)
    lines = [
        stroke
        for drawn in (dim, bright)
        for stroke in chalk_light(replace(drawn, points_in=placement.placed(drawn.points_in)), lit)
    ]
    signs = end_signs(piece, placement, reaches, number, person)
    words = labels_light(tuple(reach_labels(piece, placement, reaches, number, person, states)), lit)
    return (
        *look.seen(tuple(lines)),
        *look.seen(words),
        *look.seen(tuple(stroke for sign in signs for stroke in _end_light(sign, lit))),
    )


@lru_cache(maxsize=16)
def _chalked(
    piece: DraftedPiece, opened: bool, reaches: Reaches, number: int, span_in: float, look: Look
) -> tuple[Chalk, Chalk]:
    """What is cut in the reach, and what is seen beyond it, in piece inches."""
    block, lines = reaches.block(number), lines_of(piece, Placement(opened=opened))
    margins = block.margins(LAP_IN / 2)
    bright = chalk(_within(lines, block), span_in, look)
    shown = chalk([line for margin in margins for line in _within(lines, margin)], span_in, look)
    dim = replace(
        shown, styles=tuple((replace(style, light=DIM * style.light), n) for style, n in shown.styles)
    )
    return _as_piece(bright), _as_piece(dim)


def _as_piece(drawn: Chalk) -> Chalk:
    """What was placed at the origin, where y is up, in piece inches."""
    return replace(drawn, points_in=drawn.points_in * (1.0, -1.0))


def _within(lines: Sequence[Line], block: Block) -> list[Line]:
    """The parts of placed-at-the-origin lines in a block of the piece."""
    found = list(lines)
    for direction, (low, high) in ((block.along, block.along_in), (block.across, block.across_in)):
        found = [part for line in found for part in _between(line, direction, low, high)]
    return found


def _between(line: Line, direction: Array, low: float, high: float) -> list[Line]:
    """Its parts between two places in a direction (2,), piece inches."""
    path = np.vstack([line.points, line.points[:1]]) if line.closed else line.points
    at = path * (1.0, -1.0) @ direction
    if at.min() >= low and at.max() <= high:
        return [line]
    if line.kind in WHOLE:
        return [line] if low <= at[0] < high else []
    if at.max() <= low or at.min() >= high:
        return []
    return [Line(kind=line.kind, points=part) for part in _parts(path, at, low, high)]


WHOLE: Final = (
    LineKind.NOTCH,
    LineKind.CLIP,
)  # what is made in one snip belongs to one reach: where it begins


def _parts(path: Array, along: Array, low: float, high: float) -> list[Array]:
    """The runs of a path on which `along` (n,) is between two values, cut where it passes them."""
    points, values = [path[0]], [along[0]]
    for one, other, start, end in zip(path[:-1], path[1:], along[:-1], along[1:], strict=True):
        for bound in sorted((low, high), reverse=bool(end < start)):
            if min(start, end) < bound < max(start, end):
                points.append(one + (bound - start) / (end - start) * (other - one))
                values.append(bound)
        points.append(other)
        values.append(end)
    middles = (np.array(values[1:]) + np.array(values[:-1])) / 2
    inside = (middles >= low) & (middles <= high)
    runs: list[list[Array]] = []
    for k in np.flatnonzero(inside).tolist():
        if not runs or not inside[k - 1] or k == 0:
            runs.append([points[k]])
        runs[-1].append(points[k + 1])
    return [np.array(run) for run in runs]


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class EndSign:
    """Where the blade stops at a side of a reach, in table inches.

    `bars` are two across each cut line, (2, 2) each; `teeth` a line over the piece; the words lie beyond it.
    """

    bars: tuple[Array, ...]
    teeth: Array
    said: Label

    @property
    def taken_in(self) -> Array:
        """(n, 2) points about it, that other words keep off."""
        half = np.array([words_width(self.said.text), 1.0]) * self.said.height_in / 2
        along = self.said.along
        away = np.array([-along[1], along[0]])
        box = [self.said.at + x * half[0] * along + y * half[1] * away for x, y in AROUND]
        return np.vstack([*self.bars, self.teeth, *box])


@lru_cache(maxsize=16)
def end_signs(
    piece: DraftedPiece, placement: Placement, reaches: Reaches, number: int, person: Person
) -> tuple[EndSign, ...]:
    """One at each side of a reach, counted from 0, beyond which a later one goes on."""
    return tuple(_end_signs(piece, placement, reaches, number, person))


def _end_signs(
    piece: DraftedPiece, placement: Placement, reaches: Reaches, number: int, person: Person
) -> Iterator[EndSign]:
    block, path = reaches.block(number), placement.lifted(cut_path(piece, placement))
    whole = shapely.Polygon(placement.lifted(outline_in(piece, placement))).buffer(0)
    for outward, ends in block.sides:
        spots = _crossings(path, outward, ends)
        later = [reaches.reach_at(spot + JUST_IN * outward) > number for spot in spots]
        spots, across = spots[np.array(later, dtype=bool)], placement.direction(ends[1] - ends[0])
        if not len(spots):
            continue
        onward, across = placement.direction(outward), across / np.hypot(*across)
        over = shapely.get_coordinates(whole.intersection(shapely.LineString(ends)))
        over = placement.placed(np.vstack([over, spots]))
        first, last = over[(over @ across).argmin()], over[(over @ across).argmax()]
        yield EndSign(
            bars=tuple(
                spot + onward * APART_IN * beyond + across * STOP_IN * np.array([[-1.0], [1.0]])
                for spot in placement.placed(spots)
                for beyond in (0.0, 1.0)
            ),
            teeth=_teeth(first, last, onward),
            said=Label(
                text=f"reach {number + 1} of {len(reaches.reaches)} ends here",
                at=(1 - SAID_PART) * first + SAID_PART * last + AFTER_IN * onward,
                height_in=SAID_IN,
                along=_readable(across, person),
            ),
        )


def _end_light(sign: EndSign, lit: LitArea) -> Drawing:
    return (
        *stroked(sign.bars, STOP, lit),
        *stroked([sign.teeth], BREAK, lit),
        *label_light(sign.said, SAID_LIGHT, lit),
    )


def _crossings(path: Array, outward: Array, ends: Array) -> Array:
    """(n, 2) where a path passes over a side of a block, whose direction out and ends these are."""
    away, along = (path - ends[0]) @ outward, ends[1] - ends[0]
    crossing = np.flatnonzero((away[1:] >= 0) != (away[:-1] >= 0))
    share = away[crossing] / (away[crossing] - away[crossing + 1])
    spots: Array = path[crossing] + share[:, None] * (path[crossing + 1] - path[crossing])
    at = (spots - ends[0]) @ along / (along @ along)
    passed: Array = spots[(at >= 0) & (at <= 1)]
    return passed


def _teeth(start: Array, end: Array, onward: Array) -> Array:
    """(n, 2) from start to end with a tooth to and fro in each `TEETH_IN`: a line that says that a drawing goes on."""
    length = float(np.hypot(*(end - start)))
    count = max(1, round(length / TEETH_IN[0]))
    at, high = [0.0], [0.0]
    for number in range(count):
        middle = (number + 0.5) / count
        at += [middle + step * TEETH_IN[1] / length for step in (-0.5, -0.17, 0.17, 0.5)]
        high += [0.0, TEETH_IN[1] / 2, -TEETH_IN[1] / 2, 0.0]
    along = np.array([*at, 1.0])
    teeth: Array = start + along[:, None] * (end - start) + np.array([*high, 0.0])[:, None] * onward
    return teeth


def _readable(along: Array, person: Person) -> Array:
    """The direction or its opposite, whichever is read from left to right."""
    right, away = person.seen(along[None])[0].tolist()
    return along if right > 1e-9 or (abs(right) <= 1e-9 and away > 0) else -along
