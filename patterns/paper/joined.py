"""Pieces opened out across the seams that join them, to see whether lines run through there."""

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from typing import Final

import numpy as np

from patterns.alterations.walks import same_way
from patterns.changes import Draft, Join
from patterns.checks.truing import facings_of_necks
from patterns.curves import Array
from patterns.cutting.labels import Label
from patterns.paper import svg
from patterns.shape import Shape

SCALE: Final = 1 / 4  # of the drawing
GAP_IN: Final = 4.0  # between two views and round them, at full size
WORDS_IN: Final = 0.12  # height of the words as drawn


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Joined:
    """Two pieces as they lie opened flat across one end of their seam: (n, 2) inches each, in the first's frame.

    `seam` (m, 2) is the first piece's edge, from `lines`, the two edges that meet there.
    """

    lines: tuple[str, str]
    join: Join
    first: Array
    second: Array
    seam: Array


def joined_views(draft: Draft) -> tuple[Joined, ...]:
    """Both ends of each join of the garment; a facing lies on its neck, not beside it, and is left out."""
    shapes = {shape.name: shape for shape in draft.shapes}
    faced_on = facings_of_necks(draft.joins)
    return tuple(
        view
        for join in draft.joins
        if {join.first.piece, join.second.piece} <= shapes.keys() and join.second.piece not in faced_on
        for view in _opened(join, shapes[join.first.piece], shapes[join.second.piece])
    )


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
    """An SVG of the views in a row, a quarter of full size."""
    placed = list(_in_a_row(views))
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
        bottom = max(float(points[:, 1].max()) for points in (first, second))
        left, right = (f(f(points[:, 0]) for points in (first, second)) for f in (min, max))
        words.append(
            svg.words(
                Label(
                    text=_said(view),
                    at=np.array([(left + right) / 2, -bottom - GAP_IN / 2]) * SCALE,
                    height_in=WORDS_IN,
                    along=np.array([1.0, 0.0]),
                )
            )
        )
    return svg.text_of(page)


def _said(view: Joined) -> str:
    one, two = view.lines
    line = one if one == two else f"{one} and {two}"
    return f"{line}, across {view.join.first} and {view.join.second}"


def _in_a_row(views: Sequence[Joined]) -> Iterator[tuple[Joined, Array, Array, Array]]:
    """Each view with its outlines and its seam beside those before it, their tops in line."""
    x = 0.0
    for view in views:
        both = np.concatenate([view.first, view.second])
        low, high = both.min(axis=0), both.max(axis=0)
        moved = np.array([x, 0.0]) - low
        yield view, view.first + moved, view.second + moved, view.seam + moved
        x += float(high[0] - low[0]) + GAP_IN
