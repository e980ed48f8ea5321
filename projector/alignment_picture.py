"""An alignment as a picture to keep: the table from above, how true the light is where, and how far marks were off."""

from collections.abc import Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import Final

import cv2
import numpy as np
import shapely
from shapely import Polygon

from calibration.frames import Array
from calibration.saved import Alignment
from calibration.sheet import PAPERS, Sheet
from patterns.measures import in_words
from projector.forecast_areas import GRADES, Area, Forecast, Grade, areas_of
from projector.forecast_light import boundaries_of, hatched
from projector.ink import Filled, Ink, Lines, Pixels, Rgb, arrow, page, words
from projector.letters import words_width
from projector.lit_area import LitArea, lit_area
from projector.messages import wrapped
from projector.outputs import write_bytes
from projector.person import Person
from projector.trust import rounded_up

WIDTH_PX: Final = 1600
MARGIN_PX: Final = 64
MOST_TABLE_PX: Final = (WIDTH_PX - 2 * MARGIN_PX, 1000)
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
HEAD_PX: Final = 8.0
ARROW_IN: Final = 1.25  # on the picture's table, for a mark that is off more than 19 of 20 are
SCALE_IN: Final = 1 / 64  # of the scale's arrow
ROUND: Final = (1, 2, 5)
RULER_IN: Final = 12
NUMERAL_IN: Final = 2.0


@dataclass(frozen=True, slots=True, kw_only=True)
class View:
    """Table inches to page pixels: the table turned so that the person's side is below."""

    person: Person
    px_per_in: float
    left_top_in: tuple[float, float]  # as the person sees it
    left_top_px: tuple[float, float]

    def on_page(self, table_in: Array) -> Array:
        """(n, 2) page pixels of (n, 2) table inches."""
        seen = self.person.seen(table_in) - self.left_top_in
        pixels: Array = seen * (self.px_per_in, -self.px_per_in) + self.left_top_px
        return pixels


def write_alignment_picture(path: Path, alignment: Alignment, arrows_in: Array | None = None) -> None:
    """Write the picture as a PNG file; `arrows_in` as for `alignment_picture`."""
    pixels = alignment_picture(alignment, arrows_in)
    done, content = cv2.imencode(".png", pixels[:, :, ::-1], [cv2.IMWRITE_PNG_COMPRESSION, SMALLEST_PNG])
    if not done:
        raise OSError(f"{path}: the picture could not be encoded")
    write_bytes(path, content.tobytes())


def alignment_picture(alignment: Alignment, arrows_in: Array | None = None) -> Pixels:
    """(h, w, 3) pixels of the picture.

    `arrows_in` (n, 4) are x, y, dx, dy in table inches: where each mark should lie, and how far off it is seen;
    None where nothing is known of them any more.
    """
    lit = lit_area(alignment.map)
    areas = areas_of(Forecast.of(alignment), lit)
    heading, below_px = _heading(alignment)
    view, bottom_px = _view(alignment, lit, below_px + ROOM_PX)
    inks = [*heading, *_table(alignment, lit, areas, view)]
    if arrows_in is not None and len(arrows_in):
        inks += _arrows(arrows_in, view)
    legend, end_px = _legend(alignment, arrows_in, view, bottom_px + ROOM_PX)
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


def worst_words(alignment: Alignment, arrows_in: Array) -> str:
    """The mark that is farthest off, by where it lies: "worst mark: on sheet 3, 0.012 in off"."""
    lengths_in = np.hypot(*arrows_in[:, 2:].T)
    worst = int(lengths_in.argmax())
    place = shapely.Point(arrows_in[worst, :2])
    sheets = [n for n, page_in in enumerate(sheet_outlines_in(alignment), start=1) if page_in.contains(place)]
    where = f"on sheet {sheets[0]}" if sheets else "one of light"
    return f"worst mark (ringed): {where}, {lengths_in[worst]:.3f} in off"


def sheet_outlines_in(alignment: Alignment) -> tuple[Polygon, ...]:
    """The pages of the sheets as they lie on the table, sheet 1 first; none where their paper is not known."""
    paper = PAPERS.get(alignment.paper)
    if paper is None:
        return ()
    corners = Sheet(paper=paper, number=1).outline_in
    return tuple(
        Polygon(Person(facing_deg=turn_deg).on_table(corners) + (x, y))
        for x, y, turn_deg in alignment.sheet_places
    )


def _heading(alignment: Alignment) -> tuple[list[Ink], float]:
    """Name, date, claim and verdict, and how far down the page they reach."""
    on = alignment.aligned_on
    looked = _counted(alignment.photos, "photo") if alignment.photos else "by hand"
    on_what = "a ruled mat" if alignment.mat else _counted(alignment.sheets, "sheet")
    facts = (
        f"aligned {on.day} {on:%B %Y, %H:%M}  ·  {looked}, {on_what}, {_counted(alignment.marks, 'mark')}"
        f"  ·  95 % of errors within {rounded_up(alignment.p95_in)} ({alignment.p95_in:.3f} in)"
    )
    across = (WIDTH_PX - 2 * MARGIN_PX) / WORDS_PX
    rows = [(f"Alignment “{alignment.name}”", TITLE_PX, INK)]
    rows += [(facts, WORDS_PX, QUIET)]
    rows += [(line, WORDS_PX, INK) for line in wrapped(alignment.verdict, across)]
    down = MARGIN_PX - TITLE_PX
    inks: list[Ink] = []
    for text, height, colour in rows:
        down += height * LINE
        inks.append(words(text, (MARGIN_PX, down), height, colour))
    return inks, down


