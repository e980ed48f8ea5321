"""A faint grid over the light, in inches or centimetres, to see by it how straight cloth and piece lie."""

from collections.abc import Iterator
from functools import lru_cache
from typing import Final

import numpy as np

from calibration.frames import Array
from patterns.cutting.placement import Placement
from patterns.measures import Unit
from projector.lighting.clipping import segments_within_reach
from projector.lighting.light import Chalk, chalk_light
from projector.lighting.lit_area import LitArea
from projector.lighting.look import LineStyle
from projector.lighting.looks import USUAL, Look
from projector.lighting.strokes import Drawing, Ends

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
    numbers, lines = (np.concatenate(both) for both in zip(*_ruled(lit, placement, pitch_in), strict=True))
    by_tens = numbers % every == 0
    order = np.argsort(by_tens, kind="stable")
    lines, counts = lines[order], (int((~by_tens).sum()), int(by_tens.sum()))
    points, ends = _followed(lines, lit.span_in)
    styles = tuple((style, count) for style, count in zip((FAINT, STRONGER), counts, strict=True) if count)
    return look.beside(chalk_light(Chalk(points_in=points, ends=ends, styles=styles), lit))


@lru_cache(maxsize=8)
def px_per_in(lit: LitArea) -> float:
    """Projector pixels of an inch in the middle of the light, on the side that has fewer."""
    centre = lit.centre_in
    ends = lit.projector_map.screen_from_table(centre + np.array([[0.0, 0.0], [1.0, 0.0], [0.0, 1.0]]))
    return float(np.hypot(*(ends[1:] - ends[0]).T).min())


def _ruled(lit: LitArea, placement: Placement, pitch_in: float) -> Iterator[tuple[Ends, Array]]:
    """Along both axes of the placement: the numbers (n,) of the lines at whole pitches, and their ends (n, 2, 2)."""
    border = placement.lifted(lit.border_in)
    low, high = border.min(axis=0), border.max(axis=0)
    for axis in (0, 1):
        numbers = np.arange(np.ceil(low[axis] / pitch_in), np.floor(high[axis] / pitch_in) + 1).astype(
            np.intp
        )
        ends = np.repeat(np.array([low, high])[None], len(numbers), axis=0)
        ends[:, :, axis] = pitch_in * numbers[:, None]
        on_table = placement.placed(ends.reshape(-1, 2)).reshape(-1, 2, 2)
        kept, cut = segments_within_reach(on_table, lit)
        yield numbers[kept], cut


def _followed(lines: Array, span_in: float) -> tuple[Array, Ends]:
    """Straight lines (n, 2, 2) with points enough to follow the lens, as many on each."""
    longest = float(np.hypot(*(lines[:, 1] - lines[:, 0]).T).max(initial=0.0))
    share = np.linspace(0.0, 1.0, int(np.ceil(longest / span_in)) + 1)[:, None]
    points = lines[:, :1] + share * (lines[:, 1:] - lines[:, :1])
    return points.reshape(-1, 2), np.arange(1, len(lines) + 1) * len(share)
