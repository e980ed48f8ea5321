"""From a photo of the table to the printed and projected corners that it shows."""

from pathlib import Path

import cv2
import numpy as np
import numpy.typing as npt

from calibration.errors import AlignmentError
from calibration.frames import Array, CameraPixels, Gray, Levels, ScreenPixels, SheetInches
from calibration.photos.found_markers import FoundMarkers, find_markers
from calibration.photos.pattern_fit import (
    FittedPattern,
    Pattern,
    PlacedPattern,
    fit_pattern,
    place_pattern,
    window_points,
)
from calibration.photos.photo_faults import sheets_are, what_is_wrong
from calibration.photos.sightings import PhotoSighting, SheetSighting, TargetSighting
from calibration.projector_map import project
from calibration.sheets.markers import PRINTED, PROJECTED
from calibration.sheets.sheet import MARKERS_IN_USE, MOST_SHEETS, PAPERS, SQUARE_IN, Paper, Sheet
from calibration.sheets.targets import Targets

LEAST_PHOTO_PX = (960, 540)
LEAST_MARKERS = 3
_LEAST_AGREED = 1 / 3  # of the projected markers: some may fall beside the table, on the floor
_LEAST_SHEET_CORNERS = 12
_LEAST_TARGETS = 16
_LEAST_SPREAD = 0.2  # of the picture's area, that the projected corners must enclose
_MOST_BLUR = 0.085  # of a square's shorter side
_PAGE_MARGIN_IN = 0.25  # round a page, where its edge and its shadow spoil projected corners


def read_photo(path: Path) -> Gray:
    """The photo as grey values (h, w), turned as the camera held it. Raises AlignmentError."""
    return decoded(path, cv2.IMREAD_GRAYSCALE)


def decoded(path: Path, kind: int) -> npt.NDArray[np.uint8]:
    """The photo as OpenCV reads it, `kind` being one of its IMREAD constants. Raises AlignmentError."""
    try:
        content = path.read_bytes()
    except OSError as error:
        raise AlignmentError(
            f"cannot read the photo {path} ({error.strerror}); check the name and try again"
        ) from error
    if not content:
        raise AlignmentError(f"the photo {path} is empty; copy it from the camera again")
    try:
        pixels = cv2.imdecode(np.frombuffer(content, dtype=np.uint8), kind)
    except cv2.error:
        pixels = None
    if pixels is None:
        raise AlignmentError(f"{path} is not a photo that can be read; save it as JPEG or PNG")
    return np.asarray(pixels, dtype=np.uint8)


def sight(photo: Levels, paper: Paper, sheets: int, targets: Targets) -> PhotoSighting:
    """The corners of `sheets` printed sheets and of the projected targets, all of them to be in the photo.

    Raises AlignmentError, one sentence a fault, where a sheet or the targets are not seen well enough.
    """
    _check_size(photo)
    height, width = photo.shape
    printed, projected = find_markers(photo, [(PRINTED, MARKERS_IN_USE), (PROJECTED, targets.markers_in_use)])
    placed = _place_sheets(photo, printed, paper, sheets)
    return PhotoSighting(
        photo_px=(width, height),
        sheets=tuple(_sight_sheet(photo, number, sheet) for number, sheet in enumerate(placed, start=1)),
        targets=_sight_targets(photo, projected, targets, placed, paper),
    )


def sight_sheets(photo: Levels, paper: Paper, sheets: int | None = None) -> tuple[SheetSighting, ...]:
    """The corners of sheets 1 to `sheets`, or of whatever sheets are seen; nothing needs to be projected.

    Raises AlignmentError, one sentence a fault, where a sheet is not seen well enough, or none at all.
    """
    _check_size(photo)
    (printed,) = find_markers(photo, [(PRINTED, MARKERS_IN_USE)])
    placed = placed_sheets(printed, paper)
    if sheets is not None:
        placed = dict(enumerate(_place_sheets(photo, printed, paper, sheets), start=1))
    elif not placed:
        _explain_none(photo, printed, paper)
    return tuple(_sight_sheet(photo, number, placed[number]) for number in sorted(placed))


