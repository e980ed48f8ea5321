"""Pieces opened out across the seams that join them, to see whether lines run through there."""

import math
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, replace
from typing import Final

import numpy as np
import shapely

from patterns.alterations.walks import same_way
from patterns.changes import Draft, Join
from patterns.checks.truing import facings_of_necks, junctions
from patterns.curves import Array
from patterns.cutting.labels import Label
from patterns.paper import svg
from patterns.shape import Shape

SCALE: Final = 1 / 4  # of the drawing
IN_A_ROW: Final = 4  # views
GAP_IN: Final = 4.0  # between two views and round them, at full size
WORDS_IN: Final = 0.12  # height of the words as drawn


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Joined:
    """Two pieces as they lie opened flat across one end of their seam: (n, 2) inches each, in the first's frame.

    `seam` (m, 2) is the first piece's edge, from `lines`, the two edges that meet there. `sum_deg` is 180 where these
    run straight through, None where they are not one line.
    """

    lines: tuple[str, str]
    join: Join
    first: Array
    second: Array
    seam: Array
    sum_deg: float | None = None

    @property
    def ends(self) -> tuple[str, str]:
        """Both edges of the seam, "front/side"."""
        return str(self.join.first), str(self.join.second)

    @property
    def line_words(self) -> str:
        """What both lines are called: "neck", "top and neck"."""
        one, two = self.lines
        return one if one == two else f"{one} and {two}"

    @property
    def whole_lines(self) -> tuple[str, str]:
        """Both lines with their pieces, "front/neck"."""
        return f"{self.join.first.piece}/{self.lines[0]}", f"{self.join.second.piece}/{self.lines[1]}"


def joined_views(draft: Draft) -> tuple[Joined, ...]:
    """Both ends of each join of the garment; a facing lies on its neck, not beside it, and is left out."""
    return _views(draft, _laid_beside(draft))


def views_from(draft: Draft, piece: str) -> tuple[Joined, ...]:
    """All that is sewn to the piece so named, opened out from it, at both ends of each seam."""
    joins = _laid_beside(draft)
    turned = [replace(join, first=join.second, second=join.first, ease=None) for join in joins]
    return _views(draft, [join for join in (*joins, *turned) if join.first.piece == piece])


def _laid_beside(draft: Draft) -> list[Join]:
    faced_on = facings_of_necks(draft.joins)
    return [join for join in draft.sewn if join.second.piece not in faced_on]


def _views(draft: Draft, joins: Iterable[Join]) -> tuple[Joined, ...]:
    sums = {key: one.sum_deg for one in junctions(draft) for key in _either_way(one.seam, one.lines)}
    return tuple(
        replace(view, sum_deg=sums.get((view.ends, view.whole_lines)))
        for join in joins
        for view in _opened(join, draft.shape(join.first.piece), draft.shape(join.second.piece))
    )


def _either_way(seam: tuple[str, str], lines: tuple[str, str]) -> Iterator[tuple[tuple[str, str], ...]]:
    yield seam, lines
    yield seam[::-1], lines[::-1]


def _opened(join: Join, first: Shape, second: Shape) -> Iterator[Joined]:
    i, j = first.number(join.first.edge), second.number(join.second.edge)
    alike = same_way(first, i, second, j)
    seam, other = first.edges[i].curve, second.edges[j].curve
    other = other if alike else other.reversed()
    # walked the same way round, and laid end on end, both would lie on the same side of the seam
    flip = np.array([-1.0 if alike == (first.outward == second.outward) else 1.0, 1.0])
    beside = ((i - 1, i + 1), (j - 1, j + 1) if alike else (j + 1, j - 1))
    for end, (one, two) in enumerate(zip(*beside, strict=True)):
        here, there = (curve if end == 0 else curve.reversed() for curve in (seam, other))
        along, across = here.start_tangent, there.start_tangent * flip
        turn = math.atan2(along[1], along[0]) - math.atan2(across[1], across[0])
        rotation = np.array([[math.cos(turn), -math.sin(turn)], [math.sin(turn), math.cos(turn)]])
        yield Joined(
            lines=(first.edges[one % len(first.edges)].name, second.edges[two % len(second.edges)].name),
            join=join,
            first=first.ring,
            second=(second.ring - there.start) * flip @ rotation.T + here.start,
            seam=here.points,
        )


def joined_drawing(views: Sequence[Joined], pattern_name: str) -> str:
    """An SVG of the views in rows, a quarter of full size."""
    placed = list(_in_rows(views))
    outlines = [points for _, first, second, _ in placed for points in (first, second)]
    corners = np.concatenate(outlines) if outlines else np.zeros((1, 2))
    low, high = corners.min(axis=0) - GAP_IN, corners.max(axis=0) + GAP_IN
    page = svg.page(low * SCALE, high * SCALE, f"{pattern_name}: joined")
    lines = svg.group(page, "lines", {**svg.LINES, "stroke-width": f"{svg.FINE_IN}"})
    words = svg.group(page, "words", svg.WORDS)
    for view, first, second, seam in placed:
        for points in (first, second):
            lines.append(svg.path(points * SCALE, closed=True))
        lines.append(svg.path(seam * SCALE, closed=False, **{"stroke-dasharray": "0.06 0.04"}))
        for name, label_at in zip(
            (view.join.first.piece, view.join.second.piece), _apart(first, second), strict=True
        ):
            words.append(svg.words(_label(name, label_at)))
        bottom = max(float(points[:, 1].max()) for points in (first, second))
        left, right = (f(f(points[:, 0]) for points in (first, second)) for f in (min, max))
        words.append(svg.words(_label(_said(view), np.array([(left + right) / 2, bottom + GAP_IN / 2]))))
    return svg.text_of(page)


def _label(text: str, at: Array) -> Label:
    return Label(text=text, at=at * (1, -1) * SCALE, height_in=WORDS_IN, along=np.array([1.0, 0.0]))


def _apart(first: Array, second: Array) -> Iterator[Array]:
    """(2,) inches on either outline, off the other as far as they do not cover one another."""
    one, two = shapely.Polygon(first), shapely.Polygon(second)
    for own, other in ((one, two), (two, one)):
        free = own.difference(other)
        part = max(shapely.get_parts(own if free.is_empty else free), key=lambda part: part.area)
        yield shapely.get_coordinates(part.representative_point())[0]


def _said(view: Joined) -> str:
    angle = f": {view.sum_deg:.1f} degrees" if view.sum_deg is not None else ""
    return f"{view.line_words}, across {view.join.first} and {view.join.second}{angle}"


def _in_rows(views: Sequence[Joined]) -> Iterator[tuple[Joined, Array, Array, Array]]:
    """Each view with its outlines and its seam beside those before it, their tops in line."""
    top = 0.0
    for start in range(0, len(views), IN_A_ROW):
        left, deepest = 0.0, 0.0
        for view in views[start : start + IN_A_ROW]:
            both = np.concatenate([view.first, view.second])
            low, size = both.min(axis=0), np.ptp(both, axis=0)
            moved = np.array([left, top]) - low
            yield view, view.first + moved, view.second + moved, view.seam + moved
            left, deepest = left + float(size[0]) + GAP_IN, max(deepest, float(size[1]))
        top += deepest + 2 * GAP_IN
