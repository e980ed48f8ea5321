"""Marks that crosses of light are moved on to by hand: crossings of a ruled mat, or crosses of printed sheets."""

from dataclasses import dataclass

import numpy as np

from calibration.errors import AlignmentError
from calibration.sheets.sheet import Paper, Sheet

_FEWEST_LINES = 3
_ALONG = (7, 5)  # crossings offered along the longer side of a mat and the shorter
_CORNER_NAMES = ("top left", "top right", "bottom right", "bottom left")


@dataclass(frozen=True, slots=True, kw_only=True)
class HandMark:
    """One mark: `at_in` from the origin of its sheet (a mat is sheet 1), x right, y up."""

    name: str
    sheet: int
    at_in: tuple[float, float]


@dataclass(frozen=True, slots=True, kw_only=True)
class HandCross:
    """A cross of light as it was left on a mark, in projector pixels."""

    mark: HandMark
    at_px: tuple[float, float]


def mat_marks(pitch_in: float, size_in: tuple[float, float]) -> tuple[HandMark, ...]:
    """Crossings spread over a mat of (width, height), its four corners first; origin at its near left corner.

    Raises AlignmentError where the mat has too few lines.
    """
    if pitch_in <= 0 or min(size_in) < (_FEWEST_LINES - 1) * pitch_in:
        raise AlignmentError(
            f"a mat of {size_in[0]:g} x {size_in[1]:g} in ruled every {pitch_in:g} in has too few lines; "
            f"{_FEWEST_LINES} or more each way are needed: check the pitch and the size"
        )
    lines = [int(np.floor(side / pitch_in + 1e-9)) for side in size_in]
    along = _ALONG if lines[0] >= lines[1] else _ALONG[::-1]
    columns, rows = (_spread(most, count) for most, count in zip(lines, along, strict=True))
    near, far, left, right = rows[0], rows[-1], columns[0], columns[-1]
    corners = ((left, near), (right, near), (right, far), (left, far))
    others = [(i, j) for j in rows for i in columns if (i, j) not in corners]
    return tuple(
        HandMark(name=f"{i} across, {j} up", sheet=1, at_in=(i * pitch_in, j * pitch_in))
        for i, j in (*corners, *others)
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


def _spread(lines: int, count: int) -> list[int]:
    return sorted({round(i * lines / (count - 1)) for i in range(count)})
