"""The error to expect at every place of the light, computed once: a piece that is moved asks for it each frame."""

from dataclasses import dataclass
from functools import lru_cache
from typing import Final

import numpy as np

from calibration.frames import Array
from calibration.projector_map import ProjectorMap
from projector.lighting.lit_area import lit_area

CELL_IN: Final = 0.5  # the forecast bends little over so much


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class ForecastField:
    """`errors_in` (rows, columns) at places `CELL_IN` apart: x grows along a row, y from row to row.

    The first place is `low_in`, (2,) table inches.
    """

    low_in: Array
    errors_in: Array

    def at_in(self, points_in: Array) -> Array:
        """(n,) the map's forecast at (n, 2) table inches; for a point off the light, that of the nearest place."""
        rows, columns = self.errors_in.shape
        x, y = np.rint((points_in - self.low_in) / CELL_IN).astype(np.intp).T
        errors_in: Array = self.errors_in[y.clip(0, rows - 1), x.clip(0, columns - 1)]
        return errors_in

    def worst_in(self, points_in: Array) -> float:
        """The largest forecast at (n, 2) table inches."""
        return float(self.at_in(points_in).max())


@lru_cache(maxsize=8)
def forecast_field(projector_map: ProjectorMap) -> ForecastField:
    """The field over the box round the light."""
    border_in = lit_area(projector_map).border_in
    low, high = border_in.min(axis=0), border_in.max(axis=0)
    x, y = (np.arange(start, end + CELL_IN, CELL_IN) for start, end in zip(low, high, strict=True))
    places = np.stack(np.meshgrid(x, y), axis=-1)
    errors_in = projector_map.forecast(places.reshape(-1, 2)).reshape(places.shape[:2])
    return ForecastField(low_in=low, errors_in=errors_in)
