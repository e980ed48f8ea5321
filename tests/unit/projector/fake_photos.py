"""Photos of garments that need no looking at: the contour that would be found in each is known beforehand."""

from collections.abc import Callable, Mapping
from dataclasses import replace
from pathlib import Path
from typing import Any, TypeAlias

import cv2
import numpy as np
import pytest

from calibration.frames import TableInches
from calibration.garment.sheet_camera import SheetCamera
from calibration.garment.silhouette import Picture, Say, Silhouette
from calibration.lens import Lens
from calibration.projector_map import ProjectorMap
from calibration.sheets.sheet import Paper
from patterns import Placement, read_pattern
from patterns.curves import Array
from patterns.piece import Piece
from patterns.tracing.outline import TracedPiece, half_piece
from tests.unit.patterns.garments import Garment, contour, garment

PHOTO_PX = (1500, 1200)
PER_IN = 15.0
SEED = 5  # a garment whose edges are named without doubt

CAMERA = SheetCamera(
    seen=ProjectorMap(
        screen_px=PHOTO_PX,
        homography=((PER_IN, 0.0, PHOTO_PX[0] / 2), (0.0, -PER_IN, PHOTO_PX[1] / 2), (0.0, 0.0, 1.0)),
        lens=Lens(k1=0.0, k2=0.0, centre_px=(750.0, 600.0), unit_px=750.0),
        covariance=((0.0,) * 12,) * 12,
    ),
    sheet_numbers=(1, 2),
    sheet_places=((-30.0, 0.0, 0.0), (30.0, 0.0, 0.0)),
    size_sigma=0.0,
    size_checked=True,
)


def wider(one: Garment, times: float) -> Garment:
    """The garment so many times wider."""
    curves = tuple(type(curve)(curve.beziers * (times, 1.0)) for curve in one.curves)
    return replace(one, curves=curves)


def silhouette(one: Garment, seed: int, *, mirrored: bool = False) -> Silhouette:
    """What would be found of it, lying with its fold to the left, or mirrored to the right."""
    middle = one.ring.mean(axis=0) * (-1 if mirrored else 1, 1)
    placement = Placement(x_in=-middle[0], y_in=middle[1], turn_deg=2.0, mirrored=mirrored)
    return Silhouette(
        contour_in=TableInches(contour(one, placement, seed, white_in=0.004)),
        noise_in=0.004,
        error_in=0.012,
        size_share_in=0.0,
        bridges=(),
        camera=CAMERA,
    )


GARMENT = garment(SEED)
FRONT = silhouette(GARMENT, 1)
FLIPPED = silhouette(GARMENT, 2, mirrored=True)
WIDER = silhouette(wider(GARMENT, 1.03), 3)
COMMENT = "# let out at the side for the second act"

Found: TypeAlias = Mapping[str, Silhouette | BaseException]
TakePhotos: TypeAlias = Callable[[Found], dict[str, Path]]


def take_photos(folder: Path, monkeypatch: pytest.MonkeyPatch, found: Found) -> dict[str, Path]:
    """Files so named, in which `trace` finds what is given, or is stopped by it."""
    paths = {}
    for level, name in enumerate(found):
        paths[name] = folder / name
        picture: Array = np.full((PHOTO_PX[1], PHOTO_PX[0], 3), level)
        cv2.imwrite(str(paths[name]), picture.astype(np.uint8), [cv2.IMWRITE_PNG_COMPRESSION, 1])
    known = tuple(found.values())

    def find(
        photo: Picture, paper: Paper, sheets: int | None, printed_ruler_in: float | None, say: Say
    ) -> Silhouette:
        one = known[int(photo[0, 0, 0])]
        say("2 sheets found")
        if isinstance(one, BaseException):
            raise one
        return one

    monkeypatch.setattr("projector.tracing.photo_finder.find_silhouette", find)
    monkeypatch.setattr("projector.tracing.photo_trace.half_piece", half_piece_once)
    return paths


_MADE: dict[tuple[object, ...], TracedPiece] = {}


def half_piece_once(contour_in: Array, *, fold_near: Array | None, **asked: Any) -> TracedPiece:
    """The half piece of a contour that tests share, made but once: it takes half a second."""
    key = (id(contour_in), None if fold_near is None else tuple(fold_near), repr(sorted(asked.items())))
    if key not in _MADE:
        _MADE[key] = half_piece(contour_in, fold_near=fold_near, **asked)
    return _MADE[key]


def front_of(path: Path) -> Piece:
    """The first piece of a pattern file."""
    return read_pattern(path).pieces[0]


def said(capsys: pytest.CaptureFixture[str]) -> str:
    """The one sentence that the command ended with, and nothing else."""
    out, err = capsys.readouterr()
    assert not out
    assert err.count("\n") == 1
    return err.strip().removeprefix("chalkbeam trace: ")
