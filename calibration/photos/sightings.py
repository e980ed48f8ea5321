"""What one photo shows: printed corners of the sheets and projected corners of the frame."""

from dataclasses import dataclass

from calibration.frames import CameraPixels, ScreenPixels, SheetInches


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class SheetSighting:
    """Corners of one sheet: `sheet` counts from 1; the three arrays go together, row by row.

    `sheet_in` is as drawn (before the printer's scale); `sigma_px` is the expected noise of the camera corner.
    """

    sheet: int
    sheet_in: SheetInches
    camera_px: CameraPixels
    sigma_px: float


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class TargetSighting:
    """Corners of the projected frame, row by row."""

    screen_px: ScreenPixels
    camera_px: CameraPixels
    sigma_px: float


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class PhotoSighting:
    """All that was found in one photo; `photo_px` is its (width, height)."""

    photo_px: tuple[int, int]
    sheets: tuple[SheetSighting, ...]
    targets: TargetSighting
