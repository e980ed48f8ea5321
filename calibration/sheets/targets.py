"""The still picture that the projector shows for a photo: chequered squares with coded markers, and white
windows in which the printed sheets are laid."""

from dataclasses import dataclass

import numpy as np
import numpy.typing as npt

from calibration.errors import AlignmentError
from calibration.frames import Array, Gray, ScreenPixels
from calibration.sheets.lettering import ROWS, lettered
from calibration.sheets.markers import PROJECTED
from calibration.sheets.sheet import MOST_SHEETS, Paper

_SQUARES_ACROSS = 24
_LEAST_WIDTH_PX = 800  # the modules of a marker are two pixels there
_LEAST_ROWS = 10
_WINDOW = (4, 5)  # squares across and down in the window of an upright sheet
_FEW_SHEETS = 5
_FEW_INSET = (3, 2)  # squares across and down from the rim, which may fall beside the table
_PIXELS_PER_INCH = 30 / 1920  # a share of the picture's width: a table of 64 in is lit
_FREE_BORDER = 0.18  # of a square: the light round a corner that has to be seen
_LIGHT, _DARK = 255, 0


@dataclass(frozen=True, slots=True)
class _Window:
    """A window in whole squares, and how many quarter turns counter-clockwise its sheet has made."""

    column: int
    row: int
    across: int
    down: int
    quarter_turns: int


