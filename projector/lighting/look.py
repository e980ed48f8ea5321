"""What the light looks like: chalk on a dark table, in one colour; shape, dash and weight carry the meaning.

Widths, dashes and letters are inches on the cloth. `light` is linear, 1 the brightest the projector has:
what the blade follows is full light, what is only read is dimmer, and nothing else is lit.
"""

from collections.abc import Mapping
from dataclasses import dataclass
from types import MappingProxyType
from typing import Final

import numpy as np
import numpy.typing as npt

from patterns.cutting.marks import LineKind


@dataclass(frozen=True, slots=True, kw_only=True)
class LineStyle:
    """`dash_in` alternates lit and dark lengths, starting lit; empty for a solid line.

    `core` is the share of the width that stays dark along the middle: two rails, to cut between.
    """

    width_in: float
    light: float
    dash_in: tuple[float, ...] = ()
    core: float = 0.0

    def __post_init__(self) -> None:
        if len(self.dash_in) % 2 or any(length <= 0 for length in self.dash_in):
            raise ValueError(f"dashes come in pairs of positive lengths, found {self.dash_in}")


STYLES: Final[Mapping[LineKind, LineStyle]] = MappingProxyType(
    {
        LineKind.CUT: LineStyle(width_in=1 / 16, light=1.0),
        LineKind.NOTCH: LineStyle(width_in=1 / 16, light=1.0),
        LineKind.CLIP: LineStyle(width_in=1 / 24, light=0.6, dash_in=(1 / 8, 1 / 8)),
        LineKind.SEAM: LineStyle(width_in=1 / 32, light=0.25, dash_in=(3 / 8, 1 / 4)),
        LineKind.FOLD: LineStyle(width_in=1 / 24, light=0.5, dash_in=(1.5, 1 / 4, 1 / 4, 1 / 4)),
        LineKind.FOLD_SIGN: LineStyle(width_in=1 / 24, light=0.5),
        LineKind.FOLD_TICK: LineStyle(width_in=1 / 16, light=0.8),
        LineKind.CENTRE: LineStyle(width_in=1 / 32, light=0.25, dash_in=(1.0, 1 / 4, 1 / 16, 1 / 4)),
        LineKind.GRAIN: LineStyle(width_in=1 / 32, light=0.25),
    }
)

GIVES_WAY: Final = 0.3  # lines up to this light are interrupted by small letters, which they would clog
NOTCH_OUTSIDE_IN: Final = 3 / 8
SMALL_LETTERS: Final = (0.5, 0.3)  # inches high, light
LARGE_LETTERS: Final = (2.0, 0.12)  # large ones dimmer: as much light, or they would outshine the cut line
STRIP_LIGHT: Final = 0.5
STRIP_ASIDE_LIGHT: Final = 0.22
STRIP_HEIGHT_IN: Final = 1.0  # read standing, two steps away
STRIP_ASIDE_HEIGHT_IN: Final = 0.75
WARNING_LIGHT: Final = 0.8
CROSS_LIGHT: Final = 1.0
GUIDE_LIGHT: Final = 0.25

DISPLAY_GAMMA: Final = 2.2  # sRGB is close to it; a projector's "standard" picture mode aims at it
WARMTH: Final = (1.0, 0.97, 0.86)  # a slightly yellow white stands out on blue-black cloth and tires less


def _ramp() -> npt.NDArray[np.uint8]:
    """(256, 3) red, green, blue for each level of linear light."""
    encoded = (np.arange(256) / 255) ** (1 / DISPLAY_GAMMA)
    ramp: npt.NDArray[np.uint8] = np.rint(255 * encoded[:, None] * np.array(WARMTH)).astype(np.uint8)
    return ramp


RAMP: Final = _ramp()