def _sight_sheet(photo: Levels, number: int, placed: PlacedPattern) -> SheetSighting:
    fit = fit_pattern(photo, placed)
    _check_sheet(number, placed, fit)
    return SheetSighting(
        sheet=number,
        sheet_in=SheetInches(placed.pattern.corners[fit.kept]),
        camera_px=CameraPixels(fit.camera_px),
        sigma_px=fit.sigma_px,
    )


def _check_size(photo: Levels) -> None:
    height, width = photo.shape
    if max(width, height) < LEAST_PHOTO_PX[0] or min(width, height) < LEAST_PHOTO_PX[1]:
        raise AlignmentError(
            f"the photo has {width}x{height} pixels; {LEAST_PHOTO_PX[0]}x{LEAST_PHOTO_PX[1]} or more are "
            "needed: take it at the camera's full size"
        )


def _sheet_pattern(paper: Paper, number: int) -> Pattern:
    sheet = Sheet(paper=paper, number=number)
    markers = dict(zip(sheet.marker_ids, sheet.marker_corners_in, strict=True))
    return Pattern(corners=sheet.corners_in, square=SQUARE_IN, markers=markers)


def target_pattern(targets: Targets) -> Pattern:
    """The projected frame in its own pixels."""
    return Pattern(corners=targets.corners_px, square=targets.square_px, markers=targets.marker_places)


def placed_sheets(found: FoundMarkers, paper: Paper) -> dict[int, PlacedPattern]:
    """The sheets of a paper that enough markers agree on, by number."""
    placed = {
        number: place_pattern(_sheet_pattern(paper, number), found) for number in range(1, MOST_SHEETS + 1)
    }
    return {
        number: place
        for number, place in placed.items()
        if place is not None and len(np.unique(place.agreed.numbers)) >= LEAST_MARKERS
    }


def _place_sheets(photo: Levels, found: FoundMarkers, paper: Paper, sheets: int) -> list[PlacedPattern]:
    seen = placed_sheets(found, paper)
    wanted = range(1, sheets + 1)
    missing = [number for number in wanted if number not in seen]
    if len(missing) == sheets:
        _explain_none(photo, found, paper)
    if missing:
        other = _wrong_paper(found, paper)
        if other is not None:
            raise AlignmentError(
                f"{sheets_are(missing)} not seen on {paper.name} paper, but one on {other} paper is; print "
                "all sheets on one paper and name it with --paper"
            )
        raise AlignmentError(
            f"found {sheets - len(missing)} of {sheets} sheets; {sheets_are(missing)} hidden, too small or "
            "not in the photo: retake it with every sheet in sight, or say with --sheets how many lie there"
        )
    for number in wanted:
        again = place_pattern(seen[number].pattern, seen[number].others)
        if again is not None and len(np.unique(again.agreed.numbers)) >= LEAST_MARKERS:
            raise AlignmentError(
                f"sheet {number} lies there twice; take one away, or lay a sheet of another number instead"
            )
    return [seen[number] for number in wanted]


def _wrong_paper(found: FoundMarkers, paper: Paper) -> str | None:
    return next(
        (other.name for other in PAPERS.values() if other != paper and placed_sheets(found, other)), None
    )


def _explain_none(photo: Levels, found: FoundMarkers, paper: Paper) -> None:
    """Raise what explains best that not one of the wanted sheets is seen."""
    other = _wrong_paper(found, paper)
    if other is not None:
        raise AlignmentError(
            f"the sheets are on {other} paper, and {paper.name} was given as the paper; say --paper {other}, "
            f"or print them on {paper.name} paper"
        )
    elsewhere = sorted(placed_sheets(found, paper))
    if elsewhere:
        raise AlignmentError(
            f"of the sheets asked for none is seen, but {sheets_are(elsewhere)}; sheets "
            "are counted from 1: lay sheet 1 first"
        )
    flipped = photo[:, ::-1]
    (mirrored,) = find_markers(flipped, [(PRINTED, MARKERS_IN_USE)])
    if any(placed_sheets(mirrored, either) for either in PAPERS.values()):
        raise AlignmentError(
            "the photo is mirrored, as a selfie camera makes it; switch mirroring off and retake the photo"
        )
    raise AlignmentError(what_is_wrong(photo))


