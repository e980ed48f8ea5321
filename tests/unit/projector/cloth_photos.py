"""Photos of cloth, half of it in a bright window, made from what is known of the cloth, the room and the lamp.

An optics of its own: light adds up, cloth throws a share of it back, a camera of gamma 2.4 with sRGB's toe adds noise.
"""

from dataclasses import dataclass

import cv2
import numpy as np
import numpy.typing as npt

from calibration.frames import Array

SIZE_PX = (720, 540)
LAMP = (1.0, 0.97, 0.86)


@dataclass(frozen=True, slots=True, kw_only=True)
class Scene:
    """`tones` are shares of light thrown back, (red, green, blue), the first the ground and the rest in spots.

    `room` is the room's light in parts of the lamp's; `exposure` makes it a photo's: a camera exposes dark cloth for
    longer.
    """

    tones: tuple[tuple[float, float, float], ...]
    room: float
    exposure: float = 0.9
    noise: float = 0.01

    def photo(self, seed: int = 5) -> npt.NDArray[np.uint8]:
        rng = np.random.default_rng(seed)
        width, height = SIZE_PX
        reflects = np.ones((height, width, 3)) * self.tones[0]
        for tone in self.tones[1:]:
            for _ in range(260 // len(self.tones[1:])):
                at = rng.uniform(0, 1, 2) * SIZE_PX
                cv2.circle(reflects, (int(at[0]), int(at[1])), int(rng.uniform(9, 16)), tone, -1)
        lamp = np.zeros((height, width))
        corners = np.array([[210, 110], [780, 80], [770, 600], [230, 580]])
        cv2.fillPoly(lamp, [corners.astype(np.int32)], 1.0)
        lamp = np.asarray(cv2.GaussianBlur(lamp, (0, 0), 4))
        light = self.room + lamp[..., None] * LAMP
        weave = 1 + 0.06 * rng.standard_normal((height, width, 1))
        linear = self.exposure * reflects * light * weave
        return encoded(linear + self.noise * np.sqrt(linear) * rng.standard_normal(linear.shape))

    def luminance(self, lamp: float) -> list[float]:
        """Of each tone, in the room's light and a share of the lamp's."""
        light = self.room + lamp * np.array(LAMP)
        return [
            float(self.exposure * (np.array(tone) * light) @ (0.2126, 0.7152, 0.0722)) for tone in self.tones
        ]


def encoded(linear: Array) -> npt.NDArray[np.uint8]:
    """Linear light as sRGB stores it (IEC 61966-2-1)."""
    light = np.clip(linear, 0, 1)
    stored = np.where(light <= 0.0031308, 12.92 * light, 1.055 * light ** (1 / 2.4) - 0.055)
    return np.asarray(np.rint(255 * stored), dtype=np.uint8)


WHITE_COTTON = Scene(tones=((0.8, 0.79, 0.76),), room=0.08)
NAVY_WOOL = Scene(tones=((0.025, 0.03, 0.07),), room=0.08, exposure=12.0)
BLACK_VELVET = Scene(tones=((0.012, 0.012, 0.012),), room=0.08, exposure=25.0)
LIT_ROOM = Scene(tones=((0.7, 0.7, 0.68),), room=0.7, exposure=0.55)
POPPIES = Scene(tones=((0.75, 0.74, 0.7), (0.55, 0.05, 0.04), (0.03, 0.05, 0.03)), room=0.08)
SCENES = {
    "white cotton": WHITE_COTTON,
    "navy wool": NAVY_WOOL,
    "black velvet": BLACK_VELVET,
    "a room that is lit": LIT_ROOM,
    "poppies": POPPIES,
}
