"""Where in strips of light across cloth's edge the step lies, to a fraction of a pixel.

Two ways: its steepest slope, which little noise moves; and a blurred step fitted together with light that slopes
and bends on both sides, which needs calm strips, and which a soft shadow beside the cloth does not draw aside.
"""

from typing import Final

import numpy as np
from scipy import ndimage, special

from calibration.frames import Array

REACH_PX: Final = 5.0  # of a strip, to both sides
SIDES_PX: Final = (0.7, 3.0)  # the two sides of a step: from its middle, to as far as this
_SEARCHED_PX: Final = 2.5
_SLOPE_BLUR_PX: Final = 0.7
_BLURS_PX: Final = (0.5, 0.65, 0.8, 1.0, 1.25, 1.6, 2.0, 2.6)
_TRIED_A_PIXEL: Final = 4
_LOOKED_AT_PX: Final = 2.2  # one sigma of the weight of light beside the edge


def steepest(strips: Array, ways: Array, steps_a_pixel: float) -> Array:
    """(n,) steps from the middle of strips (n, m, 3), outside last, to where their light changes most.

    `ways` (n, 3) is what their outside has more of than their inside, of length 1.
    """
    slope = ndimage.gaussian_filter1d(strips, _SLOPE_BLUR_PX * steps_a_pixel, axis=1, order=1, mode="nearest")
    rise = np.einsum("nmc,nc->nm", slope, ways)
    searched = round(_SEARCHED_PX * steps_a_pixel)
    middle = strips.shape[1] // 2
    off = np.arange(-searched, searched + 1)
    window = rise[:, middle - searched : middle + searched + 1]
    # a print has edges of its own: the nearer slope is the likelier
    highest = (window * np.exp(-((off / (2 * searched)) ** 2))).argmax(axis=1)
    row = np.arange(len(strips))
    for _ in range(2):  # on to the top of the slope chosen
        highest = np.clip(highest, 1, len(off) - 2)
        highest += np.stack([window[row, highest + k] for k in (-1, 0, 1)], axis=1).argmax(axis=1) - 1
    tops: Array = _top(window, np.clip(highest, 1, len(off) - 2)) - searched
    return tops


def fitted(strips: Array, steps_a_pixel: float) -> Array:
    """(n,) steps from the middle of strips (n, m, 3), outside last, to the step fitted with its sides."""
    at_px = (np.arange(strips.shape[1]) - strips.shape[1] // 2) / steps_a_pixel
    places = np.linspace(-1, 1, 2 * round(_SEARCHED_PX * _TRIED_A_PIXEL) + 1) * _SEARCHED_PX
    weights = np.exp(-((at_px / (2 * _LOOKED_AT_PX)) ** 2))
    weighted = np.ascontiguousarray((strips * weights[:, None]).transpose(0, 2, 1))

    def explained(blur_px: float) -> Array:
        bases = [np.linalg.qr(_step(at_px - place, blur_px) * weights[:, None])[0] for place in places]
        return np.stack([((weighted @ basis) ** 2).sum(axis=(1, 2)) for basis in bases], axis=1)

    best = max((explained(blur) for blur in _BLURS_PX), key=lambda one: float(one.max(axis=1).sum()))
    highest = np.clip(best.argmax(axis=1), 1, len(places) - 2)
    return (_top(best, highest) - len(places) // 2) / _TRIED_A_PIXEL * steps_a_pixel


def _step(off_px: Array, blur_px: float) -> Array:
    """(m, 5) that span a blurred step at 0: level and slope on both sides, and a bend outside of it."""
    risen = special.ndtr(off_px / blur_px)
    bell = blur_px * np.exp(-((off_px / blur_px) ** 2) / 2) / np.sqrt(2 * np.pi)
    slope, bend = off_px * risen + bell, (off_px**2 + blur_px**2) * risen + off_px * bell
    return np.stack([np.ones_like(off_px), off_px, risen, slope, bend], axis=1)


def _top(height: Array, highest: Array) -> Array:
    """(n,) columns of the tops of parabolas through the heights (n, k) at `highest` (n,) and its neighbours."""
    before, top, after = (height[np.arange(len(height)), highest + k] for k in (-1, 0, 1))
    bend = before - 2 * top + after
    fraction = np.where(bend < -1e-12, 0.5 * (before - after) / np.where(bend < -1e-12, bend, -1.0), 0.0)
    found: Array = highest + np.clip(fraction, -1, 1)
    return found
