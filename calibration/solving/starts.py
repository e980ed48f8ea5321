"""Where the joint estimate starts: homographies through the targets, and sheets laid by them."""

from itertools import product

import cv2
import numpy as np

from calibration.errors import AlignmentError
from calibration.frames import Array
from calibration.photos.sightings import PhotoSighting
from calibration.projector_map import inverse, project
from calibration.solving.joint_model import PROJECTOR, TABLE_UNIT_IN, JointModel, picture_units

_ROBUST_UNITS = 0.01  # of half a picture's width: lens bow stays inside, wild corners do not
_LEAST_SPREAD = 0.02  # of the larger spread; below it, points lie on a line, bow included


def homography(source: Array, image: Array, what: str) -> Array:
    """3 x 3 with last term 1, from (n, 2) to (n, 2), robust to wild pairs.

    Raises AlignmentError where the points lie on a line or no homography explains them.
    """
    spread = (
        np.linalg.svd(source - source.mean(axis=0), compute_uv=False) if len(source) >= 4 else np.zeros(2)
    )
    if spread[1] < _LEAST_SPREAD * max(spread[0], 1e-12):
        raise AlignmentError(
            f"{what} lie on one line ({len(source)} found); four or more, spread over an area, are needed. "
            "Show more of the table and retake the photo"
        )
    matrix, _ = cv2.findHomography(source, image, cv2.RANSAC, _ROBUST_UNITS, maxIters=5000, confidence=0.9999)
    if matrix is None or abs(matrix[2, 2]) < 1e-9:
        raise AlignmentError(f"{what} do not fit a flat table; lay the sheets flat and retake the photo")
    found: Array = np.asarray(matrix / matrix[2, 2], dtype=np.float64)
    return found


def _mirrored(matrix: Array, points: Array) -> bool:
    """Whether a homography turns a plane over, judged at the points' middle."""
    middle = points.mean(axis=0)
    corner = project(matrix, middle + np.array([[0, 0], [1e-3, 0], [0, 1e-3]]))
    x, y = corner[1] - corner[0], corner[2] - corner[0]
    return bool(x[0] * y[1] - x[1] * y[0] < 0)


def rigid(source: Array, image: Array) -> Array:
    """(x, y, turn) that lays source on image, least squares (Arun, Huang and Blostein 1987, in the plane)."""
    a, b = source - source.mean(axis=0), image - image.mean(axis=0)
    turn = np.arctan2((a[:, 0] * b[:, 1] - a[:, 1] * b[:, 0]).sum(), (a * b).sum())
    c, s = np.cos(turn), np.sin(turn)
    shift = image.mean(axis=0) - source.mean(axis=0) @ np.array([[c, s], [-s, c]])
    return np.array([*shift, turn])


def _screen_from_photo(photo: PhotoSighting, screen_px: tuple[int, int]) -> Array:
    camera = picture_units(photo.targets.camera_px, photo.photo_px)
    screen = picture_units(photo.targets.screen_px, screen_px)
    matrix = homography(camera, screen, "The projected marks")
    if _mirrored(matrix, camera):
        raise AlignmentError(
            "The projected marks are seen mirror-wise; turn off mirroring in the projector's or the camera's menu"
        )
    return matrix


def first_guess(model: JointModel) -> Array:
    """Unknowns to start from: no bow, every sheet laid by the homography of the first.

    Raises AlignmentError where the first sheet shares no photo's plane with the targets, or is mirrored.
    """
    screen_from_photo = [_screen_from_photo(photo, model.screen_px) for photo in model.photos]
    on_screen: dict[int, tuple[Array, Array]] = {}
    for photo, matrix in zip(model.photos, screen_from_photo, strict=True):
        for sheet in photo.sheets:
            camera = picture_units(sheet.camera_px, photo.photo_px)
            on_screen.setdefault(sheet.sheet, (sheet.sheet_in / TABLE_UNIT_IN, project(matrix, camera)))
    first, first_on_screen = on_screen[model.sheet_numbers[0]]
    screen_from_table = homography(first, first_on_screen, f"The marks of sheet {model.sheet_numbers[0]}")
    if not _mirrored(screen_from_table, first):  # the table's y is up, the screen's v down
        raise AlignmentError(
            "The sheets are seen mirror-wise; turn off mirroring in the projector's or the camera's menu, "
            "and lay the sheets printed side up"
        )
    x = np.zeros(model.unknowns)
    x[:8] = screen_from_table.ravel()[:8]
    x[model.scale_at] = 1.0
    table_from_screen = inverse(screen_from_table)
    for i, number in enumerate(model.sheet_numbers[1:]):
        known, screen = on_screen[number]
        start = model.places_at + 3 * i
        x[start : start + 3] = rigid(known, project(table_from_screen, screen))
    for i, matrix in enumerate(screen_from_photo):
        camera_from_table = inverse(matrix) @ screen_from_table
        start = model.cameras_at + 8 * i
        x[start : start + 8] = (camera_from_table / camera_from_table[2, 2]).ravel()[:8]
    return x


def starts(model: JointModel) -> list[Array]:
    """The first guess with several bows of camera and projector: one start alone finds wrong minima.

    Lens shift puts the centre of the projector's bow above its picture or below; a start between finds neither
    where the bow is small.
    """
    guess = first_guess(model)
    out = []
    for camera_k1, projector_k1, centre_v in product((0.0, 0.015, -0.015), (0.003, -0.003), (0.75, -0.75)):
        x = guess.copy()
        x[model.lenses_at : model.cameras_at : 4] = camera_k1
        x[PROJECTOR - 4] = projector_k1
        x[PROJECTOR - 1] = centre_v
        out.append(x)
    return out