def _counted(count: int, what: str) -> str:
    return f"{count} {what}" if count == 1 else f"{count} {what}s"


def _view(alignment: Alignment, lit: LitArea, top_px: float) -> tuple[View, float]:
    """The light as large as the page allows, and where on the page it ends."""
    person = Person(facing_deg=alignment.turn_deg)
    seen = person.seen(lit.border_in)
    low, high = seen.min(axis=0), seen.max(axis=0)
    scale = float((np.array(MOST_TABLE_PX) / (high - low)).min())
    width, height = (high - low) * scale
    view = View(
        person=person,
        px_per_in=scale,
        left_top_in=(float(low[0]), float(high[1])),
        left_top_px=((WIDTH_PX - float(width)) / 2, top_px),
    )
    return view, top_px + float(height)


def _table(alignment: Alignment, lit: LitArea, areas: Sequence[Area], view: View) -> list[Ink]:
    """Sheets or the mat, hatching and the areas' edges."""
    laid = [_mat_in(alignment.mat)] if alignment.mat else sheet_outlines_in(alignment)
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


def _mat_in(mat: tuple[float, float, float]) -> Polygon:
    """The ruled part of a mat, whose near left corner is the table's origin."""
    _, width, height = mat
    return shapely.box(0, 0, width, height)


def _numerals(alignment: Alignment, view: View) -> list[Ink]:
    """The sheets' numbers, where they lie."""
    height = NUMERAL_IN * view.px_per_in
    inks: list[Ink] = []
    for number, (x, y, _) in enumerate(alignment.sheet_places, start=1):
        ((across, down),) = view.on_page(np.array([[x, y]])).tolist()
        left = across - words_width(str(number)) * height / 2
        inks.append(words(str(number), (left, down + height / 2), height, NUMERAL))
    return inks


def _arrows(arrows_in: Array, view: View) -> list[Ink]:
    """An arrow from where each mark should lie, and a ring round the worst."""
    ends_in = arrows_in[:, :2] + round_factor(arrows_in) * arrows_in[:, 2:]
    starts, ends = view.on_page(arrows_in[:, :2]), view.on_page(ends_in)
    inks = [ink for start, end in zip(starts, ends, strict=True) for ink in _off_arrow(start, end)]
    worst = int(np.hypot(*arrows_in[:, 2:].T).argmax())
    reach = float(np.hypot(*(ends[worst] - starts[worst]))) / 2 + 10
    turn = np.linspace(0, 2 * np.pi, 60)
    ring = (starts[worst] + ends[worst]) / 2 + reach * np.column_stack([np.cos(turn), np.sin(turn)])
    return [*inks, Lines(paths=[ring], width_px=2, colour=OFF)]


def _off_arrow(start: Array, end: Array) -> tuple[Ink, ...]:
    return arrow(start, end, 1.5, HEAD_PX, OFF)


def _legend(
    alignment: Alignment, arrows_in: Array | None, view: View, top_px: float
) -> tuple[list[Ink], float]:
    """What the hatching and the arrows mean, and where on the page it ends."""
    side = words("near side of the table", (MARGIN_PX, top_px), SMALL_PX, QUIET)
    inks: list[Ink] = [side, *_ruler(view, top_px)]
    top = top_px + ROOM_PX
    column = (WIDTH_PX - 2 * MARGIN_PX) / len(GRADES)
    for number, grade in enumerate(GRADES):
        left = MARGIN_PX + number * column
        inks += _swatch(grade, left, top, view.px_per_in)
        base = top + (SWATCH_PX[1] + WORDS_PX) / 2
        inks.append(words(" ".join(grade.words), (left + SWATCH_PX[0] + 16, base), WORDS_PX, INK))
    base = top + SWATCH_PX[1] + ROOM_PX + WORDS_PX
    if arrows_in is None or not len(arrows_in):
        said = "How far each mark was off is not kept in a table file; align with --picture shows it."
        return [*inks, words(said, (MARGIN_PX, base), WORDS_PX, QUIET)], base
    factor = round_factor(arrows_in)
    length = SCALE_IN * factor * view.px_per_in
    start = np.array([MARGIN_PX, base - WORDS_PX / 2])
    said = (
        f"this long: a mark {in_words(SCALE_IN, 64)} off its place (drawn {factor:g} times larger)"
        f"  ·  {worst_words(alignment, arrows_in)}"
    )
    inks += [
        *_off_arrow(start, start + (length, 0)),
        words(said, (MARGIN_PX + length + 16, base), WORDS_PX, INK),
    ]
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
    right = WIDTH_PX - MARGIN_PX - words_width(text) * SMALL_PX - 12
    left = right - RULER_IN * view.px_per_in
    middle = top_px - SMALL_PX / 2
    ticks = [np.array([(x, middle - 6), (x, middle + 6)]) for x in (left, right)]
    bar = np.array([(left, middle), (right, middle)])
    return [
        Lines(paths=[bar, *ticks], width_px=2, colour=QUIET),
        words(text, (right + 12, top_px), SMALL_PX, QUIET),
    ]
