"""`trace` round the tracing itself: two photos, a piece anew, touching up, tapes, progress, interruption."""

import io
import json
from collections.abc import Callable, Mapping, Sequence
from dataclasses import replace
from pathlib import Path
from typing import TypeAlias

import cv2
import numpy as np
import pytest
import shapely

from calibration.camera_watch import FRAMES
from calibration.errors import AlignmentError
from calibration.frames import TableInches
from calibration.kept_camera import KeptCamera
from calibration.lens import Lens
from calibration.sheet import Paper
from calibration.sheet_camera import SheetCamera
from calibration.silhouette import Picture, Say, Silhouette
from patterns import read_pattern
from patterns.changes import ShoulderForward
from patterns.half_measures import captured_in
from patterns.parts import Bend
from patterns.piece import Piece, in_inches
from projector.command_line import main
from projector.progress import Progress
from tests.unit.projector.commands import a_table
from tests.unit.projector.fake_photos import CAMERA, GARMENT, PHOTO_PX, silhouette, take_photos, wider
from tests.unit.projector.samples import an_alignment

TakePhotos: TypeAlias = Callable[[Mapping[str, Silhouette | BaseException]], dict[str, Path]]
FRONT = silhouette(GARMENT, 1)
FLIPPED = silhouette(GARMENT, 2, mirrored=True)
WIDER = silhouette(wider(GARMENT, 1.03), 3)
COMMENT = "# let out at the side for the second act"


