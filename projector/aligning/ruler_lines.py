"""The four lines of the ruler test: where they lie in the light, and how they look.

Two lengths, one across and one away from the person, run along the edges of the light, where an alignment is
worst; the diagonals of a square lie between them. All are whole inches long, so that the tape needs no sums.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import datetime
from math import floor, sqrt
from typing import Final

import numpy as np

from calibration.frames import Array
from calibration.trust.ruler_test import RulerTest
from patterns.cutting.labels import Label
from projector.errors import ProjectorError
from projector.lighting.light import Chalk, chalk_light, label_light, subdivided
from projector.lighting.lit_area import LitArea
from projector.lighting.look import LineStyle
from projector.lighting.strokes import Drawing, joined
from projector.person import Person, room_across

LONGEST_IN: Final = 60  # a sewing tape's length
SHORTEST_IN: Final = 4  # a shorter line says too little about the table
EDGE_IN: Final = 1.0  # free at the edges of the light
STRIP_ROOM_IN: Final = 4.5  # for the words at the near edge, and a tape beside the line above them
CORNER_IN: Final = 3.0  # between the two lengths, and from them to the square
TICK_IN: Final = 1.0  # from end to end, across the line
NUMBER_IN: Final = 1.5
NUMBER_OFF_IN: Final = 1.5  # from its line
STEPS: Final = 9

CHOSEN: Final = LineStyle(width_in=1 / 32, light=1.0)  # thin: the tape is read at the middle of the tick
WAITING: Final = LineStyle(width_in=1 / 32, light=0.2)
SIDE: Final = LineStyle(width_in=1 / 32, light=0.08, dash_in=(1 / 4, 1 / 2))
NUMBER_LIGHTS: Final = (0.8, 0.2)


@dataclass(frozen=True, slots=True, kw_only=True)
class RulerLine:
    """A line between two table points, in inches."""

    start_in: tuple[float, float]
    end_in: tuple[float, float]

    @property
    def length_in(self) -> float:
        """How long it is on the table: whole inches."""
        return float(round(np.hypot(*self.along_in)))

    @property
    def along_in(self) -> Array:
        """(2,) inches from start to end."""
        along: Array = np.subtract(self.end_in, self.start_in)
        return along


@dataclass(frozen=True, slots=True, kw_only=True)
class RulerLines:
    """The lengths across and away, and the two diagonals of the square, in the order they are asked for."""

    lengths: tuple[RulerLine, RulerLine]
    diagonals: tuple[RulerLine, RulerLine]

    @property
    def all(self) -> tuple[RulerLine, ...]:
        """All four."""
        return (*self.lengths, *self.diagonals)

    @property
    def outline_in(self) -> Array:
        """(n, 2) table inches: what the words must keep off."""
        return np.array([point for line in self.all for point in (line.start_in, line.end_in)])

    def tested(self, taped_in: Sequence[float], tested_on: datetime) -> RulerTest:
        """The test, from what the tape said of each; AlignmentError where it can only be a misreading."""
        across, away, *diagonals = (
            (line.length_in, taped) for line, taped in zip(self.all, taped_in, strict=True)
        )
        return RulerTest(tested_on=tested_on, lengths=(across, away), diagonals=tuple(diagonals))


def ruler_lines(lit: LitArea, person: Person) -> RulerLines:
    """As long as the light allows; ProjectorError where it is too small to be held against a tape."""
    left, near, right, far = _room(lit, person)
    inner_left, inner_near = left + CORNER_IN, near + CORNER_IN
    across, away = right - inner_left, far - inner_near
    diagonal = _whole(sqrt(2) * min(across, away))
    middle = np.array([inner_left + across / 2, inner_near + away / 2])
    half = np.full(2, diagonal / sqrt(8))
    falling = half * (1, -1)

    def line(start: tuple[float, float] | Array, way: tuple[float, float] | Array) -> RulerLine:
        ends = person.on_table(np.array([start, np.add(start, way)]))
        (x0, y0), (x1, y1) = ends.tolist()
        return RulerLine(start_in=(x0, y0), end_in=(x1, y1))

    return RulerLines(
        lengths=(
            line((inner_left, near), (_whole(across), 0.0)),
            line((left, inner_near), (0.0, _whole(away))),
        ),
        diagonals=(
            line(middle - half, 2 * half),
            line(middle - falling, 2 * falling),
        ),
    )


def ruler_light(lines: RulerLines, chosen: int, lit: LitArea, person: Person) -> Drawing:
    """The lines with their ticks and numbers, the chosen one brightest; the square's sides hardly."""
    drawn: list[Drawing] = []
    for number, line in enumerate(lines.all):
        is_chosen = number == chosen
        drawn.append(_chalk(_with_ticks(line), CHOSEN if is_chosen else WAITING, lit))
        drawn.append(label_light(_number(number, line, lines, person), NUMBER_LIGHTS[not is_chosen], lit))
    return tuple(part for drawing in (_chalk(_sides(lines), SIDE, lit), *drawn) for part in drawing)