def _check_sheet(number: int, placed: PlacedPattern, fit: FittedPattern) -> None:
    found, all_of_them = int(fit.kept.sum()), len(fit.kept)
    if fit.blur_squares > _MOST_BLUR and np.isfinite(fit.blur_squares):
        raise AlignmentError(
            f"the photo is blurred on sheet {number}: edges are {fit.blur_squares:.0%} of a square wide, "
            f"{_MOST_BLUR:.0%} is the most; focus on the table, hold the camera still and retake the photo"
        )
    if found < _LEAST_SHEET_CORNERS:
        raise AlignmentError(
            f"found {found} of {all_of_them} corners on sheet {number}, {_LEAST_SHEET_CORNERS} are needed; "
            "it is half hidden, in glare or blurred: clear it and retake the photo"
        )


def _sight_targets(
    photo: Levels, found: FoundMarkers, targets: Targets, sheets: list[PlacedPattern], paper: Paper
) -> TargetSighting:
    pattern = target_pattern(targets)
    corners = pattern.corners
    placed = place_pattern(pattern, found)
    seen = len(np.unique(found.among(list(pattern.markers)).numbers))
    if placed is None or len(np.unique(placed.agreed.numbers)) < max(LEAST_MARKERS, _LEAST_AGREED * seen):
        raise AlignmentError(_why_no_targets(photo, seen, pattern, targets))
    fit = fit_pattern(photo, placed)
    windows = window_points(placed, fit.camera_px, fit.kept)
    free = ~np.any([_touches(sheet, paper, windows) for sheet in sheets], axis=0)
    screen = corners[fit.kept][free]
    spread = _area(screen) / _area(corners)
    if len(screen) < _LEAST_TARGETS or spread < _LEAST_SPREAD:
        raise AlignmentError(
            f"found {len(screen)} of {len(corners)} projected corners, over {spread:.0%} of the picture; "
            f"{_LEAST_TARGETS} over {_LEAST_SPREAD:.0%} are needed: dim the room, clear the table, get all "
            "of the light into the photo and retake it"
        )
    return TargetSighting(
        screen_px=ScreenPixels(screen), camera_px=CameraPixels(fit.camera_px[free]), sigma_px=fit.sigma_px
    )


def _why_no_targets(photo: Levels, seen: int, pattern: Pattern, targets: Targets) -> str:
    flipped = photo[:, ::-1]
    (mirrored,) = find_markers(flipped, [(PROJECTED, targets.markers_in_use)])
    placed = place_pattern(pattern, mirrored)
    if placed is not None and len(np.unique(placed.agreed.numbers)) >= LEAST_MARKERS:
        return (
            "the projected picture is mirrored; switch off the projector's rear setting and retake the photo"
        )
    width, height = targets.screen_px
    if seen >= 2 * LEAST_MARKERS:
        return (
            f"{seen} projected marks are seen, but not where the frame for {width}x{height} has them; show "
            "the frame made for this screen, pixel by pixel, and retake the photo"
        )
    return (
        "the sheets are seen, but not the projected marks; show the frame of --targets, dim the room and "
        "retake the photo"
    )


def _touches(sheet: PlacedPattern, paper: Paper, windows_px: Array) -> Array:
    """Which of the windows (m, 4, 2) reach into a sheet's page or close to it."""
    sheet_from_camera = np.linalg.inv(sheet.camera_from_pattern).astype(np.float64)
    inches = project(sheet_from_camera, windows_px.reshape(-1, 2)).reshape(windows_px.shape)
    reach = np.array([paper.width_in, paper.height_in]) / 2 + _PAGE_MARGIN_IN
    # a window is about as large as a square of the sheet and more: test its middles as well
    middles = (inches + np.roll(inches, 1, axis=1)) / 2
    points = np.concatenate([inches, middles, inches.mean(axis=1, keepdims=True)], axis=1)
    touches: Array = (np.abs(points) <= reach).all(axis=2).any(axis=1)
    return touches


def _area(points: Array) -> float:
    return float(cv2.contourArea(cv2.convexHull(points.astype(np.float32)))) if len(points) > 2 else 0.0
