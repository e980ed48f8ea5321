"""A faint grid over the light, in inches or centimetres, to see by it how straight cloth and piece lie."""

from dataclasses import replace
from functools import lru_cache
from typing import Final

import numpy as np

from calibration.frames import Array
from patterns.cutting.placement import Placement
from patterns.measures import Unit
from projector.lighting.clipping import clipped
from projector.lighting.light import Chalk, chalk_light, subdivided
from projector.lighting.lit_area import LitArea
from projector.lighting.look import LineStyle
from projector.lighting.looks import USUAL, Look
from projector.lighting.strokes import Drawing, joined

FAINT: Final = LineStyle(width_in=1 / 48, light=0.04)
STRONGER: Final = LineStyle(width_in=1 / 48, light=0.1)
STRONGER_EVERY: Final = {Unit.IN: 6, Unit.CM: 10, Unit.MM: 100}  # to count by
LEAST_PX: Final = 8.0  # between lines: closer ones are a veil of light
COARSER: Final = {Unit.IN: 2, Unit.CM: 5, Unit.MM: 10}


def grid_light(unit: Unit, placement: Placement, lit: LitArea, look: Look = USUAL) -> Drawing:
    """Lines a unit apart, or more where the picture is too coarse; one crossing lies on the placement's origin."""
    pitch_in, every = float(unit.inches), STRONGER_EVERY[unit]
    if pitch_in * px_per_in(lit) < LEAST_PX:
        pitch_in, every = COARSER[unit] * pitch_in, every // COARSER[unit]
    faint: list[Array] = []
    stronger: list[Array] = []
    for axis in (0, 1):
        for number, path in _ruled(lit, placement, pitch_in, axis):
            (faint if number % every else stronger).extend(clipped(path, lit))
    points, ends = joined([subdivided(path, lit.span_in) for path in (*faint, *stronger)])
    styles = tuple((style, len(paths)) for style, paths in ((FAINT, faint), (STRONGER, stronger)) if paths)
    # It lies everywhere, also beside the cloth: brought up by half as much as what is read.
    faint_look = replace(look, power=(1.0 + look.power) / 2)
    return faint_look.seen(chalk_light(Chalk(points_in=points, ends=ends, styles=styles), lit))


@lru_cache(maxsize=8)
def px_per_in(lit: LitArea) -> float:
    """Projector pixels of an inch in the middle of the light, on the side that has fewer."""
    centre = lit.centre_in
    ends = lit.projector_map.screen_from_table(centre + np.array([[0.0, 0.0], [1.0, 0.0], [0.0, 1.0]]))
    return float(np.hypot(*(ends[1:] - ends[0]).T).min())


def _ruled(lit: LitArea, placement: Placement, pitch_in: float, axis: int) -> list[tuple[int, Array]]:
    """Lines over the light at whole pitches along one axis of the placement, each with its number."""
    border = placement.lifted(lit.border_in)
    low, high = border.min(axis=0), border.max(axis=0)
    lines = []
    for number in range(int(np.ceil(low[axis] / pitch_in)), int(high[axis] / pitch_in) + 1):
        ends = np.array([low, high])
        ends[:, axis] = number * pitch_in
        lines.append((number, placement.placed(ends)))
    return lines
