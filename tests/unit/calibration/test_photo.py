"""Photos of a made-up table whose truth is known, whole and spoilt in the ways that photos are."""

from dataclasses import replace
from pathlib import Path

import cv2
import numpy as np
import pytest

from calibration.errors import AlignmentError
from calibration.frames import Array, Gray
from calibration.photos.photo import read_photo, sight
from calibration.photos.photo_faults import sheets_are, what_is_wrong
from calibration.sheets.sheet import PAPERS, Sheet
from calibration.sheets.targets import Targets
from tests.unit.calibration.fake_photo import LaidSheet, Scene, camera_over_table, covered, relaid, scene

LETTER, A4 = PAPERS["letter"], PAPERS["a4"]
SHEETS = 2


@pytest.fixture(scope="module")
def table() -> tuple[Scene, Targets]:
    return scene(sheets=SHEETS)


@pytest.fixture(scope="module")
def photo(table: tuple[Scene, Targets]) -> Gray:
    return table[0].photo()


def refusal(photo: Gray, targets: Targets, sheets: int = SHEETS) -> str:
    with pytest.raises(AlignmentError) as refused:
        sight(photo, LETTER, sheets, targets)
    return str(refused.value)


def page_px(table: Scene, sheet: int, shrunk: float = 1.0) -> Array:
    laid = table.laid[sheet - 1]
    return table.camera_from_sheet(laid, laid.sheet.outline_in * shrunk)


def check_places(made: Scene, seen: Gray, targets: Targets) -> None:
    found = sight(seen, LETTER, len(made.laid), targets)
    assert found.photo_px == made.photo_px
    assert [sheet.sheet for sheet in found.sheets] == list(range(1, len(made.laid) + 1))
    for sheet, laid in zip(found.sheets, made.laid, strict=True):
        assert len(sheet.sheet_in) == 24
        error = sheet.camera_px - made.camera_from_sheet(laid, sheet.sheet_in)
        rms = np.sqrt((error**2).mean())
        assert rms < 0.03, f"sheet {sheet.sheet}: {rms:.3f} px RMS"
        assert 0.4 < rms / sheet.sigma_px < 2.5
    error = found.targets.camera_px - made.camera_from_screen(found.targets.screen_px)
    rms = np.sqrt((error**2).mean())
    assert rms < 0.03, f"targets: {rms:.3f} px RMS"
    assert np.abs(error).max() < 0.3
    assert 0.4 < rms / found.targets.sigma_px < 2.5
    assert len(found.targets.screen_px) > 0.75 * len(targets.corners_px)


def test_corners_are_where_they_are(table: tuple[Scene, Targets], photo: Gray) -> None:
    check_places(table[0], photo, table[1])


@pytest.mark.parametrize(
    ("lean_deg", "turn_deg"), [(35.0, 190.0), (30.0, 95.0)], ids=["from the far side", "turned on its side"]
)
def test_the_camera_may_stand_anywhere(lean_deg: float, turn_deg: float) -> None:
    photo_px = (1920, 1080)
    camera = camera_over_table(photo_px, lean_deg=lean_deg, turn_deg=turn_deg)
    made, targets = scene(sheets=SHEETS, camera_from_table=camera, seed=5)
    seen = made.photo()
    found = sight(seen, LETTER, SHEETS, targets)
    for sheet, laid in zip(found.sheets, made.laid, strict=True):
        error = sheet.camera_px - made.camera_from_sheet(laid, sheet.sheet_in)
        assert np.sqrt((error**2).mean()) < 0.03
    error = found.targets.camera_px - made.camera_from_screen(found.targets.screen_px)
    assert np.sqrt((error**2).mean()) < 0.03


def test_jpeg_and_uneven_light_cost_little(table: tuple[Scene, Targets], photo: Gray) -> None:
    uneven = (photo * np.linspace(1.1, 0.5, photo.shape[1])).clip(0, 255).astype(np.uint8)
    _, packed = cv2.imencode(".jpg", uneven, [cv2.IMWRITE_JPEG_QUALITY, 85])
    seen = np.asarray(cv2.imdecode(packed, cv2.IMREAD_GRAYSCALE), dtype=np.uint8)
    made, targets = table
    found = sight(seen, LETTER, SHEETS, targets)
    for sheet, laid in zip(found.sheets, made.laid, strict=True):
        error = sheet.camera_px - made.camera_from_sheet(laid, sheet.sheet_in)
        assert np.sqrt((error**2).mean()) < 0.08


