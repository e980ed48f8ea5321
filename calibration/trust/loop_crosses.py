"""Crosses of light for the white margins of the sheets, in dark squares on a white frame that lights the print.

A cross is drawn on whole pixels, all white or all black: grey would shift it by the projector's curve of tones.
So its place is what those pixels' place is on the table, a half pixel or less from the middle of the margin.
"""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

import numpy as np

from calibration.errors import AlignmentError
from calibration.frames import Array, Gray, SheetInches
from calibration.sheets.sheet import COLUMNS, RULER_IN, SQUARE_IN, Paper, Sheet
from calibration.solving.joint_model import lie
from calibration.table.saved import Alignment

ARM_IN = 0.18
_HALF_LINE_IN = 0.035  # fine for the eye, and seen by a webcam
_HALF_DARK_IN = 0.3  # of a dark square, that keeps to the white of the page
_FREE_IN = 0.1  # beyond the ruler, for its last figure
_LEAST_CROSSES = 3
_WHITE, _BLACK = 255, 0


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class LoopCross:
    """One cross of light on a sheet: its centre, the end of its arm right and that of its arm down on the screen.

    (3, 2) each: `screen_px`, half between pixels; `table_in`, where the map sends them; `on_sheet_in`, true
    inches on the sheet, if it lies where it was.
    """

    sheet: int
    screen_px: Array
    table_in: Array
    on_sheet_in: Array


def margin_places(paper: Paper) -> SheetInches:
    """(4, 2) inches as drawn: between the rulers' ends and the corner crosses, where a page is white."""
    corners = Sheet(paper=paper, number=1).crosses_in[1:]
    x = (COLUMNS * SQUARE_IN / 2 + paper.width_in / 2) / 2
    low, high = RULER_IN / 2 + _FREE_IN, np.abs(corners[:, 1]).min() - 0.2
    return SheetInches(np.sign(corners) * (x, (low + high) / 2))


def loop_crosses(alignment: Alignment, paper: Paper) -> tuple[LoopCross, ...]:
    """The crosses that the light reaches, sheet by sheet; raises AlignmentError where there are too few."""
    drawn = margin_places(paper) * alignment.printed_scale
    arm, dark = _pixels(alignment, ARM_IN), _pixels(alignment, _HALF_DARK_IN)
    size = np.array(alignment.map.screen_px)
    crosses = []
    for number, (x, y, turn_deg) in enumerate(alignment.sheet_places, start=1):
        place = np.array((x, y, np.deg2rad(turn_deg)))
        for middle in alignment.map.screen_from_table(lie(place, drawn)):
            centre = np.rint(middle + 0.5) - 0.5
            if (centre < dark).any() or (centre > size - 1 - dark).any():
                continue
            screen = centre + arm * np.array([(0, 0), (1, 0), (0, 1)])
            table = alignment.map.table_from_screen(screen)
            c, s = np.cos(place[2]), np.sin(place[2])
            on_sheet = (table - place[:2]) @ np.array([[c, -s], [s, c]])
            crosses.append(LoopCross(sheet=number, screen_px=screen, table_in=table, on_sheet_in=on_sheet))
    if len(crosses) < _LEAST_CROSSES:
        raise AlignmentError(
            f"The light reaches the margins of the saved sheets at {len(crosses)} places; {_LEAST_CROSSES} are "
            "needed: align from a photo of sheets that lie within the light"
        )
    return tuple(crosses)


def loop_frame(alignment: Alignment, paper: Paper) -> Gray:
    """The frame to project, (height, width): white, with each cross in its dark square."""
    width, height = alignment.map.screen_px
    frame = np.full((height, width), _WHITE, dtype=np.uint8)
    line, arm, dark = (_pixels(alignment, inches) for inches in (_HALF_LINE_IN, ARM_IN, _HALF_DARK_IN))
    for cross in loop_crosses(alignment, paper):
        column, row = np.rint(cross.screen_px[0] + 0.5).astype(int)
        for across, down, value in ((dark, dark, _BLACK), (arm, line, _WHITE), (line, arm, _WHITE)):
            frame[row - down : row + down, column - across : column + across] = value
    return frame


def by_sheet(crosses: Sequence[LoopCross]) -> Mapping[int, tuple[LoopCross, ...]]:
    """The crosses of each sheet."""
    numbers = sorted({cross.sheet for cross in crosses})
    return {number: tuple(cross for cross in crosses if cross.sheet == number) for number in numbers}


def _pixels(alignment: Alignment, inches: float) -> int:
    """Whole pixels, at least one, that a length takes at the picture's middle."""
    found = alignment.map
    middle = (np.array(found.screen_px) - 1) / 2
    around = found.table_from_screen(middle + np.array([(0, 0), (1, 0), (0, 1)]))
    pixel_in = np.linalg.norm(around[1:] - around[0], axis=1).mean()
    return max(round(inches / float(pixel_in)), 1)
