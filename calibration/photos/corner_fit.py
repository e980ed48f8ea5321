"""Where four squares of a chequered pattern meet in a photo, to about a hundredth of a pixel.

A window round each corner is fitted by least squares with the picture of two crossing edges under one blur,
all corners at once. Blur is of light, while noise is nearly even in the levels that a photo is stored in: the
model is light, stored as a photo would be. What a camera's own curve adds to the standard one is fitted too.
"""

from dataclasses import dataclass, fields

import numpy as np
import numpy.typing as npt
from scipy.special import erf

from calibration.frames import Array, CameraPixels, Levels
from calibration.photos.tone_curve import levels_from_light, light_from_levels

HALF_WINDOW = 0.18  # of a square: a wider window would touch the markers inside the squares
_MOST_HALF_WINDOW_PX = 10  # more edge than this adds time, and bow of the lens, rather than precision
_LEAST_HALF_WINDOW_PX = 2.6  # below this, fewer pixels than the unknowns can stand
_TAPER_FROM_PX = 0.25  # outside the window its weight ends, and begins to fall off within
_CENTRED_PX = 1.5  # a corner found so near its guess gets the window laid round it anew
_STEPS = 12
_SETTLED_PX = 1e-3  # the step after this one is far smaller
_HOPELESS = 1e3  # damping, after steps that made it worse
_FIRST_BLUR_PX = 0.8
_BLUR_PX = (0.25, 6.0)
_PLACE, _ANGLES, _BLUR, _STEP, _LEVEL = slice(0, 2), slice(2, 4), 4, 5, 8
_TILT = slice(6, 8)  # of the step, by x and y
_LEVEL_TILT = slice(9, 11)
_TILTS = [6, 7, 9, 10]
_BEND = 11  # of the camera's tone curve away from the standard one, between dark and bright
_UNKNOWNS = 12
_LEAST_PIXELS = 22  # in the window
_LIKELY_TILT = 0.1  # the share by which the step of light on the pattern changes over the side of a square
_LIKELY_LEVEL_TILT = 0.03  # and its level
_LIKELY_BEND = 0.3  # of half the step
_LIKELY_TURN = 0.05  # radians by which an edge is turned from the sides that are foretold
_LIKELY_NOISE = 2.0  # grey levels
_LEAST_LIGHT = 0.08  # one grey level in the dark
_SURELY = 3.0  # times what is likely
_LET_GO = 1e-3


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class CornerFits:
    """Fitted corners, row by row with the guesses; `places_px` is (n, 2), the others (n,).

    `sigma_px` is the expected noise of either coordinate, `blur_px` the Gaussian blur of the edges, `step`
    the grey levels between dark and bright squares, `misfit` the residual's RMS as a share of half that step.
    """

    places_px: CameraPixels
    sigma_px: Array
    blur_px: Array
    step: Array
    misfit: Array

    def with_rows(self, rows: npt.NDArray[np.bool_], others: "CornerFits") -> "CornerFits":
        """The same with those of the mask (n,) taken from `others`, in order."""
        made = {}
        for field in fields(self):
            values = getattr(self, field.name).copy()
            values[rows] = getattr(others, field.name)
            made[field.name] = values
        return CornerFits(**made)


def fit_corners(photo: Levels, guesses_px: Array, sides_px: Array) -> CornerFits:
    """Fit the corners near `guesses_px` (n, 2), which should lie within the window of the truth.

    `sides_px` (n, 2, 2) holds for each corner the two sides of a square that meet there, as pixel vectors.
    A corner without enough photo or step round it comes back with an infinite misfit.
    """
    offsets, inside, values = _windows(photo, guesses_px, sides_px)
    weights = _weights(inside, offsets, guesses_px - np.rint(guesses_px), sides_px)
    enough = weights.sum(axis=1) > _LEAST_PIXELS
    unknowns = _first_guess(offsets, weights, light_from_levels(values), sides_px)
    stiffness, held = _stiffness(unknowns, sides_px), unknowns.copy()
    _improve(unknowns, offsets, weights, values, stiffness, held)
    near = np.abs(unknowns[:, _PLACE] - held[:, _PLACE]).max(axis=1) < _CENTRED_PX
    weights = np.where(near[:, None], _weights(inside, offsets, unknowns[:, _PLACE], sides_px), weights)
    # light that surely changes more than is likely is not held back from it
    steep = unknowns[:, _TILTS] ** 2 * stiffness[:, _TILTS] > (_SURELY * _LIKELY_NOISE) ** 2
    stiffness[:, _TILTS] *= np.where(steep, _LET_GO, 1.0)
    _improve(unknowns, offsets, weights, values, stiffness, held)
    picture, slopes = _model(unknowns, offsets)
    cost = _cost(weights, values - picture, stiffness, unknowns - held)
    spare = np.maximum(weights.sum(axis=1) - _UNKNOWNS, 1)
    noise = np.sqrt(cost / spare)
    covariance = np.linalg.inv(_normal(slopes, weights, stiffness + 1e-9))
    sigma = noise * np.sqrt((covariance[:, 0, 0] + covariance[:, 1, 1]).clip(0) / 2)
    dark, bright = (
        levels_from_light(unknowns[:, _LEVEL] + sign * np.abs(unknowns[:, _STEP]))[0] for sign in (-1, 1)
    )
    step = bright - dark
    misfit = np.divide(noise, step / 2, out=np.full(len(step), np.inf), where=(step > 0) & enough)
    return CornerFits(
        places_px=CameraPixels(np.rint(guesses_px) + unknowns[:, _PLACE]),
        sigma_px=sigma,
        blur_px=unknowns[:, _BLUR].copy(),
        step=step,
        misfit=misfit,
    )