def test_projected_corners_on_or_beside_a_page_are_left_out(
    table: tuple[Scene, Targets], photo: Gray
) -> None:
    made, targets = table
    shifted = replace(made.laid[1], x_in=made.laid[1].x_in + 6.0)
    seen = relaid(made, [made.laid[0], shifted])
    found = sight(seen.photo(), LETTER, SHEETS, targets)
    page = seen.camera_from_sheet(shifted, shifted.sheet.outline_in * 1.02).astype(np.float32)
    inside = [
        cv2.pointPolygonTest(page, tuple(map(float, place)), False) for place in found.targets.camera_px
    ]
    assert max(inside) < 0
    assert len(found.targets.screen_px) < len(sight(photo, LETTER, SHEETS, targets).targets.screen_px)
    error = found.targets.camera_px - seen.camera_from_screen(found.targets.screen_px)
    assert np.abs(error).max() < 0.3


def test_a_hand_over_a_part_of_a_sheet_costs_only_its_corners(
    table: tuple[Scene, Targets], photo: Gray
) -> None:
    corner = np.array([(-4.3, -5.5), (4.3, -5.5), (4.3, -2.5), (-4.3, -2.5)])
    hidden = covered(photo, table[0].camera_from_sheet(table[0].laid[0], corner))
    found = sight(hidden, LETTER, SHEETS, table[1])
    assert len(found.sheets[0].sheet_in) == 20
    assert (found.sheets[0].sheet_in[:, 1] > -2.5).all()


@pytest.mark.parametrize("brightness", [0.2, 0.7], ids=["dark floor", "bright floor"])
def test_light_that_falls_beside_the_table_is_left_out(
    table: tuple[Scene, Targets], photo: Gray, brightness: float
) -> None:
    """Beyond the table's right edge the same marks are seen, but on a floor, somewhere else and darker."""
    made, targets = table
    edge = 1600
    floor = np.roll(photo, (33, 21), axis=(0, 1)) * brightness
    seen = np.where(np.arange(photo.shape[1]) < edge, photo, floor).astype(np.uint8)
    places = sight(seen, LETTER, SHEETS, targets).targets
    assert (places.camera_px[:, 0] < edge + 5).all()
    assert np.abs(places.camera_px - made.camera_from_screen(places.screen_px)).max() < 0.3


def test_a_thread_across_a_sheet_spoils_no_corner_in_silence(
    table: tuple[Scene, Targets], photo: Gray
) -> None:
    made, targets = table
    laid = made.laid[0]
    crossed = photo.copy()
    ends = np.array([(-3.0, 2.2), (3.0, 2.0)])  # just beside a row of four corners
    start, stop = np.rint(16 * made.camera_from_sheet(laid, ends)).astype(int).tolist()
    cv2.line(crossed, start, stop, (110,), 2, cv2.LINE_AA, 4)
    sheet = sight(crossed, LETTER, SHEETS, targets).sheets[0]
    assert 18 <= len(sheet.sheet_in) <= 22
    error = sheet.camera_px - made.camera_from_sheet(laid, sheet.sheet_in)
    assert np.abs(error).max() < 0.2


def test_missing_sheet_is_named(table: tuple[Scene, Targets], photo: Gray) -> None:
    hidden = covered(photo, page_px(table[0], 2))
    assert refusal(hidden, table[1]) == (
        "found 1 of 2 sheets; sheet 2 is hidden, too small or not in the photo: retake it with every sheet "
        "in sight, or say with --sheets how many lie there"
    )


def test_missing_sheets_are_all_named(table: tuple[Scene, Targets], photo: Gray) -> None:
    assert refusal(photo, table[1], sheets=4).startswith("found 2 of 4 sheets; sheets 3 and 4 are hidden")


