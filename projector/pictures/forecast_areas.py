"""The light cut into areas by how true it is there: good to 1/64, 1/32 or 1/16 in, or worse; table inches."""

from dataclasses import dataclass, replace
from typing import Final

import numpy as np
import shapely
from shapely import MultiLineString, Polygon
from shapely.geometry.base import BaseGeometry

from calibration.frames import Array
from calibration.projector_map import ProjectorMap
from calibration.table.saved import Alignment
from projector.lighting.lit_area import LitArea
from projector.trust import P95_OF_FORECAST

CELL_IN: Final = 0.5  # the forecast bends little over so much
# Times the marks' misfit, by which the words are true at 19 of 20 places of practice tables that are not flat.
UNMODELLED: Final = 3.0
LEAST_AREA_IN2: Final = 0.01  # less is dust of the cutting
PROBES: Final = 20  # a side of the grid over the light that the claim is held against


@dataclass(frozen=True, slots=True, kw_only=True)
class Grade:
    """Errors up to `limit_in` and over the limit of the grade before; `turns_deg` are its hatch lines' directions.

    The worse the light, the closer the lines: the best of it is left clear. `pitch_in` is between two lines.
    """

    limit_in: float
    words: tuple[str, str]
    pitch_in: float = 0.0
    turns_deg: tuple[float, ...] = ()


GRADES: Final = (
    Grade(limit_in=1 / 64, words=("good to", "1/64 in")),
    Grade(limit_in=1 / 32, words=("good to", "1/32 in"), pitch_in=3.0, turns_deg=(45.0,)),
    Grade(limit_in=1 / 16, words=("good to", "1/16 in"), pitch_in=1.5, turns_deg=(-45.0,)),
    Grade(limit_in=np.inf, words=("worse than", "1/16 in"), pitch_in=1.0, turns_deg=(45.0, -45.0)),
)


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Area:
    """A connected part of the light in which one grade holds."""

    grade: Grade
    outline: Polygon


@dataclass(frozen=True, slots=True, kw_only=True)
class Forecast:
    """The error to expect over the light: the map's own forecast, with what it cannot know of.

    What bends table, paper or lens beyond the model moves whole neighbourhoods of marks alike, most noticeably
    where the map's own error is least; the misfit of the marks tells how much. And the forecast is never milder
    than what is claimed of the map: where a look at the light has raised the claim, all of it is `raised`.
    """

    map: ProjectorMap
    unmodelled_in: float
    raised: float = 1.0

    @classmethod
    def of(cls, alignment: Alignment) -> "Forecast":
        """The forecast whose 95th percentile over the light is not under the alignment's claim."""
        # By hand the misfit is that of the hand, which the map's own forecast knows of.
        unmodelled_in = UNMODELLED * alignment.rms_in if alignment.photos else 0.0
        foretold = cls(map=alignment.map, unmodelled_in=unmodelled_in)
        width, height = alignment.map.screen_px
        shares = (np.arange(PROBES) + 0.5) / PROBES
        across, down = np.meshgrid(shares * width - 0.5, shares * height - 0.5)
        places = alignment.map.table_from_screen(np.column_stack([across.ravel(), down.ravel()]))
        p95_in = float(np.quantile(foretold.error_in(places), 0.95))
        return replace(foretold, raised=max(1.0, alignment.p95_in / p95_in)) if p95_in > 0 else foretold

    def error_in(self, points_in: Array) -> Array:
        """(n,) inches that 95 of 100 errors stay within, at (n, 2) table inches."""
        foretold_in = P95_OF_FORECAST * self.map.forecast(points_in)
        error_in: Array = self.raised * np.hypot(foretold_in, self.unmodelled_in)
        return error_in


def areas_of(forecast: Forecast, lit: LitArea) -> tuple[Area, ...]:
    """The light's parts by grade, which leave nothing of it out and do not overlap."""
    light = Polygon(lit.border_in)
    faces = shapely.get_parts(
        shapely.polygonize([shapely.union_all([light.exterior, *_contours(forecast, lit)])])
    )
    inside = [face.representative_point() for face in faces]
    errors_in = forecast.error_in(shapely.get_coordinates(inside))
    return tuple(
        Area(grade=grade_of(error_in), outline=face)
        for face, point, error_in in zip(faces, inside, errors_in.tolist(), strict=True)
        if face.area > LEAST_AREA_IN2 and light.contains(point)
    )


def _contours(forecast: Forecast, lit: LitArea) -> list[BaseGeometry]:
    """The lines of each grade's limit, reaching a little beyond the light."""
    low, high = lit.border_in.min(axis=0) - CELL_IN, lit.border_in.max(axis=0) + 2 * CELL_IN
    x, y = (np.arange(start, end, CELL_IN) for start, end in zip(low, high, strict=True))
    places = np.stack(np.meshgrid(x, y), axis=-1)
    errors_in = forecast.error_in(places.reshape(-1, 2)).reshape(places.shape[:2])
    segments = [isolines(places, errors_in, grade.limit_in) for grade in GRADES[:-1]]
    return [shapely.line_merge(MultiLineString(list(some))) for some in segments]


def grade_of(error_in: float) -> Grade:
    """The finest grade that the error keeps to.

    >>> grade_of(0.02).words
    ('good to', '1/32 in')
    """
    return next(grade for grade in GRADES if error_in <= grade.limit_in)


def isolines(places: Array, values: Array, level: float) -> Array:
    """(m, 2, 2) segments along which values (r, c) at places (r, c, 2) equal the level.

    Each cell is two triangles with the value linear in either: a level passes a triangle in one segment or none.
    """
    count = values.size
    at = np.arange(count).reshape(values.shape)
    near, right, far, across = (at[:-1, :-1], at[:-1, 1:], at[1:, :-1], at[1:, 1:])
    # Corners in rising order, so that two triangles cut the side that they share at the same number.
    triangles = np.concatenate(
        [
            np.stack(corners, axis=-1).reshape(-1, 3)
            for corners in ((near, right, across), (near, far, across))
        ]
    )
    sides = triangles[:, [[0, 1], [1, 2], [0, 2]]]
    height = values.ravel()[sides] - level
    crossed = (height[..., 0] > 0) != (height[..., 1] > 0)
    before, after = height[crossed].T
    start, end = np.moveaxis(places.reshape(-1, 2)[sides[crossed]], 1, 0)
    crossings = start + (before / (before - after))[:, None] * (end - start)
    segments: Array = crossings.reshape(-1, 2, 2)
    return segments
