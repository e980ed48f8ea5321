"""An alignment as a picture to keep: the table from above, how true the light is where, and how far marks were off."""

from collections.abc import Sequence
from dataclasses import dataclass, field
from pathlib import Path
from typing import Final

import cv2
import numpy as np
import shapely
from shapely import Polygon

from calibration.frames import Array
from calibration.table.saved import Alignment
from patterns.measures import in_words
from projector.lighting.ink import Filled, Ink, Lines, Pixels, Rgb, arrow, page, words
from projector.lighting.letters import words_width
from projector.lighting.lit_area import LitArea, lit_area
from projector.outputs import write_bytes
from projector.pictures.forecast_areas import GRADES, Area, Forecast, Grade, areas_of
from projector.pictures.forecast_light import boundaries_of, hatched
from projector.pictures.table_view import (
    MARGIN_PX,
    WIDTH_PX,
    View,
    mat_outline_in,
    sheet_outlines_in,
    view_of,
)
from projector.trust import rounded_up
from projector.words.messages import wrapped
from projector.words.strip_rows import BETWEEN

SMALLEST_PNG: Final = 9  # compression level

INK: Final[Rgb] = (28, 32, 44)
QUIET: Final[Rgb] = (92, 100, 118)
HATCH: Final[Rgb] = (184, 190, 202)
PAPER: Final[Rgb] = (238, 241, 246)
NUMERAL: Final[Rgb] = (196, 203, 216)
OFF: Final[Rgb] = (178, 34, 24)  # beside grey and by its shape

TITLE_PX, WORDS_PX, SMALL_PX = 30.0, 17.0, 14.0
LINE: Final = 2.0  # base line to base line, in letter heights
ROOM_PX: Final = 28.0
SWATCH_PX: Final = (116.0, 58.0)
HATCH_PX: Final = 1.0
ARROW_PX: Final = 1.5
HEAD_PX: Final = 8.0
RING_ROOM_PX: Final = 10.0
BESIDE_PX: Final = 16.0
ARROW_IN: Final = 1.25  # on the picture's table, for a mark that is off more than 19 of 20 are
SCALE_IN: Final = 1 / 64  # of the scale's arrow
ROUND: Final = (1, 2, 5)
RULER_IN: Final = 12
NUMERAL_IN: Final = 2.0


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Known:
    """What the picture shows of an alignment.

    `arrows_in` (n, 4) are x, y, dx, dy in table inches: where each mark should lie, and how far off it is seen;
    none where nothing is known of them any more. `warnings` are what else there is to be told.
    """

    alignment: Alignment
    arrows_in: Array = field(default_factory=lambda: np.zeros((0, 4)))
    warnings: tuple[str, ...] = ()


def write_alignment_picture(path: Path, known: Known) -> None:
    """Write the picture as a PNG file."""
    pixels = alignment_picture(known)
    done, content = cv2.imencode(".png", pixels[:, :, ::-1], [cv2.IMWRITE_PNG_COMPRESSION, SMALLEST_PNG])
    if not done:
        raise OSError(f"{path}: the picture could not be encoded")
    write_bytes(path, content.tobytes())


def alignment_picture(known: Known) -> Pixels:
    """(h, w, 3) red, green, blue."""
    alignment = known.alignment
    lit = lit_area(alignment.map)
    heading, below_px = _heading(known)
    view = view_of(alignment, lit, below_px + ROOM_PX)
    areas = areas_of(Forecast.of(alignment), lit)
    inks = [*heading, *_table(alignment, lit, areas, view), *_arrows(known, view)]
    legend, end_px = _legend(known, view)
    return page((WIDTH_PX, round(end_px + MARGIN_PX)), [*inks, *legend])


def round_factor(arrows_in: Array) -> float:
    """How many times longer than true the arrows are drawn: 1, 2 or 5 times a power of ten.

    >>> round_factor(np.array([[0.0, 0.0, 0.003, 0.004]]))
    200.0
    """
    usual_in = float(np.quantile(np.hypot(*arrows_in[:, 2:].T), 0.95))
    if usual_in == 0:
        return 1.0
    power = 10.0 ** np.floor(np.log10(ARROW_IN / usual_in))
    return max(float(part * power) for part in ROUND if part * power * usual_in <= ARROW_IN)


