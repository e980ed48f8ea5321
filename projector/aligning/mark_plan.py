"""A small plan of the mat or sheet that is being aligned on, with the mark that the next cross goes to."""

from functools import lru_cache
from typing import Final

import numpy as np

from calibration.frames import Array, ScreenPixels
from calibration.hand.by_hand import HandAlignment
from calibration.hand.marks import HandMark
from projector.aligning.cross_in_hand import CROSS_PX, crosses_light
from projector.aligning.words_beside import Pixel
from projector.lighting.look import CROSS_LIGHT, GUIDE_LIGHT, STRIP_ASIDE_LIGHT
from projector.lighting.strokes import Drawing, Stroke, joined

PLAN_SHARE: Final = 1 / 7  # of the screen's height
WIDEST_SHARE: Final = 1 / 3  # of the screen's width
RIM: Final = 1.12  # the outline stands off the outermost marks, so that they can be seen
RING_POINTS: Final = 32
_CORNERS: Final = 4  # the first marks of a mat and of a sheet go round its corners
_TICK, _PLACED, _CROSS, _RING = 0.02, 0.055, 0.09, 0.13  # of the plan's height


def plan_light(alignment: HandAlignment, mark: HandMark, middle_px: Pixel) -> Drawing:
    """The marks of the mark's own mat or sheet, as they lie in the light as far as is known.

    Ticks are marks to come, small crosses those placed; the ring is round the mark.
    """
    own = [each for each in alignment.marks if each.sheet == mark.sheet]
    at = _shape(alignment, own)
    outline = _outline(at)
    zoom = _zoom(outline, alignment.screen_px)
    tall = alignment.screen_px[1] * PLAN_SHARE
    middle = (outline.min(axis=0) + outline.max(axis=0)) / 2
    at, outline = ((each - middle) * zoom + middle_px for each in (at, outline))
    placed = {cross.mark for cross in alignment.placed}
    spots = dict(zip(own, [(float(x), float(y)) for x, y in at], strict=True))
    here = spots.pop(mark)
    done = [spot for each, spot in spots.items() if each in placed]
    to_come = [spot for each, spot in spots.items() if each not in placed]
    return (
        _stroke([np.vstack([outline, outline[:1]])], GUIDE_LIGHT),
        *crosses_light(to_come, tall * _TICK, GUIDE_LIGHT),
        *crosses_light(done, tall * _PLACED, STRIP_ASIDE_LIGHT),
        *crosses_light([here], tall * _CROSS, CROSS_LIGHT),
        ring(here, tall * _RING, CROSS_LIGHT),
    )


@lru_cache(maxsize=4)
def plan_size_px(alignment: HandAlignment, mark: HandMark) -> Pixel:
    """How wide and high that plan is."""
    outline = _outline(_shape(alignment, [each for each in alignment.marks if each.sheet == mark.sheet]))
    width, tall = (_zoom(outline, alignment.screen_px) * np.ptp(outline, axis=0)).tolist()
    return width, tall


def ring(middle_px: Pixel, radius_px: float, brightness: float) -> Stroke:
    """A circle of light."""
    turn = np.linspace(0, 2 * np.pi, RING_POINTS + 1)
    return _stroke(
        [np.array(middle_px) + radius_px * np.column_stack([np.cos(turn), np.sin(turn)])], brightness
    )


def _shape(alignment: HandAlignment, own: list[HandMark]) -> Array:
    """(n, 2) where the marks are expected; upright for a loose sheet whose turn is not known yet."""
    number = own[0].sheet
    if number == 1 or sum(cross.mark.sheet == number for cross in alignment.placed) > 1:
        return np.vstack([alignment.foreseen_px(each) for each in own])
    return np.array([each.at_in for each in own]) * (1, -1)


def _outline(at: Array) -> Array:
    """(4, 2) about the outermost of (n, 2) marks."""
    middle = at[:_CORNERS].mean(axis=0)
    outline: Array = middle + RIM * (at[:_CORNERS] - middle)
    return outline


def _zoom(outline: Array, screen_px: tuple[int, int]) -> float:
    width, tall = np.ptp(outline, axis=0)
    return float(min(screen_px[1] * PLAN_SHARE / tall, screen_px[0] * WIDEST_SHARE / width))


def _stroke(paths: list[Array], brightness: float) -> Stroke:
    points, ends = joined(paths)
    return Stroke(points=ScreenPixels(points), ends=ends, width_px=CROSS_PX, light=brightness)