def _improve(
    unknowns: Array, offsets: Array, weights: Array, values: Array, stiffness: Array, held: Array
) -> None:
    """Take the unknowns (n, 12) to the least squares, in place; settled corners drop out on the way."""
    moving = np.arange(len(unknowns))
    damping = np.full(len(unknowns), 1e-3)
    picture, slopes = _model(unknowns, offsets)
    for _ in range(_STEPS):
        now, weight, value, stiff = unknowns[moving], weights[moving], values[moving], stiffness[moving]
        change = _change(slopes, weight, value - picture, stiff, now - held[moving], damping)
        tried = now + change
        tried[:, _BLUR] = tried[:, _BLUR].clip(*_BLUR_PX)
        tried_picture, tried_slopes = _model(tried, offsets)
        before = _cost(weight, value - picture, stiff, now - held[moving])
        better = _cost(weight, value - tried_picture, stiff, tried - held[moving]) <= before
        unknowns[moving[better]] = tried[better]
        picture[better], slopes[better] = tried_picture[better], tried_slopes[better]
        damping = np.where(better, damping / 10, damping * 10)
        going = (np.abs(change[:, _PLACE]).max(axis=1) > _SETTLED_PX) & (damping < _HOPELESS)
        if not going.any():
            return
        moving, damping, picture, slopes = moving[going], damping[going], picture[going], slopes[going]


def _windows(photo: Levels, guesses_px: Array, sides_px: Array) -> tuple[Array, Array, Array]:
    """Pixel offsets (m, 2) from the pixel nearest the guess, 1 (n, m) for those in the photo, and grey values."""
    reach = np.abs(HALF_WINDOW * sides_px).sum(axis=1).max(initial=1.0)
    half = int(np.ceil(min(reach, _MOST_HALF_WINDOW_PX)))
    grid = np.arange(-half, half + 1)
    offsets = np.stack(np.meshgrid(grid, grid), axis=-1).reshape(-1, 2)
    pixels = np.rint(guesses_px).astype(np.int64)[:, None] + offsets
    limits = np.array(photo.shape[::-1]) - 1
    inside = np.all((pixels >= 0) & (pixels <= limits), axis=2).astype(np.float64)
    held = pixels.clip(0, limits)
    values = photo[held[..., 1], held[..., 0]].astype(np.float64)
    return offsets.astype(np.float64), inside, values


def _weights(inside: Array, offsets: Array, corner: Array, sides_px: Array) -> Array:
    """(n, m) from 1 inside the window round each corner (n, 2) to 0 outside, over a pixel.

    The same on all sides of the corner, so that what the model lacks (a camera's tone curve) pulls it nowhere.
    """
    lengths = np.linalg.norm(sides_px, axis=2)[:, None]
    from_corner = offsets[None] - corner[:, None]
    along_px = np.abs(from_corner @ np.linalg.inv(sides_px)) * lengths
    room_px = np.maximum(HALF_WINDOW * lengths, _LEAST_HALF_WINDOW_PX) - along_px
    spare_px = _MOST_HALF_WINDOW_PX - np.abs(from_corner)
    weights: Array = np.minimum(room_px, spare_px).min(axis=2)
    return (weights + _TAPER_FROM_PX).clip(0, 1) * inside


def _first_guess(offsets: Array, weights: Array, light: Array, sides_px: Array) -> Array:
    """The middle of the window, edges along the sides, level and step from the light of the four quarters."""
    unknowns = np.zeros((len(light), _UNKNOWNS))
    unknowns[:, _ANGLES] = np.arctan2(sides_px[:, :, 0], -sides_px[:, :, 1])  # of the edge's normal
    unknowns[:, _BLUR] = _FIRST_BLUR_PX
    normals = np.stack([np.cos(unknowns[:, _ANGLES]), np.sin(unknowns[:, _ANGLES])], axis=2)
    quarter = np.sign(normals @ offsets.T).prod(axis=1) * weights
    level = (weights * light).sum(axis=1) / weights.sum(axis=1).clip(1)
    unknowns[:, _LEVEL] = level
    unknowns[:, _STEP] = (quarter * (light - level[:, None])).sum(axis=1) / np.abs(quarter).sum(axis=1).clip(
        1
    )
    return unknowns


