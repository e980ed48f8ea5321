"""One reach of a piece in light: bright what is cut now, dim a little beyond, and a sign where the reach ends."""

from collections.abc import Sequence
from dataclasses import replace
from functools import lru_cache
from typing import Final

import numpy as np

from calibration.frames import Array
from patterns.cutting.drafted import DraftedPiece
from patterns.cutting.labels import Label
from patterns.cutting.marks import Line, LineKind, lines_of
from patterns.cutting.placement import Placement
from projector.cloth.laid_pieces import LaidPieces
from projector.cloth.reach_labels import reach_labels
from projector.cloth.reach_split import cut_path
from projector.cloth.reaches import LAP_IN, Reaches
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
AFTER_IN: Final = 0.9  # the words are beyond the sign, where nothing is cut yet


def part_in(laid: LaidPieces, reaches: Reaches, number: int) -> Array:
    """(n, 2) table inches of the cut line that is shown in a reach, counted from 0: with what is seen beyond it."""
    path = cut_path(laid.piece, laid.placement)
    along, reach = reaches.along_in(laid.placement.lifted(path)), reaches.reaches[number]
    part: Array = path[(along >= reach.start_in - LAP_IN / 2) & (along <= reach.end_in + LAP_IN / 2)]
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
    words = labels_light(tuple(reach_labels(piece, placement, reaches, number, person, states)), lit)
    return (
        *look.seen(tuple(lines)),
        *look.seen(words),
        *look.seen(_end(piece, placement, reaches, number, lit, person)),
    )


@lru_cache(maxsize=16)
def _chalked(
    piece: DraftedPiece, opened: bool, reaches: Reaches, number: int, span_in: float, look: Look
) -> tuple[Chalk, Chalk]:
    """What is cut in the reach, and what is seen beyond it, in piece inches."""
    reach, lines = reaches.reaches[number], lines_of(piece, Placement(opened=opened))
    last = number + 1 == len(reaches.reaches)
    start = -np.inf if number == 0 else reach.start_in
    end = np.inf if last else reach.end_in
    beyond = [(start - LAP_IN / 2, start), (end, end + LAP_IN / 2)]
    bright = chalk(_between(lines, reaches, start, end), span_in, look)
    shown = chalk([line for ends in beyond for line in _between(lines, reaches, *ends)], span_in, look)
    dim = replace(
        shown, styles=tuple((replace(style, light=DIM * style.light), n) for style, n in shown.styles)
    )
    return _as_piece(bright), _as_piece(dim)


def _as_piece(drawn: Chalk) -> Chalk:
    """What was placed at the origin, where y is up, in piece inches."""
    return replace(drawn, points_in=drawn.points_in * (1.0, -1.0))


def _between(lines: tuple[Line, ...], reaches: Reaches, low: float, high: float) -> list[Line]:
    """The parts of placed-at-the-origin lines between two places along the piece."""
    found = []
    for line in lines:
        path = np.vstack([line.points, line.points[:1]]) if line.closed else line.points
        along = reaches.along_in(path * (1.0, -1.0))
        if along.min() >= low and along.max() <= high:
            found.append(line)
        elif line.kind not in WHOLE and along.max() > low and along.min() < high:
            found += [Line(kind=line.kind, points=part) for part in _parts(path, along, low, high)]
    return found


WHOLE: Final = (LineKind.NOTCH, LineKind.CLIP)  # what is made in one snip belongs to one reach


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


def _end(
    piece: DraftedPiece, placement: Placement, reaches: Reaches, number: int, lit: LitArea, person: Person
) -> Drawing:
    """Two bars across each cut line where the reach ends, a line with teeth over the piece, and words beyond it."""
    if number + 1 == len(reaches.reaches):
        return ()
    path = cut_path(piece, placement)
    away = reaches.along_in(placement.lifted(path)) - reaches.reaches[number].end_in
    crossing = np.flatnonzero((away[1:] >= 0) != (away[:-1] >= 0))
    if not len(crossing):
        return ()
    share = away[crossing] / (away[crossing] - away[crossing + 1])
    spots = path[crossing] + share[:, None] * (path[crossing + 1] - path[crossing])
    onward = placement.direction(np.array(reaches.along))
    across = np.array([-onward[1], onward[0]])
    order = np.argsort(spots @ across)
    first, last = spots[order[0]], spots[order[-1]]
    bars = [
        spot + onward * APART_IN * beyond + across * STOP_IN * np.array([[-1.0], [1.0]])
        for spot in spots
        for beyond in (0.0, 1.0)
    ]
    teeth = _teeth(*_ends_of_break(first, last, across, piece, placement), onward)
    middle = (1 - SAID_PART) * teeth[0] + SAID_PART * teeth[-1]
    said = Label(
        text=f"reach {number + 1} of {len(reaches.reaches)} ends here",
        at=middle + AFTER_IN * onward,
        height_in=SAID_IN,
        along=_readable(across, person),
    )
    return (
        *stroked(bars, STOP, lit),
        *stroked([teeth], BREAK, lit),
        *label_light(said, SAID_LIGHT, lit),
    )


def _ends_of_break(
    first: Array, last: Array, across: Array, piece: DraftedPiece, placement: Placement
) -> tuple[Array, Array]:
    """From cut line to cut line; of a half with one, to its fold."""
    if np.hypot(*(last - first)) > STOP_IN:
        return first, last
    fold = placement.placed(piece.cut_line[[0, -1]])
    step = fold[1] - fold[0]
    side = step[0] * across[1] - step[1] * across[0]
    if piece.fold is None or abs(side) < 1e-9:
        return first - across * STOP_IN, first + across * STOP_IN
    gap = fold[0] - first
    return first, first + across * (step[0] * gap[1] - step[1] * gap[0]) / side


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
