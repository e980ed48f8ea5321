"""The camera of an alignment where it stood then: it sees the table without a sheet, while nobody moves it."""

from typing import Final

import numpy as np

from calibration.cameras.kept import KeptCamera, rotation
from calibration.errors import AlignmentError
from calibration.frames import Array, TableInches
from calibration.garment.sheet_camera import SheetCamera
from calibration.projector_map import ProjectorMap
from calibration.solving.joint_model import PROJECTOR
from calibration.solving.solve import PRINTER_SIGMA
from calibration.table.saved import Alignment

MOVED_IN: Final = 1 / 16  # of the table as it sees it: what a projected line may be off (common practice)
_ONE_PLACE_IN: Final = 0.25  # the photos of a camera that stands still tell of one place, within their errors
_P95_OF_SIGMA: Final = 2.45  # 95 % of errors in a plane are within 2.45 sigma (Rayleigh)


def standing_camera(alignment: Alignment, photo_px: tuple[int, int]) -> SheetCamera:
    """The camera that took photos of that width and height for the alignment, in the table's frame.

    Raises AlignmentError where it keeps none, or where its photos were taken from different places.
    """
    kept = [camera for camera in alignment.cameras if camera.photo_px == photo_px]
    size = f"{photo_px[0]}x{photo_px[1]}"
    if not kept:
        sizes = " and ".join(
            dict.fromkeys(f"{w}x{h}" for w, h in (one.photo_px for one in alignment.cameras))
        )
        has = f"only one whose photos have {sizes}" if sizes else "none"
        raise AlignmentError(
            f"no sheet is seen, and of a camera whose photos have {size} pixels the table file knows nothing ({has}); "
            "lay a printed sheet beside the garment, or align the table by this camera"
        )
    places = np.array([one.at_in for one in kept])
    if len(kept) > 1 and float(np.ptp(places, axis=0).max()) > _ONE_PLACE_IN:
        raise AlignmentError(
            f"no sheet is seen, and the table was aligned by photos of {size} pixels from {len(kept)} places, as by a "
            "camera held in the hand, which does not stand still; lay a printed sheet beside the garment"
        )
    return SheetCamera(
        seen=_seen(kept[-1], alignment.p95_in / _P95_OF_SIGMA),
        sheet_numbers=(),
        sheet_places=(),
        size_sigma=0.0 if alignment.size_checked else PRINTER_SIGMA,
        size_checked=alignment.size_checked,
    )


def moved_in(standing: SheetCamera, by_sheets: SheetCamera) -> float:
    """How far in inches the two take the photo's shape to be from one another at the worst place on the sheets.

    Both saw one photo. Where they lie, wherever that is, sheets are as large and as flat for both unless the
    camera has moved.
    """
    seen_in = TableInches(_spread(by_sheets))
    pixels = by_sheets.camera_from_table(seen_in)
    return float(
        np.hypot(*_unlike(np.asarray(seen_in), np.asarray(standing.table_from_camera(pixels))).T).max()
    )


def _spread(camera: SheetCamera) -> Array:
    """(n, 2) table inches over the sheets: their middles, and points round each."""
    middles = np.array([place[:2] for place in camera.sheet_places])
    round_in = np.array([(0.0, 0.0), (4.0, 0.0), (0.0, 4.0), (-4.0, 0.0), (0.0, -4.0)])
    spread: Array = (middles[:, None] + round_in).reshape(-1, 2)
    return spread


def _unlike(one: Array, other: Array) -> Array:
    """(n, 2) what is left between two shapes when one is laid on the other as well as can be (Kabsch 1976)."""
    here, there = one - one.mean(axis=0), other - other.mean(axis=0)
    left, _, right = np.linalg.svd(there.T @ here)
    flip = np.diag([1.0, float(np.sign(np.linalg.det(left @ right)))])
    off: Array = there @ left @ flip @ right - here
    return off


def _seen(kept: KeptCamera, sigma_in: float) -> ProjectorMap:
    """The map from the table to its photo, as that of a projector run backwards."""
    ground = np.column_stack([np.eye(3)[:, 0], np.eye(3)[:, 1], -np.array(kept.at_in)])
    u, v = kept.centre_px
    picture = np.array([[kept.focal_px, 0, u], [0, kept.focal_px, v], [0, 0, 1]])
    matrix = picture @ rotation(kept.turn) @ ground
    (a, b, c), (d, e, f), (g, h, i) = (matrix / matrix[2, 2]).tolist()
    return ProjectorMap(
        screen_px=kept.photo_px,
        homography=((a, b, c), (d, e, f), (g, h, i)),
        lens=kept.lens,
        covariance=((0.0,) * PROJECTOR,) * PROJECTOR,
        floor_in=sigma_in,
    )
