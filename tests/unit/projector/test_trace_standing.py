"""`trace` by the camera of the alignment, where it stood then."""

import json
from collections.abc import Sequence
from dataclasses import replace
from pathlib import Path

import cv2
import numpy as np
import pytest

from calibration.cameras.kept import KeptCamera
from calibration.cameras.watch import FRAMES
from calibration.errors import AlignmentError
from calibration.garment.sheet_camera import SheetCamera
from calibration.garment.silhouette import Picture, Say, Silhouette
from calibration.lens import Lens
from calibration.sheets.sheet import Paper
from projector.command_line import main
from tests.unit.projector.commands import a_table
from tests.unit.projector.fake_photos import FRONT, PHOTO_PX, TakePhotos, front_of, said
from tests.unit.projector.samples import an_alignment

KEPT = KeptCamera(
    photo_px=PHOTO_PX,
    focal_px=1200.0,
    centre_px=(750.0, 600.0),
    lens=Lens(k1=0.0, k2=0.0, centre_px=(750.0, 600.0), unit_px=750.0),
    turn=(np.pi, 0.0, 0.0),
    at_in=(0.0, 0.0, 80.0),
)
PLACES = ((-30.0, 0.0, 0.0), (30.0, 0.0, 0.0))


def table_by(folder: Path, *cameras: KeptCamera, paper: str = "letter") -> Path:
    """A table file that was aligned by these cameras."""
    return a_table(folder, replace(an_alignment(), paper=paper, cameras=cameras, sheet_places=PLACES))


@pytest.fixture
def bare(monkeypatch: pytest.MonkeyPatch) -> None:
    """No sheet is seen in any photo."""

    def find(
        photo: Picture,
        camera: SheetCamera,
        places: Sequence[tuple[float, float, float]],
        paper: Paper,
        say: Say,
    ) -> Silhouette:
        assert (camera.photo_px, tuple(places), paper.name) == (PHOTO_PX, PLACES, "letter")
        return replace(FRONT, camera=camera)

    monkeypatch.setattr("projector.tracing.photo_finder.shows_sheets", lambda photo, paper: False)
    monkeypatch.setattr("projector.tracing.photo_finder.find_silhouette_amid", find)


@pytest.mark.usefixtures("bare")
def test_a_camera_that_stands_as_it_did_needs_no_sheet(
    take: TakePhotos, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    (photo,) = take({"above.png": FRONT}).values()
    out, table = tmp_path / "top.yaml", table_by(tmp_path, KEPT)
    asked = ["trace", "--photo", str(photo), "--table", str(table), "--standing", "--out", str(out), "--json"]
    assert main(asked) == 0
    told = json.loads(capsys.readouterr().out)
    assert told["sheets"] == 0
    assert told["warnings"] == [
        "seen by the camera as it stood for the alignment of 2026-03-04 09:30; if it has been moved since, lay a sheet "
        "beside the garment and trace again"
    ]
    assert front_of(out).name == "front"


@pytest.mark.usefixtures("bare")
def test_a_camera_is_read_until_its_picture_is_still(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    """Recorded frames through the real capture call."""
    coarse = np.random.default_rng(3).integers(20, 236, (24, 30, 3), dtype=np.uint8)
    frame = cv2.resize(coarse, PHOTO_PX, interpolation=cv2.INTER_NEAREST)
    recorded = cv2.imencode(".png", frame, [cv2.IMWRITE_PNG_COMPRESSION, 1])[1].tobytes()
    for number in range(FRAMES):
        (tmp_path / f"f_{number:03}.png").write_bytes(recorded)
    out, frames = tmp_path / "top.yaml", str(tmp_path / "f_%03d.png")
    asked = [
        "trace",
        "--camera",
        frames,
        "--table",
        str(table_by(tmp_path, KEPT)),
        "--out",
        str(out),
        "--json",
    ]
    assert main(asked) == 0
    told = json.loads(capsys.readouterr().out)
    assert told["photos"] == [frames]
    assert told["warnings"][0].startswith("seen by the camera as it stood for the alignment")
    (tmp_path / "f_000.png").unlink()
    assert main([*asked, "--again"]) == 1
    assert f"the recorded frames end after {FRAMES - 1}; more are needed" in said(capsys)


@pytest.mark.usefixtures("bare")
@pytest.mark.parametrize(
    ("cameras", "paper", "sentence"),
    [
        (
            (),
            "letter",
            "no sheet is seen, and of a camera whose photos have 1500x1200 pixels the table file knows",
        ),
        ((KEPT, replace(KEPT, at_in=(4.0, 0.0, 80.0))), "letter", "as by a camera held in the hand"),
        ((), "", "was aligned without printed sheets, so it knows of no camera"),
    ],
)
def test_without_a_sheet_and_without_such_a_camera_nothing_is_traced(
    cameras: tuple[KeptCamera, ...],
    paper: str,
    sentence: str,
    take: TakePhotos,
    tmp_path: Path,
    capsys: pytest.CaptureFixture[str],
) -> None:
    (photo,) = take({"above.png": FRONT}).values()
    out, table = tmp_path / "top.yaml", table_by(tmp_path, *cameras, paper=paper)
    asked = ["trace", "--photo", str(photo), "--table", str(table), "--standing", "--out", str(out), "--json"]
    assert main(asked) == 1
    assert sentence in said(capsys)
    assert not out.exists()


@pytest.mark.usefixtures("bare")
def test_a_photo_without_a_sheet_is_told_of_the_camera_that_needs_none(
    take: TakePhotos, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    (photo,) = take({"above.png": AlignmentError("no sheet is seen")}).values()
    out = tmp_path / "top.yaml"
    asked = ["trace", "--photo", str(photo), "--out", str(out)]
    assert main([*asked, "--table", str(table_by(tmp_path, KEPT)), "--json"]) == 1
    assert said(capsys) == (
        "no sheet is seen; a camera that stands where it stood for the alignment needs no sheet: say --standing (a "
        "phone held in the hand does not stand still)"
    )
    assert main(asked) == 1
    assert said(capsys) == "no sheet is seen"


def test_sheets_beside_the_garment_tell_that_the_camera_has_moved(
    take: TakePhotos, tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    """The camera of the fake photos looks straight down at 15 pixels to the inch: so does one at 80 in of 1200 px."""
    monkeypatch.setattr("projector.tracing.photo_finder.shows_sheets", lambda photo, paper: True)
    (photo,) = take({"above.png": FRONT}).values()
    for height, expected in ((80.0, 0), (82.0, 1)):
        table = table_by(tmp_path, replace(KEPT, at_in=(0.0, 0.0, height)))
        out = tmp_path / f"{height}.yaml"
        asked = [
            "trace",
            "--photo",
            str(photo),
            "--table",
            str(table),
            "--standing",
            "--out",
            str(out),
            "--json",
        ]
        assert main(asked) == 0
        told = json.loads(capsys.readouterr().out)
        assert len(told["warnings"]) == expected
        assert told["sheets"] == 2
    assert told["warnings"] == [
        "the camera does not stand as it did for the alignment: seen from there, the sheets would be 7/8 in out of "
        "shape; this trace is by the sheets, but align again before one without them"
    ]
