"""Marks that crosses of light are moved on to by hand: crossings of a ruled mat, or crosses of printed sheets."""

from dataclasses import dataclass

import numpy as np

from calibration.errors import AlignmentError
from calibration.frames import Array
from calibration.sheet import Paper, Sheet

_FEWEST_LINES = 3
_ACROSS = 5  # crossings offered along each side of a mat
_CORNER_NAMES = ("top left", "top right", "bottom right", "bottom left")


@dataclass(frozen=True, slots=True, kw_only=True)
class HandMark:
    """One mark: `at_in` from the origin of its sheet (a mat is sheet 1), x right, y up."""

    name: str
    sheet: int
    at_in: tuple[float, float]


def mat_marks(pitch_in: float, size_in: tuple[float, float]) -> tuple[HandMark, ...]:
    """Crossings spread over a mat of (width, height), its four corners first; origin at its near left corner.

    Raises AlignmentError where the mat has too few lines.
    """
    if pitch_in <= 0 or min(size_in) < (_FEWEST_LINES - 1) * pitch_in:
        raise AlignmentError(
            f"a mat of {size_in[0]:g} x {size_in[1]:g} in ruled every {pitch_in:g} in has too few lines; "
            f"{_FEWEST_LINES} or more each way are needed: check the pitch and the size"
        )
    columns, rows = (_spread(int(np.floor(side / pitch_in + 1e-9))) for side in size_in)
    # corners, then the middle and the middles of the sides, then the rest from the outside in
    grid = sorted(
        ((i, j) for i in columns for j in rows),
        key=lambda ij: _rank(ij[0] / columns[-1], ij[1] / rows[-1]),
    )
    return tuple(
        HandMark(name=f"{i} across, {j} up", sheet=1, at_in=(i * pitch_in, j * pitch_in)) for i, j in grid
    )


def sheet_marks(paper: Paper, sheets: int) -> tuple[HandMark, ...]:
    """The corner crosses and the centre cross of each sheet, sheet 1 first."""
    marks = []
    for number in range(1, sheets + 1):
        centre, *corners = Sheet(paper=paper, number=number).crosses_in
        named = [*zip(_CORNER_NAMES, corners, strict=True), ("centre", centre)]
        marks += [
            HandMark(name=f"sheet {number}, {name}", sheet=number, at_in=(float(x), float(y)))
            for name, (x, y) in named
        ]
    return tuple(marks)


def _spread(lines: int) -> list[int]:
    return sorted({round(i * lines / (_ACROSS - 1)) for i in range(_ACROSS)})


def _rank(across: float, up: float) -> tuple[int, float]:
    """Sorts corners round, then middles, then by how far from the middle."""
    ends = sum(side in (0.0, 1.0) for side in (across, up))
    middle: Array = np.abs(np.array([across, up]) - 0.5)
    if ends == 2:
        return 0, float(np.arctan2(0.5 - up, across - 0.5)) % (2 * np.pi)
    if middle.min() < 0.1 and (ends == 1 or middle.max() < 0.1):
        return 1, float(middle.max())
    return 2, -float(middle.max())
