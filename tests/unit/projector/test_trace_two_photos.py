"""`trace --photo` with two photos of one half, or of a piece without a fold."""

import json
from dataclasses import replace
from pathlib import Path

import cv2
import numpy as np
import pytest
import shapely

from calibration.frames import TableInches
from patterns.checks.half_measures import captured_in
from patterns.piece import in_inches
from projector.command_line import main
from tests.unit.projector.fake_photos import (
    CAMERA,
    FLIPPED,
    FRONT,
    GARMENT,
    WIDER,
    TakePhotos,
    front_of,
    said,
)


def test_both_faces_are_averaged(
    take: TakePhotos, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    photos = take({"face.png": FRONT, "back face.png": FLIPPED})
    out = tmp_path / "top.yaml"
    assert main(["trace", "--photo", *map(str, photos.values()), "--out", str(out)]) == 0
    lines = capsys.readouterr().out.splitlines()
    assert lines[0] == f"{out}: front with neck, overarm, sleeve hem, side, hem, centre front"
    assert lines[1] == "edges good to 1/64 in in the mean; the fold is straight to 1/64 in"
    assert lines[2].startswith("between the two photos; the two outlines lie ")
    assert not [line for line in lines if line.startswith("look:")]


def test_the_average_lies_half_way_and_says_how_far_apart_the_two_are(
    take: TakePhotos, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    photos = take({"left.png": FRONT, "right.png": WIDER})
    out, picture = tmp_path / "top.yaml", tmp_path / "outline.png"
    asked = ["trace", "--photo", *map(str, photos.values()), "--fold", "left", "--out", str(out), "--json"]
    assert main([*asked, "--picture", str(picture)]) == 0
    _shows_both(picture)
    told = json.loads(capsys.readouterr().out)
    widest = float(GARMENT.ring[:, 0].max())
    assert told["apart_in"] == pytest.approx(0.03 * widest, abs=0.04)
    assert told["photos"] == [str(path) for path in photos.values()]
    assert captured_in(front_of(out), "centre to sleeve hem") == pytest.approx(1.015 * widest, abs=0.03)
    assert told["expected_error_in"] == pytest.approx(0.012 / np.sqrt(2))
    assert [warning.partition(":")[0] for warning in told["warnings"]][-2:] == [
        "hem",
        "--again with --use first or --use second takes one photo alone",
    ]


def _shows_both(picture: Path) -> None:
    read = cv2.imread(str(picture))
    assert read is not None
    shown = read.astype(int)
    violet = (shown[..., 0] > 200) & (shown[..., 1] < 170) & (shown[..., 2] > 190)
    green = (shown[..., 1] > 200) & (shown[..., 0] < 170) & (shown[..., 2] < 180)
    assert violet.sum() > 50
    assert green.sum() > 50


def test_the_better_half_is_used_alone(
    take: TakePhotos, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    photos = take({"left.png": FRONT, "right.png": WIDER})
    out = tmp_path / "top.yaml"
    asked = ["trace", "--photo", *map(str, photos.values()), "--out", str(out)]
    assert main([*asked, "--use", "first"]) == 0
    widest = float(GARMENT.ring[:, 0].max())
    assert captured_in(front_of(out), "centre to sleeve hem") == pytest.approx(widest, abs=0.03)
    lines = capsys.readouterr().out.splitlines()
    assert lines[2].startswith(f"as in {photos['left.png']} alone; the two outlines lie ")
    assert main([*asked, "--use", "second", "--again"]) == 0
    assert captured_in(front_of(out), "centre to sleeve hem") == pytest.approx(1.03 * widest, abs=0.03)


def test_halves_with_other_edges_are_not_averaged(
    take: TakePhotos, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    """The fold of one is at its left and of the other at its right: one side for both is wrong for one."""
    photos = take({"left.png": FRONT, "right.png": FLIPPED})
    out = tmp_path / "top.yaml"
    asked = ["trace", "--photo", *map(str, photos.values()), "--out", str(out)]
    assert main([*asked, "--fold", "left"]) == 1
    assert not out.exists()
    capsys.readouterr()
    assert main([*asked, "--fold", "left", "right"]) == 0


@pytest.mark.parametrize("quarters", [0, 1, 2, 3])
def test_a_whole_piece_is_named_clockwise_as_it_lies_in_the_photo(
    quarters: int, take: TakePhotos, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    """A pocket of 9 by 6 in, at a slant; the frame of sheet 1 is turned by quarters to what the photo shows."""
    corners = np.array([(-4.0, 3.5), (5.0, 2.5), (5.0, -3.5), (-4.0, -2.5)])
    side = shapely.segmentize(shapely.LinearRing(corners), 0.02)
    turn = np.linalg.matrix_power(np.array([[0, 1], [-1, 0]]), quarters)
    ring = shapely.get_coordinates(side)[:-1] @ turn
    homography = np.array(CAMERA.seen.homography) @ np.block(
        [[turn, np.zeros((2, 1))], [np.zeros((1, 2)), 1]]
    )
    a, b, c = (tuple(map(float, row)) for row in homography)
    seen = replace(CAMERA.seen, homography=((a[0], a[1], a[2]), (b[0], b[1], b[2]), (c[0], c[1], c[2])))
    pocket = replace(FRONT, contour_in=TableInches(ring), camera=replace(CAMERA, seen=seen))
    (photo,) = take({"pocket.png": pocket}).values()
    out = tmp_path / "coat.yaml"
    asked = ["trace", "--photo", str(photo), "--fold", "none", "--piece", "pocket", "--out", str(out)]
    assert main([*asked, "--edges", "top hem,right,bottom"]) == 1
    assert said(capsys).startswith(
        "3 names for the edges, where 4 corners were found; name the edges from corner"
    )
    assert main([*asked, "--edges", "top hem,right,bottom,left", "--picture", str(tmp_path / "p.png")]) == 0
    assert capsys.readouterr().out.splitlines()[1] == "edges good to 1/64 in in the mean"
    piece = front_of(out)
    assert str(piece.cut) == "1"
    begins = in_inches(tuple(edge.path[0] for edge in piece.edges))
    assert begins == pytest.approx((corners - (-4.0, 3.5)) * (1, -1), abs=0.02)