def _model(unknowns: Array, offsets: Array) -> tuple[Array, Array]:
    """The blurred corner (n, m) in grey levels and its slopes (n, m, 12) by each unknown.

    Its light is level + tilt . p + (step + tilt' . p) (c + bend (1 - c^2)), where the crossing c is
    erf(d1 / (b sqrt 2)) erf(d2 / (b sqrt 2)), with p the offset, d1 and d2 the distances from the two edges and b
    the blur: exact for square crossings, near enough for others.
    """
    from_corner = offsets[None] - unknowns[:, None, _PLACE]
    cos, sin = np.cos(unknowns[:, _ANGLES]), np.sin(unknowns[:, _ANGLES])
    blur, bend = unknowns[:, _BLUR, None, None], unknowns[:, _BEND, None]
    x, y = from_corner[..., 0], from_corner[..., 1]
    distance = x[..., None] * cos[:, None] + y[..., None] * sin[:, None]
    sideways = y[..., None] * cos[:, None] - x[..., None] * sin[:, None]
    edge = erf(distance / (blur * np.sqrt(2)))
    rise = np.sqrt(2 / np.pi) / blur * np.exp(-((distance / blur) ** 2) / 2)
    crossing = edge[..., 0] * edge[..., 1]
    hump = 1 - crossing**2
    corner = crossing + bend * hump
    strength = unknowns[:, _STEP, None] + unknowns[:, _TILT] @ offsets.T
    level = unknowns[:, _LEVEL, None] + unknowns[:, _LEVEL_TILT] @ offsets.T
    picture, by_light = levels_from_light(level + strength * corner)
    by_crossing = by_light * strength * (1 - 2 * bend * crossing)
    across = by_crossing[..., None] * rise * edge[..., ::-1]  # slope by either distance
    slopes = np.empty((*corner.shape, _UNKNOWNS))
    slopes[..., 0] = -_added(across * cos[:, None])
    slopes[..., 1] = -_added(across * sin[:, None])
    slopes[..., _ANGLES] = across * sideways
    slopes[..., _BLUR] = -_added(across * distance) / blur[..., 0]
    slopes[..., _STEP] = by_light * corner
    slopes[..., _TILT] = slopes[..., _STEP, None] * offsets
    slopes[..., _LEVEL] = by_light
    slopes[..., _LEVEL_TILT] = by_light[..., None] * offsets
    slopes[..., _BEND] = by_light * strength * hump
    return picture, slopes


def _added(pairs: Array) -> Array:
    """(n, m, 2) to (n, m): over an axis so short numpy's own sum takes several times as long."""
    added: Array = pairs[..., 0] + pairs[..., 1]
    return added


def _stiffness(unknowns: Array, sides_px: Array) -> Array:
    """How firmly each unknown (n, 12) is held to its first guess: tilts to what light may do, edges to the pattern.

    Where blur is wide for the window a corner that moves looks like a level that tilts: left free, the tilts
    would take all precision from squares of 12 pixels, and a third from squares of 22.
    """
    stiffness = np.zeros_like(unknowns)
    side = np.linalg.norm(sides_px, axis=2).mean(axis=1)
    for tilt, of, share in ((_TILT, _STEP, _LIKELY_TILT), (_LEVEL_TILT, _LEVEL, _LIKELY_LEVEL_TILT)):
        likely = share * np.abs(unknowns[:, of]).clip(_LEAST_LIGHT) / side
        stiffness[:, tilt] = (_LIKELY_NOISE / likely[:, None]) ** 2
    stiffness[:, _BEND] = (_LIKELY_NOISE / _LIKELY_BEND) ** 2
    stiffness[:, _ANGLES] = (_LIKELY_NOISE / _LIKELY_TURN) ** 2
    return stiffness


def _cost(weights: Array, residual: Array, stiffness: Array, strayed: Array) -> Array:
    cost: Array = (weights * residual**2).sum(axis=1) + (stiffness * strayed**2).sum(axis=1)
    return cost


def _normal(slopes: Array, weights: Array, stiffness: Array) -> Array:
    normal: Array = np.swapaxes(slopes * weights[..., None], 1, 2) @ slopes
    normal += stiffness[..., None] * np.eye(_UNKNOWNS)
    return normal


def _change(
    slopes: Array, weights: Array, residual: Array, stiffness: Array, strayed: Array, damping: Array
) -> Array:
    """A damped Gauss-Newton step (n, 12), after Levenberg (1944) and Marquardt (1963)."""
    boost = 1 + damping[:, None, None] * np.eye(_UNKNOWNS)
    normal = _normal(slopes, weights, stiffness + 1e-9) * boost
    right = (np.swapaxes(slopes, 1, 2) @ (weights * residual)[..., None])[..., 0] - stiffness * strayed
    return np.linalg.solve(normal, right[..., None])[..., 0].astype(np.float64)
