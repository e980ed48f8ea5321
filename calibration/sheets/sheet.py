"""The printed alignment sheet: chequered squares with coded markers, crosses for the hand, rulers and words.

Everything on a page is ink in rectangles, one array of them, from which both picture and PDF are made.
The block of squares is an open pattern (ChArUco: chessboard corners for place, ArUco markers for identity).
"""

from collections.abc import Mapping
from dataclasses import dataclass
from types import MappingProxyType

import numpy as np

from calibration.frames import Array, Gray, SheetInches
from calibration.sheets.lettering import ROWS, Modules, lettered
from calibration.sheets.markers import PRINTED

MOST_SHEETS = 7
COLUMNS, ROWS_OF_SQUARES = 5, 7
SQUARE_IN = 1.4  # a camera of 1920 x 1080 that sees a whole table needs marks as large as this
MARKER_IN = 0.6 * SQUARE_IN
RULER_IN = 8.0
CHECK_SQUARE_IN = COLUMNS * SQUARE_IN
PRINTER_MARGIN_IN = 1 / 4  # common practice: few printers reach nearer to the edge

_HALF_BLOCK = (COLUMNS * SQUARE_IN / 2, ROWS_OF_SQUARES * SQUARE_IN / 2)
_NUMERAL_SQUARE = (0, 2)
_CROSS_SQUARE = (3, 2)
_MARKED = tuple(
    (row, column)
    for row in range(ROWS_OF_SQUARES)
    for column in range(COLUMNS)
    if (row + column) % 2 == 0 and (row, column) != _NUMERAL_SQUARE
)
MARKERS = len(_MARKED)

_LINE_IN = 0.016
_CROSS_ARM_IN = 0.2
_CROSS_WINDOW_IN = 0.8
_TICK_STEP_IN = 1 / 16  # along the arms of a cross: the eye reads by them how far off light lies
_TICK_IN = 0.008
_TICK_REACH_IN = (0.016, 0.032)  # beside an arm, at odd sixteenths and at eighths
_RULER_GAP_IN = 0.07  # from the block to the ruler
_SMALL_IN = 0.0108  # a module of the small words: letters 0.076 in high, those of ordinary 7.5 point print
_LARGE_IN = 0.016


@dataclass(frozen=True, slots=True, kw_only=True)
class Paper:
    """A size of paper, upright. Markers on it are numbered from `first_marker`."""

    name: str
    width_in: float
    height_in: float
    first_marker: int


PAPERS: Mapping[str, Paper] = MappingProxyType(
    {
        # ANSI/ASME Y14.1 size A; ISO 216
        "letter": Paper(name="letter", width_in=8.5, height_in=11.0, first_marker=0),
        "a4": Paper(name="a4", width_in=210 / 25.4, height_in=297 / 25.4, first_marker=MARKERS * MOST_SHEETS),
    }
)
MARKERS_IN_USE = MARKERS * MOST_SHEETS * len(PAPERS)


