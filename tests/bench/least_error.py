"""The least error that any unbiased estimator could have: the Cramér-Rao bound of a practice table's own optics.

Cramér, Mathematical Methods of Statistics (1946), 32.6; Rao (1945). The unknowns are those that the table
really has: projector and camera as pinholes with their bow (one fewer each than a free homography and a free
centre of bow), and the loose sheets; print scale known. Slopes are differences of the simulator, which shares
no code with the solver.
"""

from collections.abc import Callable, Sequence
from dataclasses import replace

import cv2
import numpy as np
import numpy.typing as npt

from calibration.frames import Array
from calibration.practice.optics import Eye
from calibration.practice.table import PracticeTable
from calibration.sheets.sheet import PAPERS, Sheet
from calibration.sheets.targets import Targets
from tests.unit.calibration.corners import SCREEN_PX

_STEP = 1e-6
_UNIT_IN = 30.0  # steps of every unknown are of a like size

Views = tuple[PracticeTable, ...]
_Move = Callable[[Views, float], Views]


def _lens_moves() -> list[Callable[[Eye, float], Eye]]:
    """What a small step does to an eye's focal length, centre and bow."""

    def centre(axis: int) -> Callable[[Eye, float], Eye]:
        def moved(eye: Eye, step: float) -> Eye:
            u, v = np.array(eye.centre_px) + step * eye.size_px[0] * np.eye(2)[axis]
            return replace(eye, centre_px=(float(u), float(v)))

        return moved

    return [
        lambda eye, step: replace(eye, focal_px=eye.focal_px * (1 + step)),
        centre(0),
        centre(1),
        lambda eye, step: replace(eye, bow=(eye.bow[0] + step, eye.bow[1])),
        lambda eye, step: replace(eye, bow=(eye.bow[0], eye.bow[1] + step)),
    ]


def _pose_moves() -> list[Callable[[Eye, float], Eye]]:
    """What a small step does to where an eye is and how it is turned."""

    def along(axis: int) -> Callable[[Eye, float], Eye]:
        def moved(eye: Eye, step: float) -> Eye:
            x, y, z = np.array(eye.at_in) + _UNIT_IN * step * np.eye(3)[axis]
            return replace(eye, at_in=(float(x), float(y), float(z)))

        return moved

    def about(axis: int) -> Callable[[Eye, float], Eye]:
        def moved(eye: Eye, step: float) -> Eye:
            turn, _ = cv2.Rodrigues((step * np.eye(3)[axis]).astype(np.float64))
            right, down, ahead = (tuple(row) for row in (np.array(eye.axes) @ turn).tolist())
            return replace(eye, axes=(right, down, ahead))

        return moved

    return [*(along(axis) for axis in range(3)), *(about(axis) for axis in range(3))]


def _sheet_move(place: int, part: str, unit: float) -> _Move:
    def moved(views: Views, step: float) -> Views:
        sheets = list(views[0].sheets)
        pose = sheets[place].pose
        sheets[place] = replace(
            sheets[place], pose=replace(pose, **{part: getattr(pose, part) + unit * step})
        )
        return tuple(replace(view, sheets=tuple(sheets)) for view in views)

    return moved


def _moves(views: Views) -> tuple[list[_Move], list[_Move]]:
    """The unknowns: those of the projector, and all others."""

    def on_projector(change: Callable[[Eye, float], Eye]) -> _Move:
        return lambda vs, step: tuple(replace(v, projector=change(v.projector, step)) for v in vs)

    def on_cameras(change: Callable[[Eye, float], Eye], of: Sequence[int]) -> _Move:
        return lambda vs, step: tuple(
            replace(v, camera=change(v.camera, step)) if i in of else v for i, v in enumerate(vs)
        )

    every = range(len(views))
    sheets = range(1, len(views[0].sheets))  # sheet 1 sets the frame
    return [on_projector(change) for change in (*_lens_moves(), *_pose_moves())], [
        *(
            _sheet_move(i, *p)
            for i in sheets
            for p in (("x_in", _UNIT_IN), ("y_in", _UNIT_IN), ("turn_deg", 57.0))
        ),
        *(on_cameras(change, every) for change in _lens_moves()),
        *(on_cameras(change, [i]) for i in every for change in _pose_moves()),
    ]


def least_rms_in(views: Views, noise_px: float, believed: npt.NDArray[np.bool_] | None = None) -> float:
    """Inches RMS over the table, expected of the best unbiased estimator from all corners in the views.

    `believed` (n,) leaves corners out, photo by photo, sheets before targets: the bound is then that of one who
    knows which corners are wild.
    """
    drawn = Sheet(paper=PAPERS["letter"], number=1).corners_in
    corners = Targets(screen_px=SCREEN_PX, sheets=len(views[0].sheets), paper=PAPERS["letter"]).corners_px
    grid = views[0].grid(2.0)
    lit_px = views[0].true_screen_from_table(grid)

    def sighted(of: Views) -> Array:
        parts = [
            part
            for view in of
            for part in (
                *(view.camera_from_sheet(laid.number, drawn) for laid in view.sheets),
                view.camera_from_screen(corners),
            )
        ]
        every = np.concatenate(parts)
        return every.ravel() if believed is None else every[believed].ravel()

    def slope(of: Callable[[Views], Array], move: _Move) -> Array:
        difference: Array = (of(move(views, _STEP)) - of(move(views, -_STEP))) / (2 * _STEP)
        return difference

    projector, others = _moves(views)
    sees = np.stack([slope(sighted, move) for move in (*projector, *others)], axis=-1) / noise_px
    lands = [slope(lambda of: of[0].true_table_from_screen(lit_px), move) for move in projector]
    spread = np.linalg.norm(sees, axis=0)
    information = (sees / spread).T @ (sees / spread)
    # a bow near nothing leaves its centre open, without moving any light
    covariance = np.linalg.pinv(information, rcond=1e-13, hermitian=True) / np.outer(spread, spread)
    slopes = np.stack(lands, axis=-1)
    own = covariance[: len(projector), : len(projector)]
    return float(np.sqrt(np.einsum("nij,jk,nik->n", slopes, own, slopes).mean()))