def test_half_hidden_sheet_says_how_much_is_seen(table: tuple[Scene, Targets], photo: Gray) -> None:
    most = np.array([(-4.3, -5.5), (4.3, -5.5), (4.3, 1.0), (-4.3, 1.0)])
    hidden = covered(photo, table[0].camera_from_sheet(table[0].laid[0], most))
    assert refusal(hidden, table[1]) == (
        "found 8 of 24 corners on sheet 1, 12 are needed; it is half hidden, in glare or blurred: clear it "
        "and retake the photo"
    )


def test_wrong_paper_is_named_both_ways(table: tuple[Scene, Targets], photo: Gray) -> None:
    with pytest.raises(AlignmentError) as refused:
        sight(photo, A4, SHEETS, Targets(screen_px=(1920, 1080), sheets=SHEETS, paper=A4))
    assert str(refused.value) == (
        "the sheets are on letter paper, and a4 was given as the paper; say --paper letter, or print them on "
        "a4 paper"
    )
    made, targets = scene(sheets=1, paper=A4)
    assert refusal(made.photo(), targets, sheets=1) == (
        "the sheets are on a4 paper, and letter was given as the paper; say --paper a4, or print them on "
        "letter paper"
    )


def test_mixed_papers_and_a_sheet_laid_twice_are_refused(table: tuple[Scene, Targets]) -> None:
    made, targets = table
    first, second = made.laid
    mixed = relaid(made, [first, replace(second, sheet=Sheet(paper=A4, number=2))]).photo()
    assert refusal(mixed, targets) == (
        "sheet 2 is not seen on letter paper, but one on a4 paper is; print all sheets on one paper and "
        "name it with --paper"
    )
    twice = LaidSheet(sheet=first.sheet, x_in=first.x_in + 14, y_in=first.y_in - 2, turn_deg=-40)
    doubled = relaid(made, [first, second, twice]).photo()
    assert refusal(doubled, targets) == (
        "sheet 1 lies there twice; take one away, or lay a sheet of another number instead"
    )


def test_sheets_numbered_beyond_those_asked_for_are_named(table: tuple[Scene, Targets], photo: Gray) -> None:
    hidden = covered(photo, page_px(table[0], 1))
    assert refusal(hidden, table[1], sheets=1) == (
        "of the sheets asked for none is seen, but sheet 2 is; sheets are counted from 1: lay sheet 1 first"
    )


def test_mirrored_photo_is_refused(table: tuple[Scene, Targets], photo: Gray) -> None:
    assert refusal(np.ascontiguousarray(photo[:, ::-1]), table[1]) == (
        "the photo is mirrored, as a selfie camera makes it; switch mirroring off and retake the photo"
    )


def test_mirrored_projector_is_refused(table: tuple[Scene, Targets]) -> None:
    made = replace(table[0], frame=np.ascontiguousarray(table[0].frame[:, ::-1]))
    assert refusal(made.photo(), table[1]) == (
        "the projected picture is mirrored; switch off the projector's rear setting and retake the photo"
    )


def test_targets_that_are_not_shown_are_missed(table: tuple[Scene, Targets]) -> None:
    made = replace(table[0], frame=np.full_like(table[0].frame, 255))
    assert refusal(made.photo(), table[1]) == (
        "the sheets are seen, but not the projected marks; show the frame of --targets, dim the room and "
        "retake the photo"
    )


def test_targets_for_another_screen_are_refused(table: tuple[Scene, Targets], photo: Gray) -> None:
    other = Targets(screen_px=(1280, 1024), sheets=SHEETS, paper=LETTER)
    words = refusal(photo, other)
    assert "projected marks are seen, but not where the frame for 1280x1024 has them" in words


def test_too_little_of_the_light_is_refused(table: tuple[Scene, Targets], photo: Gray) -> None:
    made = table[0]
    hidden = photo.copy()
    hidden[:, int(page_px(made, 1)[:, 0].max()) + 10 :] = 60
    hidden[: int(page_px(made, 1)[:, 1].min()) - 30] = np.where(
        np.arange(photo.shape[1]) < page_px(made, 2)[:, 0].max() + 15,
        hidden[: int(page_px(made, 1)[:, 1].min()) - 30],
        60,
    )
    hidden[int(page_px(made, 1)[:, 1].max()) + 10 :] = 60
    words = refusal(hidden, table[1])
    assert words.startswith("found ")
    assert "projected corners, over" in words
    assert "are needed: dim the room, clear the table, get all of the light into the photo" in words