@dataclass(frozen=True, slots=True, kw_only=True)
class Sheet:
    """Sheet `number` (from 1) of the alignment sheets, on `paper`. Inches from the page's centre, y up."""

    paper: Paper
    number: int

    def __post_init__(self) -> None:
        if not 1 <= self.number <= MOST_SHEETS:
            raise ValueError(f"sheets are numbered 1 to {MOST_SHEETS}, found {self.number}")

    @property
    def corners_in(self) -> SheetInches:
        """(24, 2) corners where four squares meet, row by row from the top left."""
        x = -_HALF_BLOCK[0] + SQUARE_IN * np.arange(1, COLUMNS)
        y = _HALF_BLOCK[1] - SQUARE_IN * np.arange(1, ROWS_OF_SQUARES)
        return SheetInches(np.stack(np.meshgrid(x, y), axis=-1).reshape(-1, 2))

    @property
    def marker_ids(self) -> tuple[int, ...]:
        """The numbers of the markers on this sheet and on no other, of either paper."""
        first = self.paper.first_marker + MARKERS * (self.number - 1)
        return tuple(range(first, first + MARKERS))

    @property
    def marker_corners_in(self) -> Array:
        """(17, 4, 2) corners of each marker: top left, top right, bottom right, bottom left."""
        half = MARKER_IN / 2
        around = np.array([(-half, half), (half, half), (half, -half), (-half, -half)])
        corners: Array = np.array([_centre_of(square) for square in _MARKED])[:, None] + around
        return corners

    @property
    def outline_in(self) -> SheetInches:
        """(4, 2) corners of the page: top left, top right, bottom right, bottom left."""
        x, y = self.paper.width_in / 2, self.paper.height_in / 2
        return SheetInches(np.array([(-x, y), (x, y), (x, -y), (-x, -y)]))

    @property
    def crosses_in(self) -> SheetInches:
        """(5, 2) crosses to put light on by hand: the centre, then as `outline_in`."""
        inset = PRINTER_MARGIN_IN + _CROSS_ARM_IN + _LINE_IN
        corners = self.outline_in - np.sign(self.outline_in) * inset
        return SheetInches(np.vstack([np.zeros((1, 2)), corners]))

    @property
    def ink_in(self) -> Array:
        """(n, 4) left, bottom, right, top of the black rectangles of the page; no two overlap."""
        parts = [
            *_squares(),
            *(_marker(number, square) for number, square in zip(self.marker_ids, _MARKED, strict=True)),
            *(_cross(centre) for centre in self.crosses_in),
            *_inch_ruler(),
            *_centimetre_ruler(),
            *self._words(),
        ]
        return np.vstack(parts)

    def page(self, pixels_per_inch: float) -> Gray:
        """The page as a picture, 255 white, row 0 at the top; its middle is the page's middle.

        Each pixel is the share of it that ink covers, so that edges lie where they should to a hundredth of
        a pixel. The sides are rounded to whole pixels.
        """
        sides_in = (self.paper.width_in, self.paper.height_in)
        width, height = (round(side * pixels_per_inch) for side in sides_in)
        ink = np.zeros((height, width), dtype=np.float32)
        edges = self.ink_in * [1, -1, 1, -1] * pixels_per_inch + [width / 2, height / 2] * 2
        for left, bottom, right, top in edges:
            rows, across = _covered(top, bottom), _covered(left, right)
            window = ink[rows.start : rows.stop, across.start : across.stop]
            window += np.outer(rows.share[: window.shape[0]], across.share[: window.shape[1]])
        page: Gray = np.rint(255 * (1 - ink.clip(0, 1))).astype(np.uint8)
        return page

    def _words(self) -> list[Array]:
        number, paper = self.number, self.paper.name.replace("a4", "A4")
        above, below = _HALF_BLOCK[1] + 0.06, -_HALF_BLOCK[1] - 0.035
        line = (ROWS + 1) * _SMALL_IN
        lines = (
            "Left line: 8 in long. Measure it and type what you find, such as --printed-ruler 7.98in",
            "A B C D mark a 7 in square: sides 7 in, diagonals 9.9 in. If they differ the printer",
            "stretches one way: print again. Print at 100 %, actual size, not fitted to the page.",
        )
        return [
            _centred(lettered(f"^ this edge up ^   Chalkbeam sheet {number}, {paper}   ^ this edge up ^"),
                     0, above + (ROWS + 1) * _LARGE_IN, _LARGE_IN),
            _centred(lettered(str(number))[:7], 0, _centre_of(_NUMERAL_SQUARE)[1] + 0.49, 0.14),
            *(_centred(lettered(words), 0, below - row * line, _SMALL_IN) for row, words in enumerate(lines)),
            *_square_letters(),
        ]  # fmt: skip


@dataclass(frozen=True, slots=True)
class _Span:
    start: int
    stop: int
    share: Array


def _covered(low: float, high: float) -> _Span:
    """The pixels that low..high touches, and the share of each that it covers."""
    start, stop = max(int(np.floor(low)), 0), int(np.ceil(high))
    edges = np.clip(np.arange(start, stop + 1), low, high)
    return _Span(start, stop, np.diff(edges))


def _centre_of(square: tuple[int, int]) -> tuple[float, float]:
    row, column = square
    return (column - (COLUMNS - 1) / 2) * SQUARE_IN, ((ROWS_OF_SQUARES - 1) / 2 - row) * SQUARE_IN


def _box(x: float, y: float, width: float, height: float) -> Array:
    """One rectangle about its centre, shape (1, 4)."""
    return np.array([[x - width / 2, y - height / 2, x + width / 2, y + height / 2]])


def _modules(grid: Modules, left: float, top: float, module: float) -> Array:
    """Rectangles of a grid of modules, neighbours in a row joined."""
    rectangles = []
    for row, modules in enumerate(grid):
        steps = np.flatnonzero(np.diff(np.concatenate([[0], modules.astype(np.int8), [0]])))
        for start, stop in steps.reshape(-1, 2):
            y = top - row * module
            rectangles.append((left + start * module, y - module, left + stop * module, y))
    return np.array(rectangles)


def _centred(grid: Modules, x: float, top: float, module: float) -> Array:
    return _modules(grid, x - grid.shape[1] * module / 2, top, module)


