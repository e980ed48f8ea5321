"""How well light stands out on a cloth, by the contrast ratio that the web's accessibility rules use.

WCAG 2.2 (W3C, 2023): relative luminance and contrast ratio as its glossary defines them; 3:1 is what success
criterion 1.4.11 asks of lines and signs.
"""

from dataclasses import dataclass
from typing import Final

import numpy as np
import numpy.typing as npt

from calibration.frames import Array
from patterns.cutting.marks import LineKind
from projector.lighting.look import STYLES
from projector.lighting.looks import LOOKS, USUAL, LineForm, Look

ENOUGH: Final = 3.0
FAINT_ENOUGH: Final = 1.5  # of the seam line, which is read and not cut along: it must only be found
PRINTED: Final = (
    2.0  # times the light of a cloth's darkest tone, from its lightest: less is folds and shadows
)
LEAST_QUARTER: Final = 0.25
SHARES: Final = 8  # of the room's light: finer nobody can dim it by eye
_LUMINANCE: Final = np.array([0.2126, 0.7152, 0.0722])
_FLARE: Final = 0.05  # stray light that the rules count on


def relative_luminance(rgb: npt.NDArray[np.uint8]) -> Array:
    """(...) luminance from 0 to 1 of (..., 3) red, green, blue in sRGB.

    >>> float(relative_luminance(np.array([255, 255, 255], np.uint8)).round(6))
    1.0
    """
    levels = np.arange(256) / 255
    linear = np.where(levels <= 0.04045, levels / 12.92, ((levels + 0.055) / 1.055) ** 2.4)
    luminance: Array = linear[rgb] @ _LUMINANCE
    return luminance


def contrast(line: Array | float, ground: Array | float) -> Array:
    """The ratio of luminances from 0 to 1; under 1 where the line is the darker one.

    >>> float(contrast(1.0, 0.0))
    21.0
    """
    return (np.asarray(line) + _FLARE) / (np.asarray(ground) + _FLARE)


@dataclass(frozen=True, slots=True, kw_only=True)
class ClothTones:
    """The cloth's own tones from the darkest on: the luminance of each in the room's light, and fully lit.

    They are equally common; of what scale they are, a photo's exposure say, does not matter.
    """

    unlit: tuple[float, ...]
    lit: tuple[float, ...]

    @property
    def printed(self) -> bool:
        """Whether it has tones that differ as those of a print do."""
        return self.lit[-1] > PRINTED * self.lit[0]

    def under(self, light: float) -> Array:
        """The luminance of each tone under a share of the projector's light, which is added to the room's.

        White is the lightest tone that is fully lit: what eyes that have grown used to a dim table take for white.
        """
        unlit, lit = np.array(self.unlit), np.array(self.lit)
        luminance: Array = (unlit + light * (lit - unlit)) / lit[-1]
        return luminance


def line_contrast(look: Look, tones: ClothTones) -> float:
    """The cut line in a look against the cloth, as it is at least over three quarters of its way.

    A single line must be brighter than any tone of a print: else its lit dark parts pass for unlit pale ones. Two
    rails have their ground between them, so that each tone is seen beside itself.
    """
    line, ground = tones.under(look.gain), tones.under(0.0)
    against = ground.max() if look.form is LineForm.SINGLE else ground
    return float(np.quantile(contrast(line, against), LEAST_QUARTER))


def faint_contrast(look: Look, tones: ClothTones) -> float:
    """The seam line in a look beside the cloth that it lies on, in the same way."""
    shown = tones.under(look.gain * STYLES[LineKind.SEAM].light ** look.power)
    return float(np.quantile(contrast(shown, tones.under(0.0)), LEAST_QUARTER))


def best_look(tones: ClothTones) -> Look:
    """The look for the cloth as far as a photo tells: not whether it is sheer or shiny, nor how dark it is.

    A print's, or the plain one, or the bolder one where the faint lines of the plain one would be lost.
    """
    if tones.printed:
        return LOOKS["printed"]
    stands_out = line_contrast(USUAL, tones) >= ENOUGH and faint_contrast(USUAL, tones) >= FAINT_ENOUGH
    return USUAL if stands_out else LOOKS["dark"]


def room_share(look: Look, tones: ClothTones) -> float:
    """How much of the room's light may stay, from 0 to 1, for the cut line to stand out enough; 0 where none may."""
    shares = np.linspace(1.0, 0.0, SHARES + 1)[:-1].tolist()
    bright_enough = (s for s in shares if line_contrast(look, _in_darker_room(tones, s)) >= ENOUGH)
    return next(bright_enough, 0.0)


def _in_darker_room(tones: ClothTones, share: float) -> ClothTones:
    unlit = tuple(share * dark for dark in tones.unlit)
    lit = tuple(bright - (1 - share) * dark for dark, bright in zip(tones.unlit, tones.lit, strict=True))
    return ClothTones(unlit=unlit, lit=lit)
