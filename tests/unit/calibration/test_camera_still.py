"""Pictures are averaged once nothing moves in them, and not before."""

from collections.abc import Iterable, Iterator

import cv2
import numpy as np
import numpy.typing as npt
import pytest

from calibration.cameras.still import still_picture
from calibration.cameras.watch import FRAMES
from calibration.errors import AlignmentError

Picture = npt.NDArray[np.uint8]
SIZE_PX = (640, 480)
NOISE = 6.0


def scene(shift_px: float = 0.0, level: float = 1.0) -> Picture:
    """Blots of colour, moved to the right by so much, and so bright."""
    rng = np.random.default_rng(3)
    coarse = rng.uniform(20, 235, (24, 32, 3)).astype(np.float32)
    plain = cv2.resize(coarse, SIZE_PX, interpolation=cv2.INTER_NEAREST)
    moved = cv2.warpAffine(
        plain, np.array([[1, 0, shift_px], [0, 1, 0]]), SIZE_PX, borderMode=cv2.BORDER_REPLICATE
    )
    return np.asarray(moved * level, dtype=np.uint8)


def noisy(picture: Picture, seed: int) -> Picture:
    noise = np.random.default_rng(seed).normal(0, NOISE, picture.shape)
    return np.clip(np.rint(picture + noise), 0, 255).astype(np.uint8)


class Recorded:
    """Pictures one after the other, the last one again and again."""

    def __init__(self, pictures: Iterable[Picture]) -> None:
        self._pictures: Iterator[Picture] = iter(pictures)
        self.taken = 0
        self._last = scene()

    def picture(self) -> Picture:
        self.taken += 1
        self._last = next(self._pictures, self._last)
        return self._last


def test_still_pictures_are_averaged_and_their_noise_falls_with_the_root_of_their_number() -> None:
    camera = Recorded(noisy(scene(), seed) for seed in range(FRAMES))
    said: list[str] = []
    found = still_picture(camera, said.append)
    assert found.shape == scene().shape
    clear = (scene() > 40) & (scene() < 215)  # not clipped
    noise = (found.astype(float) - scene())[clear].std()
    assert noise == pytest.approx(np.hypot(NOISE / np.sqrt(FRAMES), 12**-0.5), rel=0.1)
    assert camera.taken == FRAMES
    assert said[-1] == f"{FRAMES} of {FRAMES} pictures taken"


def test_what_moves_is_begun_anew() -> None:
    moving = [noisy(scene(2.0 * min(seed, 5)), seed) for seed in range(5 + FRAMES)]
    said: list[str] = []
    found = still_picture(Recorded(moving), said.append)
    assert np.abs(found.astype(float) - scene(10.0))[:, 20:].mean() < NOISE / 2
    assert "something moved: hold still, hands off the table" in said


@pytest.mark.parametrize(
    ("picture", "trouble"),
    [
        (scene(level=0.2), "too dark: white is"),
        (np.full((480, 640, 3), 128, np.uint8), "too even: white and black are"),
    ],
    ids=["dark", "even"],
)
def test_what_never_gets_clear_is_given_up_with_the_reason(
    picture: Picture, trouble: str, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr("calibration.cameras.still.PATIENCE", 20)
    camera = Recorded([picture])
    with pytest.raises(AlignmentError) as refused:
        still_picture(camera, lambda _: None)
    assert str(refused.value).startswith(
        f"the camera showed nothing still and clear in 20 pictures ({trouble}"
    )
    assert camera.taken == 20
