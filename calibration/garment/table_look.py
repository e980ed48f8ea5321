"""How the bare table looks in a photo, and how far any colour is from that: daylight falls off, wood has grain.

Colours are logarithms of light, so that light and shade only shift them, all three channels alike.
"""

from dataclasses import dataclass
from typing import Final

import numpy as np
import numpy.typing as npt

from calibration.frames import Array

_GAMMA: Final = 2.2  # near enough to what cameras write (sRGB, IEC 61966-2-1)
_DARK: Final = 0.004  # light added before the logarithm: below it is noise
_UNIT_IN: Final = 30.0
_ROUNDS: Final = 6
_NEAR_SIGMAS: Final = 3.0
_GRAIN: Final = 0.03  # least believed contrast of a table, log units: even paint is never even
_TINT: Final = 0.01  # and least difference of its channels among each other
_DEEPEST_SHADE: Final = 0.9  # log units that a soft shadow may take without being cloth
_FIRMNESS: Final = (
    0.0,
    0.3,
    0.3,
    0.1,
    0.1,
    0.1,
)  # one sigma of how light may change over _UNIT_IN, its powers
_GRAY: Final = np.ones(3) / np.sqrt(3)

_LEVELS: Final = np.log((np.arange(256) / 255.0) ** _GAMMA + _DARK)
_LIGHTS: Final = (np.arange(256) / 255.0) ** _GAMMA


def log_light(levels: Array) -> Array:
    """Logarithms of light from levels 0 to 255, of any shape."""
    logs: Array = np.interp(levels, np.arange(256), _LEVELS)
    return logs


def light(levels: Array) -> Array:
    """Light, 0 to 1, from levels 0 to 255, of any shape."""
    lights: Array = np.interp(levels, np.arange(256), _LIGHTS)
    return lights


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class TableLook:
    """The table's log colour (3,) at the middle, how it changes with place (6,), and how it varies (3, 3)."""

    tone: Array
    falloff: Array
    middle_in: Array
    whitening: Array

    @staticmethod
    def learnt(places_in: Array, logs: Array, sure: npt.NDArray[np.bool_]) -> "TableLook":
        """From (n, 2) table inches with (n, 3) log colours, of which the mask `sure` (n,) marks bare table.

        What is like those counts from then on, round by round, wherever it lies.
        """
        middle = places_in[sure].mean(axis=0)
        terms = _terms(places_in - middle)
        look = TableLook._fitted(middle, terms[sure], logs[sure])
        for _ in range(_ROUNDS):
            counted = (look._strangeness(terms, logs) < _NEAR_SIGMAS) | sure
            look = TableLook._fitted(middle, terms[counted], logs[counted])
        return look

    @staticmethod
    def _fitted(middle: Array, terms: Array, logs: Array) -> "TableLook":
        tone = np.median(logs, axis=0)
        falloff = np.zeros(terms.shape[1])
        for _ in range(2):
            off = (logs - tone - (terms @ falloff)[:, None]) @ _GRAY / np.sqrt(3)
            spread = max(1.4826 * float(np.median(np.abs(off - np.median(off)))), _GRAIN)
            weight = 1 / (1 + (off / (2 * spread)) ** 2)
            # grain is alike over an inch or so: a few hundred samples are independent, not all of them
            share = min(1.0, 300 / len(off)) / spread**2
            held = np.diag([1e-9, *(1 / np.array(_FIRMNESS[1:]) ** 2)])
            normal = share * (terms * weight[:, None]).T @ terms + held
            right = share * (terms * weight[:, None]).T @ (off + terms @ falloff)
            falloff = np.linalg.solve(normal, right)
        left = logs - (terms @ falloff)[:, None]
        tone = np.median(left, axis=0)
        return TableLook(tone=tone, falloff=falloff, middle_in=middle, whitening=_whitening(left - tone))

    def strangeness(self, places_in: Array, logs: Array) -> Array:
        """(n,) how many sigmas (n, 3) log colours at (n, 2) table inches are from the bare table's.

        A modest shade counts for nothing.
        """
        return self._strangeness(_terms(places_in - self.middle_in), logs)

    def _strangeness(self, terms: Array, logs: Array) -> Array:
        off = logs - self.tone - (terms @ self.falloff)[:, None]
        along = off @ _GRAY / np.sqrt(3)
        off = off - np.clip(along, -_DEEPEST_SHADE, 0)[:, None]
        strange: Array = np.linalg.norm(off @ self.whitening, axis=1)
        return strange


def _terms(off_in: Array) -> Array:
    x, y = off_in.T / _UNIT_IN
    return np.stack([np.ones_like(x), x, y, x * x, x * y, y * y], axis=1)


def _whitening(off: Array) -> Array:
    """(3, 3) that makes the usual variation one sigma each way, wild pixels left out."""
    reach = np.linalg.norm(off, axis=1)
    usual = off[reach <= np.quantile(reach, 0.9)]
    covariance = 1.3 * usual.T @ usual / len(usual)  # what leaving out the farthest tenth takes away
    floor = _TINT**2 * np.eye(3) + _GRAIN**2 * np.outer(_GRAY, _GRAY) * 3
    values, axes = np.linalg.eigh(covariance + floor)
    whitening: Array = axes / np.sqrt(values)
    return whitening