def arrow_words(known: Known) -> str:
    """What the arrows mean, and which mark is farthest off, by where it lies."""
    arrows_in = known.arrows_in
    if not len(arrows_in):
        return "How far each mark was off is not kept in a table file; align with --picture shows it."
    lengths_in = np.hypot(*arrows_in[:, 2:].T)
    worst = int(lengths_in.argmax())
    where = _where_words(known.alignment, arrows_in[worst, :2])
    return (
        f"this long: a mark {in_words(SCALE_IN, 64)} off its place (drawn {round_factor(arrows_in):g} times larger)"
        f"{BETWEEN}worst mark (ringed): {where}, {lengths_in[worst]:.3f} in off"
    )


def _where_words(alignment: Alignment, place_in: Array) -> str:
    """The line of a mat, the sheet, or the light that a mark at (2,) table inches belongs to."""
    if alignment.mat:
        across, up = np.rint(place_in / alignment.mat[0]).astype(int).tolist()
        return f"{across} across, {up} up"
    place = shapely.Point(place_in)
    sheets = [number for number, sheet in enumerate(sheet_outlines_in(alignment), 1) if sheet.contains(place)]
    return f"on sheet {sheets[0]}" if sheets else "in the light"


def arrow_ends(arrows_in: Array, view: View) -> tuple[Array, Array]:
    """(n, 2) page pixels where each arrow starts, and where its tip is."""
    tips_in = arrows_in[:, :2] + round_factor(arrows_in) * arrows_in[:, 2:]
    return view.on_page(arrows_in[:, :2]), view.on_page(tips_in)


def _heading(known: Known) -> tuple[list[Ink], float]:
    """Name, date, claim, verdict and warnings, and how far down the page they reach."""
    alignment = known.alignment
    on = alignment.aligned_on
    facts = (
        f"aligned {on.day} {on:%B %Y, %H:%M}",
        _counted(alignment.photos, "photo") if alignment.photos else "by hand",
        "a ruled mat" if alignment.mat else _counted(alignment.sheets, "sheet"),
        _counted(alignment.marks, "mark"),
        f"95 % of errors within {rounded_up(alignment.p95_in)} ({alignment.p95_in:.3f} in)",
    )
    across = (WIDTH_PX - 2 * MARGIN_PX) / WORDS_PX
    said = "\n".join((alignment.verdict, BETWEEN.join(known.warnings))).rstrip()
    rows = [
        (f"Alignment “{alignment.name}”", TITLE_PX, INK),
        *((line, WORDS_PX, QUIET) for line in wrapped(BETWEEN.join(facts), across)),
        *((line, WORDS_PX, INK) for line in wrapped(said, across)),
    ]
    down = MARGIN_PX - TITLE_PX
    inks: list[Ink] = []
    for text, height, colour in rows:
        down += height * LINE
        inks.append(words(text, (MARGIN_PX, down), height, colour))
    return inks, down


def _counted(count: int, what: str) -> str:
    return f"{count} {what}" if count == 1 else f"{count} {what}s"


def _table(alignment: Alignment, lit: LitArea, areas: Sequence[Area], view: View) -> list[Ink]:
    """Sheets or the mat, hatching and the areas' edges."""
    laid = [mat_outline_in(alignment.mat)] if alignment.mat else sheet_outlines_in(alignment)
    outlines = [view.on_page(shapely.get_coordinates(sheet)) for sheet in laid]
    lines = [view.on_page(path) for area in areas for path in hatched(area, alignment.turn_deg, Polygon())]
    edges = [view.on_page(path) for path in boundaries_of(areas, lit, Polygon())]
    border = view.on_page(np.vstack([lit.border_in, lit.border_in[:1]]))
    numerals = [] if alignment.mat else _numerals(alignment, view)
    return [
        *(Filled(contours=[outline], colour=PAPER) for outline in outlines),
        *numerals,
        Lines(paths=lines, width_px=HATCH_PX, colour=HATCH),
        Lines(paths=edges, width_px=1.5, colour=QUIET),
        Lines(paths=outlines, width_px=1, colour=QUIET),
        Lines(paths=[border], width_px=2.5, colour=INK),
    ]


