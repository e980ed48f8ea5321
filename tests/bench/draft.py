"""Processor time to draft a pattern again after a point was moved, beside offsets of the same outlines."""

from dataclasses import replace
from itertools import count
from statistics import median

import pyclipper
import shapely

from patterns import example, read_pattern
from patterns.measures import Length
from patterns.pattern import Pattern
from tests.bench.row import Row
from tests.bench.turns import cpu_in_turns

DRAFTS = 60
GARMENTS = 10  # each of a front and a back; one of them has facings
ALLOWANCE_IN = 0.5
CLIPPER_PER_IN = 1000.0
SIDE, BELOW_UNDERARM = 3, 3  # the edge, and the point of it that is moved


def drafting() -> list[Row]:
    """Drafting anew after one point of the front was moved, all checks with it."""
    overtop = read_pattern(example("harbour overtop"))
    steps = count(1)  # each a new place, or the piece would be remembered
    return [*_rows(overtop, steps), *_rows(_wardrobe(overtop), steps)]


def _rows(pattern: Pattern, steps: "count[int]") -> list[Row]:
    rings = [piece.seam_line for piece in pattern.drafted().pieces.values()]
    polygons = [shapely.Polygon(ring) for ring in rings]
    clipper_rings = [(ring * CLIPPER_PER_IN).tolist() for ring in rings]

    def moved() -> object:
        return _moved(pattern, next(steps)).drafted()

    def buffered() -> object:
        return [one.buffer(ALLOWANCE_IN, join_style="mitre") for one in polygons]

    def clipped() -> object:
        return [_clipped(ring) for ring in clipper_rings]

    ours, by_shapely, by_clipper = (
        median(taken) for taken in cpu_in_turns((moved, buffered, clipped), DRAFTS)
    )
    return [
        (
            f"a point moved, {len(rings)} pieces",
            f"{ours:.1f} ms",
            f"{ours / by_shapely:.1f} x shapely's offsets alone",
        ),
        ("", "", f"{ours / by_clipper:.1f} x pyclipper's offsets alone"),
    ]


def _clipped(ring: object) -> object:
    offset = pyclipper.PyclipperOffset()
    offset.AddPath(ring, pyclipper.JT_MITER, pyclipper.ET_CLOSEDPOLYGON)
    return offset.Execute(ALLOWANCE_IN * CLIPPER_PER_IN)


def _moved(pattern: Pattern, step: int) -> Pattern:
    """The pattern with one point of the front's side moved by a thousandth of an inch a step."""
    front, *others = pattern.pieces
    side = front.edges[SIDE]
    point = side.path[BELOW_UNDERARM]
    there = replace(point, x=Length.of(point.x.inches + step / 1000))
    path = (*side.path[:BELOW_UNDERARM], there, *side.path[BELOW_UNDERARM + 1 :])
    edges = (*front.edges[:SIDE], replace(side, path=path), *front.edges[SIDE + 1 :])
    return replace(pattern, pieces=(replace(front, edges=edges), *others))


def _wardrobe(pattern: Pattern) -> Pattern:
    """The pattern with fronts and backs of other garments beside it."""
    others = tuple(
        replace(piece, name=f"{piece.name} {number}")
        for number in range(2, GARMENTS + 1)
        for piece in pattern.pieces
    )
    return replace(pattern, pieces=(*pattern.pieces, *others))