def _room(lit: LitArea, person: Person) -> tuple[float, float, float, float]:
    """Left, near, right and far end of the largest box in the light above the strip, as the person sees it.

    Where the light is a trapezium or askew, a lower box may be a wider one: the largest of a few is taken.
    """
    border = person.seen(lit.border_in)
    lowest, highest = border[:, 1].min() + STRIP_ROOM_IN, border[:, 1].max() - EDGE_IN
    insets = np.linspace(0.0, 0.4, STEPS) * (highest - lowest)
    best, most = (0.0, 0.0, 0.0, 0.0), 0.0
    for near in lowest + insets:
        for far in highest - insets:
            room = room_across(border, near, far)
            if room is None:
                continue
            left, right = room[0] + EDGE_IN, room[1] - EDGE_IN
            area = (right - left - CORNER_IN) * (far - near - CORNER_IN)
            if right - left > CORNER_IN and far - near > CORNER_IN and area > most:
                best, most = (left, float(near), right, float(far)), area
    return best


def _whole(room_in: float) -> int:
    length = min(LONGEST_IN, floor(room_in))
    if length < SHORTEST_IN:
        raise ProjectorError(
            f"the light leaves {max(room_in, 0.0):.1f} in for a line, and a ruler test needs {SHORTEST_IN} in; "
            "make the picture larger and align again"
        )
    return length


def _with_ticks(line: RulerLine) -> list[Array]:
    start, end = np.array(line.start_in), np.array(line.end_in)
    tick = _left_of(line) * TICK_IN / 2
    return [
        np.array([start, end]),
        np.array([start - tick, start + tick]),
        np.array([end - tick, end + tick]),
    ]


def _sides(lines: RulerLines) -> list[Array]:
    """The square whose diagonals are measured."""
    rising, falling = lines.diagonals
    corners = np.array([rising.start_in, falling.end_in, rising.end_in, falling.start_in, rising.start_in])
    return [corners[side : side + 2] for side in range(4)]


def _number(number: int, line: RulerLine, lines: RulerLines, person: Person) -> Label:
    """Beside the line's middle; a diagonal's near its start, clear of the other. All away from the edges."""
    share = 1 / 2 if line in lines.lengths else 1 / 5
    at = np.array(line.start_in) + share * line.along_in
    off = _left_of(line) * NUMBER_OFF_IN
    inwards = off if (lines.outline_in.mean(axis=0) - at) @ off >= 0 else -off
    return Label(text=str(number + 1), at=at + inwards, height_in=NUMBER_IN, along=person.axes[0])


def _left_of(line: RulerLine) -> Array:
    x, y = line.along_in / np.hypot(*line.along_in)
    return np.array([-y, x])


def _chalk(paths: Sequence[Array], style: LineStyle, lit: LitArea) -> Drawing:
    points, ends = joined([subdivided(path, lit.span_in) for path in paths])
    return chalk_light(Chalk(points_in=points, ends=ends, styles=((style, len(paths)),)), lit)