@dataclass(frozen=True, slots=True, kw_only=True)
class Targets:
    """The frame for a screen of (width, height) pixels and `sheets` sheets of `paper`.

    The lowest `dark_rows` rows of squares, one at most, stay dark for words, with all that is below them.
    Raises AlignmentError where a screen or a number of sheets leaves no room.
    """

    screen_px: tuple[int, int]
    sheets: int
    paper: Paper
    dark_rows: int = 0

    def __post_init__(self) -> None:
        width, height = self.screen_px
        if not 0 <= self.dark_rows <= 1:  # the windows leave one row free
            raise ValueError(f"one row at most is free for words, found {self.dark_rows} asked for")
        if not 1 <= self.sheets <= MOST_SHEETS:
            raise AlignmentError(
                f"found {self.sheets} sheets asked for; there are 1 to {MOST_SHEETS}: ask for so many"
            )
        if height > width:
            raise AlignmentError(
                f"the screen is {width}x{height}; it must be wider than high: turn its picture to landscape"
            )
        if width < _LEAST_WIDTH_PX or self._shape[0] < _LEAST_ROWS:
            raise AlignmentError(
                f"the screen is {width}x{height}; the marks need {_LEAST_WIDTH_PX}x450 or more, with 7 or "
                "more of height to 16 of width: choose a larger screen mode"
            )

    @property
    def square_px(self) -> int:
        """The side of a projected square, an even number of projector pixels."""
        return 2 * (self.screen_px[0] // (2 * _SQUARES_ACROSS))

    @property
    def windows(self) -> tuple[ScreenPixels, ...]:
        """Where each sheet is meant to lie, sheet 1 first, each (4, 2) projector pixels.

        The corners of the page itself: its top left, top right, bottom right, bottom left, so that
        their order tells how a sheet is turned. The window reaches further than the page on all sides.
        """
        return tuple(self._page_in(window) for window in self._windows)

    @property
    def marker_places(self) -> dict[int, Array]:
        """Projected markers by number: (4, 2) corners in projector pixels from the top left, clockwise.

        The number tells the square in the picture, whatever windows there are.
        """
        module = _module_px(self.square_px)
        side = PROJECTED.modules * module
        start = (self.square_px - side) // 2
        around = np.array([(0, 0), (side, 0), (side, side), (0, side)])
        return {
            number: self._edges(column, row) + start + around - 0.5
            for number, (column, row) in self._marked.items()
        }

    @property
    def markers_in_use(self) -> int:
        """Numbers of projected markers are less than this."""
        rows, columns = self._shape
        return (rows * columns + 1) // 2

    @property
    def corners_px(self) -> ScreenPixels:
        """(n, 2) places where four projected squares meet, row by row from the top left.

        The edge between pixels k - 1 and k lies at k - 1/2, since (0, 0) is the centre of a pixel.
        """
        taken = np.pad(self._taken, 1)
        rows, columns = np.nonzero(~(taken[1:, 1:] | taken[1:, :-1] | taken[:-1, 1:] | taken[:-1, :-1]))
        return ScreenPixels(self._edges(columns, rows) - 0.5)

    def frame(self) -> Gray:
        """The picture, (height, width), to be shown pixel by pixel."""
        width, height = self.screen_px
        across = (np.arange(width) - self._start[0]) // self.square_px
        down = (np.arange(height) - self._start[1]) // self.square_px
        picture = np.where((across + down[:, None]) % 2 == 0, _LIGHT, _DARK).astype(np.uint8)
        for number, place in self.marker_places.items():
            grid = np.kron(
                PROJECTED.marker(number), np.ones((_module_px(self.square_px),) * 2, dtype=np.bool_)
            )
            left, top = np.rint(place[0] + 0.5).astype(int)
            picture[top : top + len(grid), left : left + len(grid)][grid] = _DARK
        for number, window in enumerate(self._windows, start=1):
            left, top = self._edges(window.column, window.row).astype(int)
            picture_of_window = self._window_picture(number, window)
            height_px, width_px = picture_of_window.shape
            picture[top : top + height_px, left : left + width_px] = picture_of_window
        picture[self.dark_from_px :] = _DARK
        return picture

    @property
    def dark_from_px(self) -> int:
        """The row of pixels at which the dark for words begins; the screen's height without any."""
        return self._start[1] + (self._shape[0] - 1) * self.square_px if self.dark_rows else self.screen_px[1]

    @property
    def _shape(self) -> tuple[int, int]:
        """Rows and columns of whole squares, dark ones too; a part of a square stays round them."""
        columns, rows = ((side - 2 * self._margin(side)) // self.square_px for side in self.screen_px)
        return rows, columns

    @property
    def _start(self) -> tuple[int, int]:
        """The pixel at which the first whole square begins."""
        return self._margin(self.screen_px[0]), self._margin(self.screen_px[1])

    def _margin(self, side_px: int) -> int:
        """So much of a square at the rim that its corners can still be seen."""
        rest = side_px % self.square_px
        return (rest if rest >= self.square_px / 2 else rest + self.square_px) // 2

    def _edges(self, columns: npt.ArrayLike, rows: npt.ArrayLike) -> Array:
        """The pixels (.., 2) at which squares begin."""
        steps = np.stack([columns, rows], axis=-1).astype(np.float64)
        edges: Array = np.array(self._start) + steps * self.square_px
        return edges

    @property
    def _taken(self) -> np.ndarray[tuple[int, ...], np.dtype[np.bool_]]:
        """Which whole squares are inside a window or dark."""
        inside = np.zeros(self._shape, dtype=np.bool_)
        for window in self._windows:
            rows = slice(window.row, window.row + window.down)
            inside[rows, window.column : window.column + window.across] = True
        inside[self._shape[0] - self.dark_rows :] = True
        return inside

    @property
    def _marked(self) -> dict[int, tuple[int, int]]:
        """Column and row of the light squares that carry a marker, by its number."""
        taken = self._taken
        light = np.argwhere(np.indices(self._shape).sum(axis=0) % 2 == 0).tolist()
        return {number: (column, row) for number, (row, column) in enumerate(light) if not taken[row, column]}

    @property
    def _windows(self) -> list[_Window]:
        rows, columns = self._shape
        across, down = _WINDOW
        few = self.sheets <= _FEW_SHEETS
        left = _FEW_INSET[0] if few else 1
        top = _FEW_INSET[1] if few and rows > 2 * (_FEW_INSET[1] + across) else 1
        right, bottom = columns - left - down, rows - top - across
        middle = (columns - across) // 2
        corners = [
            _Window(left, top, down, across, 1),
            _Window(right, bottom, down, across, 3),
            _Window(right, top, down, across, 3),
            _Window(left, bottom, down, across, 1),
        ]
        if few:
            return [_Window(middle, (rows - down) // 2, across, down, 0), *corners][: self.sheets]
        low = _Window(middle, rows - 1 - down, across, down, 0)
        inner = [middle] if self.sheets == 6 else [left + down + 1, right - across - 1]
        return [low, *corners, *(_Window(column, 1, across, down, 0) for column in inner)]

    def _page_in(self, window: _Window) -> ScreenPixels:
        scale = self.screen_px[0] * _PIXELS_PER_INCH / 2
        x, y = self.paper.width_in * scale, self.paper.height_in * scale
        page = np.array([(-x, -y), (x, -y), (x, y), (-x, y)])
        for _ in range(window.quarter_turns):
            page = page[:, ::-1] * [1, -1]
        middle = self._edges(window.column, window.row)
        middle = middle + np.array([window.across, window.down]) * self.square_px / 2 - 0.5
        return ScreenPixels(middle + page)

    def _window_picture(self, number: int, window: _Window) -> Gray:
        """White, with the words along the end where the page's top belongs, out of the sheet's way."""
        across, down = sorted((window.across, window.down))
        picture = np.full((down * self.square_px, across * self.square_px), _LIGHT, dtype=np.uint8)
        module = max(1, self.square_px // 40)
        words = np.kron(lettered(f"^ sheet {number} here ^"), np.ones((module, module), dtype=np.bool_))
        left = (picture.shape[1] - words.shape[1]) // 2
        picture[module * 2 : module * (2 + ROWS), left : left + words.shape[1]][words] = _DARK
        turned: Gray = np.rot90(picture, window.quarter_turns)
        return turned


def _module_px(square_px: int) -> int:
    """Pixels along a module: whole, and the marker leaves `_FREE_BORDER` of the square free on all sides."""
    return int(square_px * (1 - 2 * _FREE_BORDER)) // PROJECTED.modules
