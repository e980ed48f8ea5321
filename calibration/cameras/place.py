"""Where the cameras of a joint model were: each one's plane-to-picture homography, read as that of a pinhole.

A homography has eight terms; a pinhole's place and turn are six, its focal length and where its axis meets the
picture three. What is missing is that the axis meets a picture near its middle. The centre of the bow does not
say where: paper that is not flat drives it far off.
"""

from dataclasses import replace
from typing import Final

import cv2
import numpy as np

from calibration.cameras.kept import KeptCamera, rotation
from calibration.frames import Array
from calibration.lens import Lens
from calibration.projector_map import inverse
from calibration.solving.joint_model import CAMERA_LENS_SIGMA, TABLE_UNIT_IN, JointModel, lie, matrix_of

_HOMOGRAPHY: Final = 8
_AXIS_SIGMA: Final = CAMERA_LENS_SIGMA[2]  # half widths from the picture's middle
_USUAL_FOCAL: Final = 1.5  # half widths; common practice for phones and webcams
_FOCAL_SIGMA: Final = float(
    np.log(2)
)  # a doubling either way is one sigma; counts where one looks straight down


def kept_cameras(model: JointModel, x: Array, covariance: Array) -> tuple[KeptCamera, ...]:
    """The camera of each photo by the unknowns (k,) and their (k, k) covariance, in the frame of the first sheet."""
    kept = []
    for number, photo in enumerate(model.photos):
        start = model.cameras_at + _HOMOGRAPHY * number
        own = slice(start, start + _HOMOGRAPHY)
        focal, axis, turn, at = _pinhole(x[own], covariance[own, own])
        half = photo.photo_px[0] / 2
        middle = (np.array(photo.photo_px) - 1) / 2
        k1, k2, *bow_centre = model.camera_lens(x, number)
        kept.append(
            KeptCamera(
                photo_px=photo.photo_px,
                focal_px=focal * half,
                centre_px=_pair(middle + half * axis),
                lens=Lens(
                    k1=float(k1),
                    k2=float(k2),
                    centre_px=_pair(middle + half * np.array(bow_centre)),
                    unit_px=half,
                ),
                turn=_triple(turn),
                at_in=_triple(at * TABLE_UNIT_IN),
            )
        )
    return tuple(kept)


def camera_in_frame(camera: KeptCamera, place: Array) -> KeptCamera:
    """The camera for a table frame in which its own lies at `place` (x inches, y inches, turn in radians)."""
    x, y = lie(place, np.array([camera.at_in[:2]]))[0]
    turned = rotation(camera.turn) @ rotation((0.0, 0.0, -float(place[2])))
    turn = _triple(np.asarray(cv2.Rodrigues(turned)[0], dtype=np.float64).ravel())
    return replace(camera, turn=turn, at_in=(float(x), float(y), camera.at_in[2]))


def _pinhole(terms: Array, covariance: Array) -> tuple[float, Array, Array, Array]:
    """Focal length, where the axis meets the picture, turn and place, in model units: likeliest by the (8,) terms."""
    from scipy.optimize import least_squares

    spread = np.sqrt(np.diag(covariance))
    values, vectors = np.linalg.eigh(covariance / np.outer(spread, spread))
    whitened = (vectors / np.sqrt(values.clip(1e-12))).T / spread

    def misfit(pinhole: Array) -> Array:
        unlike = (pinhole[0] - np.log(_USUAL_FOCAL)) / _FOCAL_SIGMA
        return np.concatenate([whitened @ (_terms(pinhole) - terms), pinhole[1:3] / _AXIS_SIGMA, [unlike]])

    found = least_squares(misfit, _begun(matrix_of(terms)), x_scale="jac").x
    return float(np.exp(found[0])), found[1:3], found[3:6], found[6:]


def _terms(pinhole: Array) -> Array:
    """(8,) terms of the homography of (9,): log focal length, axis, turn, place."""
    turned = rotation(_triple(pinhole[3:6]))
    plane = np.column_stack([turned[:, :2], -turned @ pinhole[6:]])
    matrix = _picture(float(np.exp(pinhole[0])), pinhole[1:3]) @ plane
    terms: Array = (matrix / matrix[2, 2]).ravel()[:_HOMOGRAPHY]
    return terms


def _begun(picture_from_table: Array) -> Array:
    """(9,) a pinhole of the usual focal length whose axis meets the middle, near the homography."""
    across, along, origin = (inverse(_picture(_USUAL_FOCAL, np.zeros(2))) @ picture_from_table).T
    size = np.sqrt(np.linalg.norm(across) * np.linalg.norm(along))
    left, _, right = np.linalg.svd(
        np.column_stack([across, along, np.cross(across, along) / size]) / size
    )  # the nearest rotation
    turned = left @ right
    return np.concatenate(
        [[np.log(_USUAL_FOCAL), 0.0, 0.0], cv2.Rodrigues(turned)[0].ravel(), -turned.T @ origin / size]
    )


def _picture(focal: float, axis: Array) -> Array:
    """(3, 3) from directions right, down and ahead to the picture."""
    return np.array([[focal, 0, axis[0]], [0, focal, axis[1]], [0, 0, 1]])


def _pair(values: Array) -> tuple[float, float]:
    return float(values[0]), float(values[1])


def _triple(values: Array) -> tuple[float, float, float]:
    return float(values[0]), float(values[1]), float(values[2])
