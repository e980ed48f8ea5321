"""Inches become projector pixels here, and nowhere else."""

import math
from collections.abc import Sequence
from dataclasses import dataclass, replace
from functools import cache, lru_cache
from itertools import groupby

import numpy as np

from calibration.frames import Array, ScreenPixels
from patterns.cutting.labels import LETTER_PART, Label
from patterns.cutting.marks import Line, LineKind, Marks
from projector.lighting.clipping import within_reach
from projector.lighting.dashes import lit_parts
from projector.lighting.letters import Outline, words_outline, words_width
from projector.lighting.lit_area import ROUNDING_IN, LitArea
from projector.lighting.look import LARGE_LETTERS, NOTCH_OUTSIDE_IN, SMALL_LETTERS, LineStyle
from projector.lighting.looks import USUAL, Look
from projector.lighting.strokes import Drawing, Ends, Patch, Stroke, in_plane, in_rows, joined, split

LEAST_RAILS_PX = 4.6  # of two rails with a core between them that is still dark: a rail has 1.3 px of light
LEAST_CORE_PX = 2.0


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Chalk:
    """Lines cut into dashes, in inches: many paths in one array, so that a moved piece is one sum.

    `points_in` (n, 2), `ends` the index past each path's last point; `styles` with how many paths
    each has, in order.
    """

    points_in: Array
    ends: Ends
    styles: tuple[tuple[LineStyle, int], ...]


NO_CHALK = Chalk(points_in=np.zeros((0, 2)), ends=np.zeros(0, np.intp), styles=())


def chalk(lines: Sequence[Line], span_in: float, look: Look = USUAL) -> Chalk:
    """The lit parts of the lines, with points at most `span_in` apart; a rigid move of them stays right."""
    drawn: dict[LineStyle, list[tuple[Array, tuple[float, ...]]]] = {}
    for kind, alike in groupby(lines, key=lambda line: line.kind):
        drawn_paths = [drawn_path(line) for line in alike]
        for style in look.styles(kind):
            # Once cut into dashes, lines that differ in nothing else are drawn as one.
            drawn.setdefault(_undashed(style), []).extend((path, style.dash_in) for path in drawn_paths)
    if not drawn:
        return NO_CHALK
    paths, dashes = zip(*(part for parts in drawn.values() for part in parts), strict=True)
    points, ends, counts = lit_parts(*followed(paths, span_in), dashes)
    of_style = np.add.reduceat(counts, np.cumsum([0, *map(len, drawn.values())])[:-1])
    return Chalk(points_in=points, ends=ends, styles=tuple(zip(drawn, of_style.tolist(), strict=True)))


@cache
def _undashed(style: LineStyle) -> LineStyle:
    return replace(style, dash_in=())


def drawn_path(line: Line) -> Array:
    """The points of a line from its beginning to its end, which is its beginning where it is closed."""
    if line.kind is LineKind.NOTCH:
        return _seen_from_afar(line.points)
    return np.vstack([line.points, line.points[:1]]) if line.closed else line.points


def _seen_from_afar(clip: Array) -> Array:
    """A clip, (2, 2) from the cut edge inwards, begun outside the edge: else it is too short to be seen."""
    (edge_x, edge_y), (end_x, end_y) = clip.tolist()
    longer = NOTCH_OUTSIDE_IN / math.hypot(end_x - edge_x, end_y - edge_y)
    return np.array(
        [[edge_x - (end_x - edge_x) * longer, edge_y - (end_y - edge_y) * longer], [end_x, end_y]]
    )


def chalk_light(drawn: Chalk, lit: LitArea, px_per_in: float | None = None) -> tuple[Stroke, ...]:
    """Chalk in table inches as strokes in projector pixels; a kind that is all off the screen is left out.

    Strokes are as wide as at so many pixels to an inch; without a number, as many as they have on the average.
    """
    visible = _visible(drawn, lit)
    if not len(visible.points_in):
        return ()
    on_screen = lit.projector_map.screen_from_table(visible.points_in)
    scale = _scale(on_screen, visible) if px_per_in is None else px_per_in
    strokes: list[Stroke] = []
    path = point = 0
    for style, paths in visible.styles:
        last = int(visible.ends[path + paths - 1])
        ends, seen = visible.ends[path : path + paths] - point, ScreenPixels(on_screen[point:last])
        strokes.append(_stroke(seen, ends, style, scale))
        path, point = path + paths, last
    return tuple(strokes)


def chalk_scale(drawn: Chalk, lit: LitArea) -> float | None:
    """Pixels to an inch of chalk in table inches, on the average of what is seen; None where nothing is."""
    visible = _visible(drawn, lit)
    if not len(visible.points_in):
        return None
    return _scale(lit.projector_map.screen_from_table(visible.points_in), visible)


def _scale(on_screen: Array, drawn: Chalk) -> float:
    return _length(on_screen, drawn.ends) / _length(drawn.points_in, drawn.ends)


def _stroke(points: ScreenPixels, ends: Ends, style: LineStyle, px_per_in: float) -> Stroke:
    width_px = style.width_in * px_per_in
    if not style.core:
        return Stroke(points=points, ends=ends, width_px=width_px, light=style.light)
    width_px = max(width_px, LEAST_RAILS_PX)
    core_px = max(style.core * width_px, LEAST_CORE_PX)
    return Stroke(points=points, ends=ends, width_px=width_px, light=style.light, core_px=core_px)