@pytest.fixture
def take(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> TakePhotos:
    return lambda found: take_photos(tmp_path, monkeypatch, found)


def front_of(path: Path) -> Piece:
    return read_pattern(path).pieces[0]


def said(capsys: pytest.CaptureFixture[str]) -> str:
    """The sentence that a command ended with."""
    out, err = capsys.readouterr()
    assert not out
    assert err.count("\n") == 1
    return err.strip().removeprefix("chalkbeam trace: ")


# two photos


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


# without a fold


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


# anew


def test_a_piece_taken_anew_keeps_what_was_authored(
    take: TakePhotos, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    photos = take({"one.png": FRONT, "two.png": WIDER})
    out = tmp_path / "top.yaml"
    assert main(["trace", "--photo", str(photos["one.png"]), "--out", str(out)]) == 0
    text = out.read_text(encoding="utf-8")
    for old, new in (
        ("{name: hem, kind: hem,", f"{{name: hem, allowance: 1 in, kind: hem,  {COMMENT}\n         "),
        ("allowance: {seam", "changes: [{neck: v, piece: front, depth: 8 in}]\nallowance: {seam"),
    ):
        assert old in text
        text = text.replace(old, new)
    text += "    notches: [{edge: side, at: 5 in, from: end}]\n"
    out.write_text(text, encoding="utf-8")
    before = read_pattern(out)
    assert main(["trace", "--photo", str(photos["two.png"]), "--out", str(out)]) == 1
    assert "--again takes its outline anew" in capsys.readouterr().err
    assert out.read_text(encoding="utf-8") == text
    assert main(["trace", "--photo", str(photos["two.png"]), "--out", str(out), "--again"]) == 0
    after = read_pattern(out)
    assert COMMENT in out.read_text(encoding="utf-8")
    assert after.changes == before.changes
    assert after.pieces[0].notches == before.pieces[0].notches
    assert [edge.allowance for edge in after.pieces[0].edges] == [
        edge.allowance for edge in before.pieces[0].edges
    ]
    assert captured_in(after.pieces[0], "centre to sleeve hem") == pytest.approx(
        1.03 * captured_in(before.pieces[0], "centre to sleeve hem"), abs=0.03
    )


def test_names_of_its_own_stay_when_a_piece_is_taken_anew(
    take: TakePhotos, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    photos = take({"one.png": FRONT, "two.png": WIDER})
    out = tmp_path / "top.yaml"
    own = "neckline,top arm,cuff,side,lower hem,centre front"
    assert main(["trace", "--photo", str(photos["one.png"]), "--out", str(out), "--edges", own]) == 0
    assert main(["trace", "--photo", str(photos["two.png"]), "--out", str(out), "--again"]) == 0
    assert [edge.name for edge in front_of(out).edges] == own.split(",")


def test_what_is_not_there_cannot_be_taken_anew(
    take: TakePhotos, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    (photo,) = take({"one.png": FRONT}).values()
    out = tmp_path / "top.yaml"
    assert main(["trace", "--photo", str(photo), "--out", str(out), "--again"]) == 1
    assert said(capsys) == "top.yaml: found no such file; wanted the path of a pattern file"
    assert main(["trace", "--photo", str(photo), "--out", str(out)]) == 0
    capsys.readouterr()
    assert main(["trace", "--photo", str(photo), "--out", str(out), "--again", "--piece", "back"]) == 1
    assert said(capsys) == f"{out} has no piece back; it has front: name one with --piece"


# touching up


def bent(piece: Piece, name: str) -> tuple[Bend, int]:
    edge = next(edge for edge in piece.edges if edge.name == name)
    return edge.bend, len(edge.path)


def test_edges_are_touched_up_as_they_are_traced(take: TakePhotos, tmp_path: Path) -> None:
    (photo,) = take({"one.png": FRONT}).values()
    plain, out = tmp_path / "plain.yaml", tmp_path / "top.yaml"
    assert main(["trace", "--photo", str(photo), "--out", str(plain)]) == 0
    touches = ["--straighten", "overarm", "--smooth", "side", "--folded-away", "hem: 1/2 in"]
    assert main(["trace", "--photo", str(photo), "--out", str(out), *touches]) == 0
    before, after = front_of(plain), front_of(out)
    assert bent(after, "overarm") == (Bend.STRAIGHT, 2)
    assert bent(after, "side")[1] <= bent(before, "side")[1]
    longer = captured_in(after, "centre length") - captured_in(before, "centre length")
    assert longer == pytest.approx(0.5, abs=0.02)


def test_a_piece_in_its_file_is_touched_up_without_a_photo(
    take: TakePhotos, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    (photo,) = take({"one.png": FRONT}).values()
    out = tmp_path / "top.yaml"
    assert main(["trace", "--photo", str(photo), "--out", str(out)]) == 0
    text = f"{COMMENT}\n{out.read_text(encoding='utf-8')}"
    out.write_text(text, encoding="utf-8")
    capsys.readouterr()
    assert main(["trace", "--out", str(out), "--straighten", "overarm", "--left-off", "hem: 1 in"]) == 0
    assert capsys.readouterr().out == f"{out}: front with overarm straightened, hem moved in\n"
    assert bent(front_of(out), "overarm") == (Bend.STRAIGHT, 2)
    after = out.read_text(encoding="utf-8")
    assert after.startswith(f"{COMMENT}\n")
    assert main(["trace", "--out", str(out), "--smooth", "sleeve"]) == 1
    assert said(capsys) == (
        'front has no edge "sleeve"; its edges are neck, overarm, sleeve hem, side, hem, centre front'
    )
    assert out.read_text(encoding="utf-8") == after


def test_the_shoulder_comes_forward_between_front_and_back(
    take: TakePhotos, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    photos = take({"front.png": FRONT, "back.png": FLIPPED})
    out = tmp_path / "top.yaml"
    forward = ["--out", str(out), "--shoulder-forward", "3/8 in"]
    assert main(["trace", "--photo", str(photos["front.png"]), *forward]) == 1
    assert said(capsys) == (
        f"--shoulder-forward takes from the front what it gives to the back, and {out} has no back yet; trace "
        "that first, and say it with the second of the two"
    )
    assert main(["trace", "--photo", str(photos["front.png"]), "--out", str(out)]) == 0
    text = out.read_text(encoding="utf-8")
    out.write_text(
        text
        + f"changes:\n  - {{neck: v, piece: front, depth: 8 in}}  {COMMENT}\nversions: {{plain: {{without: [0]}}}}\n",
        encoding="utf-8",
    )
    assert main(["trace", "--photo", str(photos["back.png"]), "--piece", "back", *forward]) == 0
    pattern = read_pattern(out)
    assert isinstance(pattern.changes[0], ShoulderForward)
    assert pattern.changes[0].by.spelling == "3/8 in"
    assert pattern.versions[0].without == (1,)
    assert f"\n  - {{shoulder forward: 3/8 in}}\n  - {{neck: v, piece: front, depth: 8 in}}  {COMMENT}\n" in (
        out.read_text(encoding="utf-8")
    )
    capsys.readouterr()
    assert main(["trace", *forward]) == 1
    assert said(capsys) == f"{out} brings the shoulder forward by 3/8 in already; change it there"
    assert main(["trace", *forward, "--piece", "cuff"]) == 1
    assert said(capsys) == f"{out} has no piece cuff; it has front, back: name one with --piece"


# a tape


def test_what_the_tape_says_is_told_with_the_trace(
    take: TakePhotos, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    photos = take({"front.png": FRONT, "back.png": FLIPPED})
    out = tmp_path / "top.yaml"
    asked = ["trace", "--photo", str(photos["front.png"]), "--out", str(out)]
    assert main([*asked, "--taped", "girth 40 in at 16 in"]) == 1
    assert said(capsys).startswith("a girth goes round front and back, and there is front alone")
    assert not out.exists()
    reach = float(GARMENT.ring[:, 0].max())
    taped = ["--taped", f"centre to sleeve hem {reach:.2f} in", "--taped", "neck width 1 in"]
    assert main([*asked, *taped]) == 0
    lines = capsys.readouterr().out.splitlines()
    assert lines[3].endswith(f"{reach:.2f} in   agrees")
    assert lines[5].startswith("look: neck width: captured ")
    back = ["trace", "--photo", str(photos["back.png"]), "--out", str(out), "--piece", "back", "--json"]
    assert main([*back, "--taped", "girth 1 in at 16 in"]) == 0
    told = json.loads(capsys.readouterr().out)
    assert told["taped"][0]["what"] == "girth at 16 in"
    assert any(warning.startswith("girth at 16 in: captured") for warning in told["warnings"])


# by the camera of the alignment


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

    monkeypatch.setattr("projector.photo_finder.shows_sheets", lambda photo, paper: False)
    monkeypatch.setattr("projector.photo_finder.find_silhouette_amid", find)


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
    monkeypatch.setattr("projector.photo_finder.shows_sheets", lambda photo, paper: True)
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


# while it takes its time


class Terminal(io.StringIO):
    def isatty(self) -> bool:
        return True


def test_progress_is_one_line_on_a_terminal_and_gone_at_the_end() -> None:
    shown = Terminal()
    with Progress(shown) as progress:
        progress.of("front.jpg")
        progress("garment told from the table")
        progress("edge followed")
    lines = shown.getvalue().split("\r")
    assert [line.rstrip() for line in lines] == [
        *("", "front.jpg: garment told from the table ...", "front.jpg: edge followed ...", "", ""),
    ]
    assert len({len(line) for line in lines[1:-1]}) == 1
    assert "\n" not in shown.getvalue()


def test_nothing_of_it_is_said_to_a_file() -> None:
    silent = io.StringIO()
    with Progress(silent) as progress:
        progress("edge followed")
    assert silent.getvalue() == ""


@pytest.mark.parametrize("quiet", [True, False])
def test_trace_tells_its_steps_unless_its_result_is_read_by_a_program(
    quiet: bool, take: TakePhotos, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    (photo,) = take({"front.png": FRONT}).values()
    shown = Terminal()
    monkeypatch.setattr("sys.stderr", shown)
    asked = ["trace", "--photo", str(photo), "--out", str(tmp_path / "top.yaml")]
    assert main([*asked, "--json"] if quiet else asked) == 0
    steps = [line.strip() for line in shown.getvalue().split("\r") if line.strip()]
    expected = ["photo read", "2 sheets found", "fold and corners found"]
    assert steps == ([] if quiet else [f"front.png: {step} ..." for step in expected])


def test_an_interruption_leaves_nothing_half_written(
    take: TakePhotos, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    photos = take({"front.png": FRONT, "stopped.png": KeyboardInterrupt()})
    out = tmp_path / "top.yaml"
    before = set(tmp_path.iterdir())
    assert main(["trace", "--photo", *map(str, photos.values()), "--out", str(out)]) == 1
    assert said(capsys) == f"stopped; nothing was written to {out}"
    assert set(tmp_path.iterdir()) == before


# what may be typed


@pytest.mark.parametrize(
    ("asked", "complaint"),
    [
        ([], "--photo or --camera is needed, or --table to trace with a cross of light"),
        (
            ["--taped", "hem width 11 in"],
            "--photo or --camera is needed, or --table to trace with a cross of light",
        ),
        (
            ["--table", "t.yaml", "--taped", "hem width 11 in"],
            "--taped goes with --photo or --camera; chalkbeam tape checks a piece of a file",
        ),
        (["--smooth", "side", "--again"], "--again goes with --photo or --camera"),
        (["--table", "t.yaml", "--smooth", "side"], "--smooth does not go with the cross of light"),
        (["--photo", "a.jpg", "--camera", "0"], "--photo and --camera do not go together"),
        (["--camera", "0", "--use", "first"], "--use chooses between two photos, found one"),
        (["--camera", "-1"], "is no camera; they are numbered from 0"),
        (["--photo", "a.jpg", "b.jpg", "c.jpg"], "--photo takes one photo or two, found 3"),
        (["--photo", "a.jpg", "--use", "first"], "--use chooses between two photos, found one"),
        (["--photo", "a.jpg", "--fold", "left", "right"], "--fold names 2 sides for 1 photo"),
        (["--photo", "a.jpg", "b.jpg", "--fold", "none"], "--fold none is for one photo"),
        (["--photo", "a.jpg", "--fold", "up"], "argument --fold: invalid choice: 'up'"),
        (["--photo", "a.jpg", "--shoulder-forward", "0 in"], "it must be more than nothing"),
        (["--photo", "a.jpg", "--setup", "x"], "--setup goes with --table"),
        (["--photo", "a.jpg", "--standing"], "--standing goes with --table"),
        (["--table", "t.yaml", "--standing"], "--standing goes with --photo or --camera"),
    ],
)
def test_options_that_do_not_go_together_are_a_mistake_of_usage(
    asked: list[str], complaint: str, capsys: pytest.CaptureFixture[str]
) -> None:
    with pytest.raises(SystemExit) as ended:
        main(["trace", "--out", "p.yaml", *asked])
    assert ended.value.code == 2
    assert complaint in capsys.readouterr().err
