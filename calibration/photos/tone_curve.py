"""Between the grey levels of a photo and light on the sensor, by the curve that photos are stored with.

IEC 61966-2-1 (sRGB). Light is in levels too, 255 being full white, so that its numbers are of a like size.
"""

import numpy as np

from calibration.frames import Array, Levels

_WHITE = 255.0
_STRAIGHT_UP_TO = 0.0031308  # of full light: below it the curve is a line
_STRAIGHT = 12.92
_POWER = 2.4
_OFFSET = 0.055


def light_from_levels(levels: Levels) -> Array:
    """Light from none to 255, of the shape of `levels` (0 to 255).

    >>> light_from_levels(np.array([0, 10, 188, 255])).round(2).tolist()
    [0.0, 0.77, 128.24, 255.0]
    """
    share = np.asarray(levels, dtype=np.float64) / _WHITE
    bent = ((share + _OFFSET) / (1 + _OFFSET)) ** _POWER
    light: Array = _WHITE * np.where(share <= _STRAIGHT * _STRAIGHT_UP_TO, share / _STRAIGHT, bent)
    return light


def levels_from_light(light: Array) -> tuple[Array, Array]:
    """Levels, and their slopes by light. What is darker than no light goes on along the line.

    >>> levels, slopes = levels_from_light(np.array([0.0, 128.24, 255.0]))
    >>> levels.round(2).tolist(), slopes.round(2).tolist()
    ([0.0, 188.0, 255.0], [12.92, 0.66, 0.44])
    """
    share = np.maximum(light / _WHITE, _STRAIGHT_UP_TO)
    root = (1 + _OFFSET) * share ** (1 / _POWER)
    dark = light < _STRAIGHT_UP_TO * _WHITE
    levels: Array = np.where(dark, _STRAIGHT * light, _WHITE * (root - _OFFSET))
    slopes: Array = np.where(dark, _STRAIGHT, root / (_POWER * share))
    return levels, slopes