def _visible(drawn: Chalk, lit: LitArea) -> Chalk:
    if not len(drawn.points_in) or lit.holds(drawn.points_in):
        return drawn
    points: list[Array] = []
    styles: list[tuple[LineStyle, int]] = []
    paths = split(drawn.points_in, drawn.ends)
    first = 0
    for style, count in drawn.styles:
        parts = within_reach(paths[first : first + count], lit)
        first += count
        points += parts
        styles += [(style, len(parts))] if parts else []
    joined_points, ends = joined(points)
    return Chalk(points_in=joined_points, ends=ends, styles=tuple(styles))


def _length(points: Array, ends: Ends) -> float:
    step = points[1:] - points[:-1]
    length = np.hypot(step[:, 0], step[:, 1])
    length[ends[:-1] - 1] = 0.0
    return float(np.add.reduce(length))


def light(marks: Marks, lit: LitArea) -> Drawing:
    """Marks in table inches as strokes and letters in projector pixels."""
    return (*chalk_light(chalk(marks.lines, lit.span_in), lit), *labels_light(marks.labels, lit))


def labels_light(labels: Sequence[Label], lit: LitArea) -> tuple[Patch, ...]:
    """The words of a piece; those wider than the room counted on are made smaller, all by the same share."""
    share = min((LETTER_PART * len(label.text) / words_width(label.text) for label in labels), default=1.0)
    if share < 1.0:
        labels = [replace(label, height_in=label.height_in * share) for label in labels]
    return words_light(labels, [_letters_light(label.height_in) for label in labels], lit)


def label_light(label: Label, brightness: float, lit: LitArea) -> tuple[Patch, ...]:
    """The words of one label."""
    return words_light([label], [brightness], lit)


def words_light(labels: Sequence[Label], lights: Sequence[float], lit: LitArea) -> tuple[Patch, ...]:
    """Words centred on their labels' places, read along their directions; letters off the screen are left out."""
    written = [(*_written(label, lit), light) for label, light in zip(labels, lights, strict=True)]
    seen = [words for words in written if len(words[1])]
    if not seen:
        return ()
    points, ends = joined([points for points, _, _ in seen])
    patches = []
    for on_screen, (_, contours, light) in zip(
        split(lit.projector_map.screen_from_table(points), ends), seen, strict=True
    ):
        letters, (foot, head) = ScreenPixels(on_screen[:-2]), on_screen[-2:].tolist()
        patches.append(Patch(points=letters, ends=contours, letter_px=math.dist(foot, head), light=light))
    return tuple(patches)


def _written(label: Label, lit: LitArea) -> tuple[Array, Ends]:
    """Contours of the letters within reach, then a stem, in table inches; and where each contour ends."""
    outline = words_outline(label.text)
    along, at = label.height_in * complex(*label.along), complex(*label.at)  # turns and scales by a product
    placed = in_rows(outline.plane * along + at)
    letters, stem, box = placed[:-6], placed[-6:-4], placed[-4:]
    if lit.holds(box):
        return placed[:-4], outline.ends
    letters, ends = _whole_letters(letters, outline, lit)
    return np.concatenate([letters, stem]), ends


@lru_cache(maxsize=64)
def _letters_light(height_in: float) -> float:
    heights, lights = zip(SMALL_LETTERS, LARGE_LETTERS, strict=True)
    return float(np.interp(height_in, heights, lights))


def _whole_letters(points: Array, outline: Outline, lit: LitArea) -> tuple[Array, Ends]:
    """Points and contour ends of the letters that do not reach beyond the margin."""
    outside = lit.reaches(points) > ROUNDING_IN
    starts = np.concatenate([[0], outline.ends[:-1]])
    beyond = set(outline.letters[np.logical_or.reduceat(outside, starts)].tolist())
    contours = zip(split(points, outline.ends), outline.letters.tolist(), strict=True)
    kept = [contour for contour, letter in contours if letter not in beyond]
    return joined(kept)


def subdivided(path: Array, span_in: float) -> Array:
    """The path with points added so that none of its straight pieces is longer than `span_in`."""
    return followed([path], span_in)[0]


def followed(paths: Sequence[Array], span_in: float) -> tuple[Array, Ends]:
    """The paths `joined`, with points added so that none of their straight pieces is longer than `span_in`."""
    points_in, ends = joined(paths)
    points = in_plane(points_in)
    step = points[1:] - points[:-1]
    step[ends[:-1] - 1] = 0.0  # from one path to the next
    length = np.abs(step)
    if length.max(initial=0.0) <= span_in:
        return points_in, ends
    parts = np.maximum(1, np.ceil(length / span_in)).astype(np.intp)
    first = np.concatenate([[0], parts.cumsum()])  # of each point, among the points that come out
    index = np.repeat(np.arange(len(step)), parts)
    share = (np.arange(first[-1]) - first[index]) / parts[index]
    fine = np.concatenate([points[index] + share * step[index], points[-1:]])
    return in_rows(fine), first[ends - 1] + 1
