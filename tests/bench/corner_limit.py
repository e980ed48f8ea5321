"""Bench rows of the corner fit: error beside the pixel-level Cramér-Rao bound, by kind of corner, blur and size.

Corners are drawn finely, blurred, given a sensor's noise and gamma, and rounded to 8 bits, as the practice
camera does. The bound is that of the corner's place alone: the true picture's change with that place, over
the noise of each pixel of the window that is free of markers.
"""

from dataclasses import dataclass

import cv2
import numpy as np

from calibration.frames import Array
from calibration.photos.corner_fit import fit_corners
from tests.bench.row import Row

BLURS_PX = (0.6, 1.0, 1.6)
SIDES_PX = (12.0, 20.0, 40.0)
CORNERS = 200
_FINE = 8  # drawn so many times as large, then averaged
_NUDGE_PX = 0.25
_FREE = 0.18  # of a square, on all sides of a corner
_LEAST_HALF_PX, _MOST_HALF_PX = 2.6, 10.0
GAMMA = 2.2
OTHER_GAMMAS = (1.8, 2.4)
_SHOT, _READ = 0.012, 0.0015  # sigmas at full scale and in the dark


@dataclass(frozen=True, slots=True, kw_only=True)
class Kind:
    """Light from dark and bright squares on the sensor, of full scale, and the projector's own blur.

    `own_blur` is in sides of a square: a projected square has 80 pixels.
    """

    name: str
    dark: float
    bright: float
    own_blur: float


PRINTED = Kind(name="printed", dark=0.04, bright=0.7, own_blur=0.0)
PROJECTED = Kind(name="projected", dark=0.07, bright=0.65, own_blur=0.45 / 80)


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class _Corner:
    """The place of a corner in its cell, and the two sides (2, 2) of a square that meet there; pixels."""

    at: Array
    sides: Array

    def light(self, kind: Kind, blur_px: float, cell: int, moved: tuple[float, float] = (0, 0)) -> Array:
        """(cell, cell) light on the sensor, the corner being moved by so much."""
        fine = (np.arange(cell * _FINE) + 0.5) / _FINE - 0.5
        points = np.stack(np.meshgrid(fine, fine), axis=-1) - self.at - moved
        normals = np.linalg.inv(self.sides)
        distances = points @ (normals / np.linalg.norm(normals, axis=0))
        corner = (2 * _FINE * distances).clip(-1, 1).prod(axis=-1)  # edges without steps of fine pixels
        own_px = kind.own_blur * float(np.linalg.norm(self.sides, axis=1).mean())
        blur = float(np.hypot(blur_px, own_px)) * _FINE
        sharp = (kind.bright + kind.dark) / 2 + corner * (kind.bright - kind.dark) / 2
        soft = cv2.GaussianBlur(sharp, (0, 0), blur)
        light: Array = np.asarray(soft).reshape(cell, _FINE, cell, _FINE).mean(axis=(1, 3))
        return light

    def least_variance(self, kind: Kind, blur_px: float, gamma: float, cell: int) -> float:
        """Square pixels: mean variance of either coordinate that no unbiased estimator can beat."""
        steps = ((_NUDGE_PX, 0.0), (0.0, _NUDGE_PX))
        change = np.stack(
            [
                self.light(kind, blur_px, cell, step) - self.light(kind, blur_px, cell, (-step[0], -step[1]))
                for step in steps
            ],
            axis=-1,
        ) / (2 * _NUDGE_PX)
        light = self.light(kind, blur_px, cell)
        steepness = 255 / gamma * light ** (1 / gamma - 1)  # grey levels by light
        noise = (_READ**2 + _SHOT**2 * light) * steepness**2 + 1 / 12  # and of rounding
        pixels = np.stack(np.meshgrid(np.arange(cell), np.arange(cell)), axis=-1) - self.at
        half = np.clip(_FREE * np.linalg.norm(self.sides, axis=1), _LEAST_HALF_PX, _MOST_HALF_PX)
        shares = pixels @ np.linalg.inv(self.sides) * np.linalg.norm(self.sides, axis=1)
        seen = (np.abs(shares) <= half).all(axis=-1)
        slopes = (change * steepness[..., None])[seen] / np.sqrt(noise[seen])[:, None]
        return float(np.trace(np.linalg.inv(slopes.T @ slopes)) / 2)


def over_the_bound(
    kind: Kind, blur_px: float, side_px: float, *, gamma: float = GAMMA, corners: int = CORNERS
) -> tuple[float, float]:
    """RMS error of either coordinate in pixels, and its ratio to the bound's."""
    rng = np.random.default_rng((round(side_px), round(10 * blur_px)))
    half = int(min(side_px * 0.3, 12)) + 5
    cell = 2 * half + 1
    drawn, cells = [], []
    for _ in range(corners):
        first = rng.uniform(0, 2 * np.pi)
        ways = first + np.array([0, np.pi / 2 + rng.uniform(-0.35, 0.35)])
        sides = side_px * np.column_stack([np.cos(ways), np.sin(ways)])
        corner = _Corner(at=half + rng.uniform(-0.5, 0.5, 2), sides=sides)
        light = corner.light(kind, blur_px, cell)
        noisy = light + rng.normal(0, 1, light.shape) * np.sqrt(_READ**2 + _SHOT**2 * light)
        drawn.append(corner)
        cells.append(np.rint(noisy.clip(0, 1) ** (1 / gamma) * 255).astype(np.uint8))
    places = np.array([c.at for c in drawn]) + np.arange(corners)[:, None] * (cell, 0)
    guesses = places + rng.uniform(-0.02, 0.02, places.shape) * side_px
    fits = fit_corners(np.hstack(cells), guesses, np.array([c.sides for c in drawn]))
    error_px = float(np.sqrt(((fits.places_px - places) ** 2).mean()))
    least = np.mean([c.least_variance(kind, blur_px, gamma, cell) for c in drawn[: corners // 10]])
    return error_px, error_px / float(np.sqrt(least))


def corner_limit() -> list[Row]:
    """Corner places beside the pixel-level Cramér-Rao bound: squares of 12, 20 and 40 px, noise known"""
    cells = [(kind, blur, GAMMA) for kind in (PRINTED, PROJECTED) for blur in BLURS_PX]
    cells += [(PRINTED, 1.0, gamma) for gamma in OTHER_GAMMAS]
    rows = []
    for kind, blur, gamma in cells:
        found = [over_the_bound(kind, blur, side, gamma=gamma) for side in SIDES_PX]
        camera = "" if gamma == GAMMA else f", gamma {gamma}"
        rows.append(
            (
                f"{kind.name}, blur {blur} px{camera}: error / bound",
                ", ".join(f"{ratio:.2f}" for _, ratio in found),
                "error " + ", ".join(f"{error:.4f}" for error, _ in found) + " px",
            )
        )
    return rows