@pytest.mark.parametrize("blur_px", [3.0, 4.0, 12.0])
def test_blurred_photos_are_called_blurred(table: tuple[Scene, Targets], photo: Gray, blur_px: float) -> None:
    blurred = np.asarray(cv2.GaussianBlur(photo, (0, 0), blur_px), dtype=np.uint8)
    assert refusal(blurred, table[1]).startswith("the photo is blurred")


def test_dark_and_burnt_photos_are_called_so(table: tuple[Scene, Targets], photo: Gray) -> None:
    rng = np.random.default_rng(1)
    dark = (photo * 0.03 + rng.normal(2, 1, photo.shape)).clip(0, 255).astype(np.uint8)
    assert refusal(dark, table[1]).startswith("the photo is too dark: it reaches")
    burnt = (photo.astype(float) * 12).clip(0, 255).astype(np.uint8)
    assert refusal(burnt, table[1]) == (
        "the photo is burnt out: most of it is plain white; expose it less and retake it"
    )


def test_a_photo_of_something_else_is_called_so(table: tuple[Scene, Targets]) -> None:
    rng = np.random.default_rng(2)
    tiles = rng.integers(20, 230, (27, 48)).astype(np.uint8)
    other = np.kron(tiles, np.ones((40, 40), dtype=np.uint8))
    assert refusal(other, table[1]) == (
        "no sheet is seen; lay the printed sheets in the light, get them all into the photo and retake it"
    )


def test_a_small_photo_is_refused(table: tuple[Scene, Targets]) -> None:
    assert refusal(np.zeros((480, 640), dtype=np.uint8), table[1]) == (
        "the photo has 640x480 pixels; 960x540 or more are needed: take it at the camera's full size"
    )


def test_an_empty_picture_of_one_grey_is_no_sheet() -> None:
    assert what_is_wrong(np.full((600, 1000), 128, dtype=np.uint8)).startswith("no sheet is seen")


@pytest.mark.parametrize(
    ("numbers", "words"),
    [([2], "sheet 2 is"), ([2, 3], "sheets 2 and 3 are"), ([1, 2, 5], "sheets 1, 2 and 5 are")],
)
def test_sheets_in_words(numbers: list[int], words: str) -> None:
    assert sheets_are(numbers) == words


def test_photo_file_is_read_as_the_camera_turned_it(tmp_path: Path) -> None:
    """A JPEG of EXIF orientation 6 (row 0 is the right side; Exif 2.3, tag 0x0112) is turned upright."""
    from PIL import Image

    upright = np.zeros((40, 30), dtype=np.uint8)
    upright[:10] = 200
    plain, turned = tmp_path / "plain.png", tmp_path / "turned.jpg"
    Image.fromarray(upright).save(plain)
    np.testing.assert_array_equal(read_photo(plain), upright)
    exif = Image.Exif()
    exif[0x0112] = 6
    Image.fromarray(np.rot90(upright)).save(turned, exif=exif, quality=95)
    read = read_photo(turned)
    assert read.shape == (40, 30)
    assert read[:8].min() > 150
    assert read[14:].max() < 50


def test_files_that_are_no_photos_are_refused(tmp_path: Path) -> None:
    missing, empty, text = tmp_path / "none.jpg", tmp_path / "empty.jpg", tmp_path / "text.jpg"
    empty.touch()
    text.write_text("this is not a picture")
    sentences = {
        missing: f"cannot read the photo {missing} (No such file or directory); check the name and try again",
        empty: f"the photo {empty} is empty; copy it from the camera again",
        text: f"{text} is not a photo that can be read; save it as JPEG or PNG",
        tmp_path: f"cannot read the photo {tmp_path} (Is a directory); check the name and try again",
    }
    for path, sentence in sentences.items():
        with pytest.raises(AlignmentError) as refused:
            read_photo(path)
        assert str(refused.value) == sentence
