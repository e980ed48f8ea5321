"""Where the light under a cut line is worse than a projected line may be, in words and by a sign."""

from collections.abc import Sequence
from dataclasses import dataclass
from functools import lru_cache
from typing import Final

import numpy as np
import shapely

from calibration.frames import Array
from calibration.projector_map import ProjectorMap
from patterns.cutting.drafted import DraftedPiece
from patterns.cutting.marks import LineKind, lines_of
from patterns.cutting.placement import Placement
from patterns.measures import Unit
from patterns.parts import Kind
from projector.lighting.light import subdivided
from projector.lighting.lit_area import LitArea
from projector.lighting.look import LineStyle
from projector.lighting.strokes import Drawing
from projector.pictures.forecast_field import forecast_field
from projector.tracing.light import stroked
from projector.trust import LINE_IN, P95_OF_FORECAST, rounded_up

STEP_IN: Final = 1 / 16  # between the points that are looked at, and of the wave
LOOK_EVERY: Final = 8  # points: an edge that is named runs along for half an inch
MOST_NAMED: Final = 3  # edges; more are all about the piece
WAVE: Final = LineStyle(width_in=1 / 24, light=0.6)
WAVE_OUT_IN: Final = 0.3  # outside the cut line, which it must leave plain
WAVE_HIGH_IN: Final = 0.08
WAVE_LONG_IN: Final = 0.6


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Doubt:
    """A stretch of the cut line (n, 2) table inches, with the way out of the piece (n, 2) at each of its points.

    `edges` are those it runs along; `error_in` is the 95th percentile at its worst point, inches.
    """

    points_in: Array
    outwards: Array
    edges: tuple[str, ...]
    error_in: float


@lru_cache(maxsize=16)
def doubts(piece: DraftedPiece, placement: Placement, projector_map: ProjectorMap) -> tuple[Doubt, ...]:
    """The stretches of the piece's cut line, as it lies, where a line may be off by more than `LINE_IN`."""
    (cut,) = (line for line in lines_of(piece, placement) if line.kind is LineKind.CUT)
    path = np.vstack([cut.points, cut.points[:1]]) if cut.closed else cut.points
    points = subdivided(path, STEP_IN)
    errors = P95_OF_FORECAST * forecast_field(projector_map).at_in(points)
    worse = np.flatnonzero(np.diff(np.concatenate([[False], errors > LINE_IN, [False]])))
    outwards = _outwards(points, placement.placed(piece.cut_line))
    return tuple(
        Doubt(
            points_in=points[start:end],
            outwards=outwards[start:end],
            edges=_edges_along(piece, placement.lifted(points[start:end])),
            error_in=float(errors[start:end].max()),
        )
        for start, end in worse.reshape(-1, 2)
        if end - start > 1
    )


def doubt_words(found: Sequence[Doubt], unit: Unit = Unit.IN) -> tuple[str, ...]:
    """Where it is and how bad: "sleeve hem, where the line is waved: only good to 3/32 in"."""
    if not found:
        return ()
    edges = list(dict.fromkeys(edge for doubt in found for edge in doubt.edges))
    named = " and ".join(edges if len(edges) <= MOST_NAMED else [*edges[: MOST_NAMED - 1], "others"])
    worst = max(doubt.error_in for doubt in found)
    return (f"{named}, where the line is waved: only good to {rounded_up(worst, unit)}",)


def doubt_light(found: Sequence[Doubt], lit: LitArea) -> Drawing:
    """A wave outside each stretch, in projector pixels."""
    return stroked([_wave(doubt) for doubt in found], WAVE, lit)


def _wave(doubt: Doubt) -> Array:
    step = np.hypot(*np.diff(doubt.points_in, axis=0).T)
    along = np.concatenate([[0.0], np.cumsum(step)])
    out = WAVE_OUT_IN + WAVE_HIGH_IN * np.sin(2 * np.pi * along / WAVE_LONG_IN)
    wave: Array = doubt.points_in + doubt.outwards * out[:, None]
    return wave


def _outwards(points: Array, outline: Array) -> Array:
    """(n, 2) unit directions out of the piece along a path on its outline, which is (m, 2) and closed."""
    tangent = np.gradient(points, axis=0)
    tangent /= np.maximum(np.hypot(*tangent.T), 1e-12)[:, None]
    x, y = outline.T
    anticlockwise = np.sign(x @ np.roll(y, -1) - y @ np.roll(x, -1))
    outwards: Array = np.column_stack([tangent[:, 1], -tangent[:, 0]]) * anticlockwise
    return outwards


def _edges_along(piece: DraftedPiece, points: Array) -> tuple[str, ...]:
    """The edges that (n, 2) points of the cut line, piece inches, are nearest to, in their order along it."""
    edges = [edge for edge in piece.edges.values() if edge.kind is not Kind.FOLD]
    halves = np.column_stack([np.abs(points[:, 0]), points[:, 1]]) if piece.fold is not None else points
    looked_at = shapely.points(halves[::LOOK_EVERY])
    away = np.stack([shapely.distance(shapely.LineString(edge.points), looked_at) for edge in edges])
    return tuple(dict.fromkeys(edges[number].name for number in away.argmin(axis=0)))