def _numerals(alignment: Alignment, view: View) -> list[Ink]:
    """The sheets' numbers, where they lie."""
    height = NUMERAL_IN * view.px_per_in
    inks: list[Ink] = []
    for number, (x, y, _) in enumerate(alignment.sheet_places, start=1):
        ((across, down),) = view.on_page(np.array([[x, y]])).tolist()
        left = across - words_width(str(number)) * height / 2
        inks.append(words(str(number), (left, down + height / 2), height, NUMERAL))
    return inks


def _arrows(known: Known, view: View) -> list[Ink]:
    """An arrow from where each mark should lie, and a ring round the worst."""
    if not len(known.arrows_in):
        return []
    starts, tips = arrow_ends(known.arrows_in, view)
    inks = [ink for start, tip in zip(starts, tips, strict=True) for ink in _off_arrow(start, tip)]
    worst = int(np.hypot(*known.arrows_in[:, 2:].T).argmax())
    reach = float(np.hypot(*(tips[worst] - starts[worst]))) / 2 + RING_ROOM_PX
    turn = np.linspace(0, 2 * np.pi, 60)
    ring = (starts[worst] + tips[worst]) / 2 + reach * np.column_stack([np.cos(turn), np.sin(turn)])
    return [*inks, Lines(paths=[ring], width_px=2, colour=OFF)]


def _off_arrow(start: Array, tip: Array) -> tuple[Ink, ...]:
    return arrow(start, tip, ARROW_PX, HEAD_PX, OFF)


def _legend(known: Known, view: View) -> tuple[list[Ink], float]:
    """What the hatching and the arrows mean, and where on the page it ends."""
    below = view.bottom_px + ROOM_PX
    side = words("near side of the table", (MARGIN_PX, below), SMALL_PX, QUIET)
    inks: list[Ink] = [side, *_ruler(view, below)]
    top = below + ROOM_PX
    column = (WIDTH_PX - 2 * MARGIN_PX) / len(GRADES)
    for number, grade in enumerate(GRADES):
        left = MARGIN_PX + number * column
        inks += _swatch(grade, left, top, view.px_per_in)
        base = top + (SWATCH_PX[1] + WORDS_PX) / 2
        inks.append(words(" ".join(grade.words), (left + SWATCH_PX[0] + BESIDE_PX, base), WORDS_PX, INK))
    base = top + SWATCH_PX[1] + ROOM_PX + WORDS_PX
    left = float(MARGIN_PX)
    if len(known.arrows_in):
        start = np.array([left, base - WORDS_PX / 2])
        length = SCALE_IN * round_factor(known.arrows_in) * view.px_per_in
        inks += _off_arrow(start, start + (length, 0))
        left += length + BESIDE_PX
    inks.append(words(arrow_words(known), (left, base), WORDS_PX, INK if len(known.arrows_in) else QUIET))
    return inks, base


def _swatch(grade: Grade, left: float, top: float, px_per_in: float) -> list[Ink]:
    """A sample of the hatching as the table's picture has it."""
    width, height = (side / px_per_in for side in SWATCH_PX)
    sample = Area(grade=grade, outline=shapely.box(0, 0, width, height))
    lines = [
        path * (px_per_in, -px_per_in) + (left, top + SWATCH_PX[1])
        for path in hatched(sample, 0.0, Polygon())
    ]
    frame = np.array([(0, 0), (1, 0), (1, 1), (0, 1), (0, 0)]) * SWATCH_PX + (left, top)
    return [
        Lines(paths=lines, width_px=HATCH_PX, colour=HATCH),
        Lines(paths=[frame], width_px=1.5, colour=QUIET),
    ]


def _ruler(view: View, top_px: float) -> list[Ink]:
    """A foot of the table, under its right end."""
    text = f"{RULER_IN} in"
    right = WIDTH_PX - MARGIN_PX - words_width(text) * SMALL_PX - BESIDE_PX
    left = right - RULER_IN * view.px_per_in
    middle = top_px - SMALL_PX / 2
    ticks = [np.array([(x, middle - 6), (x, middle + 6)]) for x in (left, right)]
    bar = np.array([(left, middle), (right, middle)])
    return [
        Lines(paths=[bar, *ticks], width_px=2, colour=QUIET),
        words(text, (right + BESIDE_PX, top_px), SMALL_PX, QUIET),
    ]