def _squares() -> list[Array]:
    squares = []
    for row in range(ROWS_OF_SQUARES):
        for column in range(COLUMNS):
            if (row + column) % 2 == 1:
                x, y = _centre_of((row, column))
                whole = _box(x, y, SQUARE_IN, SQUARE_IN)
                squares.append(_frame(x, y) if (row, column) == _CROSS_SQUARE else whole)
    return squares


def _frame(x: float, y: float) -> Array:
    """A black square with a white window for the centre cross."""
    band = (SQUARE_IN - _CROSS_WINDOW_IN) / 2
    off = (SQUARE_IN - band) / 2
    return np.vstack(
        [
            _box(x, y + off, SQUARE_IN, band),
            _box(x, y - off, SQUARE_IN, band),
            _box(x - off, y, band, _CROSS_WINDOW_IN),
            _box(x + off, y, band, _CROSS_WINDOW_IN),
        ]
    )


def _marker(number: int, square: tuple[int, int]) -> Array:
    x, y = _centre_of(square)
    return _centred(PRINTED.marker(number), x, y + MARKER_IN / 2, MARKER_IN / PRINTED.modules)


def _cross(centre: Array) -> Array:
    x, y = centre
    arm = _CROSS_ARM_IN - _LINE_IN / 2
    return np.vstack(
        [
            _box(x, y, 2 * _CROSS_ARM_IN, _LINE_IN),
            _box(x, y + (_LINE_IN + arm) / 2, _LINE_IN, arm),
            _box(x, y - (_LINE_IN + arm) / 2, _LINE_IN, arm),
            *_ticks(x, y),
        ]
    )


def _ticks(x: float, y: float) -> list[Array]:
    """Ticks to both sides of each arm."""
    ticks = []
    for step in range(1, int(_CROSS_ARM_IN / _TICK_STEP_IN) + 1):
        along, reach = step * _TICK_STEP_IN, _TICK_REACH_IN[step % 2 == 0]
        off = (_LINE_IN + reach) / 2
        for a, b in ((along, off), (along, -off), (-along, off), (-along, -off)):
            ticks += [_box(x + a, y + b, _TICK_IN, reach), _box(x + b, y + a, reach, _TICK_IN)]
    return ticks


def _inch_ruler() -> list[Array]:
    """Up the left edge: the line to measure, ticks at quarter inches, figures at inches."""
    ticks = 4 * round(RULER_IN) + 1
    reach = {0: 0.16, 1: 0.06, 2: 0.1, 3: 0.06}
    return _ruler(-1, RULER_IN, [reach[n % 4] for n in range(ticks)], {4 * n: str(n) for n in range(9)})


def _centimetre_ruler() -> list[Array]:
    """Up the right edge: 20 cm with ticks at half centimetres."""
    reach = {0: 0.16, 5: 0.12}
    lengths = [reach.get(n // 2 % 10, 0.08) if n % 2 == 0 else 0.05 for n in range(41)]
    return _ruler(1, 20 / 2.54, lengths, {10 * n: str(5 * n) for n in range(5)})


def _ruler(side: int, length: float, ticks: list[float], figures: Mapping[int, str]) -> list[Array]:
    """A line up the page with ticks outwards; the line's ends are the outer edges of its end ticks."""
    x = side * (_HALF_BLOCK[0] + _RULER_GAP_IN)
    pitch = (length - _LINE_IN) / (len(ticks) - 1)
    parts = [_box(x, 0, _LINE_IN, length)]
    for n, reach in enumerate(ticks):
        y = -length / 2 + _LINE_IN / 2 + n * pitch
        parts.append(_box(x + side * (_LINE_IN + reach) / 2, y, reach, _LINE_IN))
        if n in figures:
            grid = lettered(figures[n])[:7]
            figure = x + side * (0.16 + 0.02 + grid.shape[1] * _SMALL_IN / 2 + _LINE_IN / 2)
            parts.append(_centred(grid, figure, y + 3.5 * _SMALL_IN, _SMALL_IN))
    return parts


def _square_letters() -> list[Array]:
    """A, B, C, D beside the corners of the square that shows whether the printer stretches one way."""
    x, y = CHECK_SQUARE_IN / 2 - 0.065, CHECK_SQUARE_IN / 2 + 0.03
    height = 7 * _SMALL_IN
    places = {"A": (-x, y + height), "B": (x, y + height), "C": (x, -y), "D": (-x, -y)}
    return [_centred(lettered(letter)[:7], *place, _SMALL_IN) for letter, place in places.items()]
