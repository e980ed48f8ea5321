"""A garment on the table: from a photo to its closed contour in table inches, with the error to expect.

Sheets tell where the camera stands (`sheet_camera`); what is unlike the bare table is roughly the garment
(`garment_region`); its edge is followed in the photo's own pixels (`cloth_edge`), and bridged where something
lies over it (`bridges`).
"""

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import Final

import cv2
import numpy as np
import numpy.typing as npt

from calibration.errors import AlignmentError
from calibration.frames import Array, Gray, TableInches
from calibration.garment.bridges import Bridge, Looks, bridged
from calibration.garment.cloth_edge import ClothEdge, evenly, follow_edge, inward_normals
from calibration.garment.garment_region import GarmentRegion, SheetPlace, find_region, find_region_amid
from calibration.garment.sheet_camera import SheetCamera, solve_camera
from calibration.garment.table_look import TableLook, log_light
from calibration.photos.found_markers import find_markers
from calibration.photos.photo import decoded, placed_sheets, sight_sheets
from calibration.sheets.markers import PRINTED
from calibration.sheets.sheet import MARKERS_IN_USE, RULER_IN, Paper
from calibration.solving.from_photos import print_scale

Picture = npt.NDArray[np.uint8]
Say = Callable[[str], None]

_MOST_UNCLEAR: Final = 0.12  # of the edge
_MOST_BRIDGED: Final = 0.25
_MOST_DOUBT_IN: Final = 1 / 16
_MOST_JAGS: Final = 5
_MOST_MENDED: Final = 0.12  # of the edge
_MOST_SCATTER_IN: Final = 1 / 50  # of neighbouring points of the edge, one sigma
_LEAST_PER_IN: Final = 8.0  # pixels: with fewer a sixteenth of an inch is not seen
_STRANGE: Final = 4.0  # sigmas from the bare table's colour
_FORECAST_EVERY: Final = 40  # points of the contour
_FEW_SHEETS: Final = 2
_NOT_FLAT: Final = 2.0  # curl and bow that so few sheets do not show, times the noise of their marks
_CAREFUL: Final = 1.5  # times the error to expect: then most photos are better than told
_ALIKE: Final = 1.7  # neighbouring points are wrong alike: what wavers shows half of it
_WAVES_IN: Final = 0.2  # apart are the five points that waves are seen by: those of cloth are longer
_BINOMIAL: Final = (1.0, -4.0, 6.0, -4.0, 1.0)
_POINT_PX: Final = 0.12  # of noise that a point has from the pixels, unseen by its neighbours
_EDGE_BIAS_PX: Final = 0.06  # what the slope of the light leaves unknown of where a whole edge is


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Silhouette:
    """A garment's contour (n, 2) in table inches, closed, counter-clockwise, with even steps.

    `noise_in` is the one-sigma noise of a point, `error_in` the mean error to expect of the edge, camera and
    all, `size_share_in` what the printer's scale adds over the garment, one sigma.
    """

    contour_in: TableInches
    noise_in: float
    error_in: float
    size_share_in: float
    bridges: tuple[Bridge, ...]
    camera: SheetCamera


def quietly(_: str) -> None:
    """For who need not be told."""


def read_colour_photo(path: Path) -> Picture:
    """The photo in red, green, blue (h, w, 3), turned as the camera held it. Raises AlignmentError."""
    colours = cv2.cvtColor(decoded(path, cv2.IMREAD_COLOR), cv2.COLOR_BGR2RGB)
    return np.asarray(colours, dtype=np.uint8)


def find_silhouette(
    photo: Picture,
    paper: Paper,
    sheets: int | None = None,
    printed_ruler_in: float | None = None,
    say: Say = quietly,
) -> Silhouette:
    """The contour of the one garment in a photo (h, w, 3), beside one or more printed sheets.

    `sheets` is how many there are, from sheet 1; without it those that are seen count. `printed_ruler_in` is
    the measured length of the printed ruler. `say` is told of each step that is done. Raises AlignmentError,
    one sentence a fault.
    """
    camera = camera_by_sheets(photo, paper, sheets, printed_ruler_in)
    say(f"{len(camera.sheet_numbers)} sheets found" if len(camera.sheet_numbers) > 1 else "sheet found")
    return _followed(photo, camera, find_region(photo, camera, paper), say)


def find_silhouette_amid(
    photo: Picture,
    camera: SheetCamera,
    places: Sequence[SheetPlace],
    paper: Paper,
    say: Say = quietly,
) -> Silhouette:
    """The same without sheets in the photo, by a camera that is known, amid the `places` where they have lain."""
    return _followed(photo, camera, find_region_amid(photo, camera, places, paper), say)


def shows_sheets(photo: Picture, paper: Paper) -> bool:
    """Whether any sheet of that paper is seen in a photo (h, w, 3)."""
    (printed,) = find_markers(_grey(photo), [(PRINTED, MARKERS_IN_USE)])
    return bool(placed_sheets(printed, paper))


def camera_by_sheets(
    photo: Picture, paper: Paper, sheets: int | None = None, printed_ruler_in: float | None = None
) -> SheetCamera:
    """The camera of a photo (h, w, 3) by the sheets in it; arguments and errors as of `find_silhouette`."""
    printed_scale = print_scale(printed_ruler_in)
    grey = _grey(photo)
    seen = sight_sheets(grey, paper, sheets)
    return solve_camera(seen, (grey.shape[1], grey.shape[0]), printed_scale, RULER_IN)


def _grey(photo: Picture) -> Gray:
    return np.asarray(cv2.cvtColor(photo, cv2.COLOR_RGB2GRAY), dtype=np.uint8)


def _followed(photo: Picture, camera: SheetCamera, region: GarmentRegion, say: Say) -> Silhouette:
    say("garment told from the table")
    _check_sharp(camera, region.outline_in)
    edge = follow_edge(photo, camera, region.table, region.outline_in)
    _check_clear(edge)
    found = _finished(photo, camera, region.table, edge)
    say("edge followed")
    return found


def _finished(photo: Picture, camera: SheetCamera, table: TableLook, edge: ClothEdge) -> Silhouette:
    step = float(np.linalg.norm(np.diff(edge.points_in, axis=0), axis=1).mean())

    def colours(places_in: Array) -> Array:
        pixels = camera.camera_from_table(places_in).astype(np.float32)
        levels = cv2.remap(photo, pixels[None, :, 0], pixels[None, :, 1], cv2.INTER_LINEAR)[0]
        return log_light(levels.astype(np.float64))

    def covered(places_in: Array) -> npt.NDArray[np.bool_]:
        return table.strangeness(places_in, colours(places_in)) > _STRANGE

    found = bridged(edge.points_in, step, Looks(covered=covered, colours=colours))
    mended = sum(one.length_in for one in found.mended) / (step * len(found.points_in))
    if found.jags > _MOST_JAGS or mended > _MOST_MENDED:
        raise AlignmentError(
            f"the garment's edge is seen with {found.jags + len(found.mended)} sharp hollows, where a garment has "
            "none; light it evenly without hard shade, lay a plain cloth of another colour under it, and retake "
            "the photo nearer"
        )
    if any(one.error_in > _MOST_DOUBT_IN for one in found.bridges):
        raise AlignmentError(
            "something lies over the garment's edge where it turns, and the edge under it cannot be told; move it "
            "inwards or along a straight part, and retake the photo"
        )
    if found.bridged.mean() > _MOST_BRIDGED:
        raise AlignmentError(
            f"{found.bridged.mean():.0%} of the garment's edge is hidden by things that lie over it; move them "
            "inwards, off the edge, and retake the photo"
        )
    contour = TableInches(evenly(found.points_in, step, step / 4))
    sample = TableInches(contour[::_FORECAST_EVERY])
    flatness = _NOT_FLAT if len(camera.sheet_numbers) <= _FEW_SHEETS else 1.0
    by_camera = float(camera.shape_error_in(sample).mean()) * flatness
    bridges = (*found.bridges, *found.mended)
    by_bridges = sum(2 * b.error_in * b.length_in for b in bridges) / (step * len(contour))
    by_edge = _ALIKE * _wavering(contour, step)
    pixel_in = 1 / float(np.median(camera.pixels_per_inch(sample)))
    by_pixel = _EDGE_BIAS_PX * pixel_in
    return Silhouette(
        contour_in=contour,
        noise_in=float(np.hypot(edge.scatter_in, _POINT_PX * pixel_in)),
        error_in=_CAREFUL * (float(np.sqrt(by_camera**2 + by_edge**2 + by_pixel**2)) + by_bridges),
        size_share_in=camera.size_sigma * float(np.ptp(contour, axis=0).max()),
        bridges=found.bridges,
        camera=camera,
    )


def _wavering(contour_in: Array, step_in: float) -> float:
    """One-sigma noise in inches of the contour's points, by fourth differences across it, in which curves vanish."""
    apart = max(1, round(_WAVES_IN / step_in))
    shifted = [np.roll(contour_in, (k - 2) * apart, axis=0) for k in range(5)]
    off = np.einsum("k,knd,nd->n", np.array(_BINOMIAL), np.stack(shifted), inward_normals(contour_in))
    return float(1.4826 * np.median(np.abs(off)) / np.linalg.norm(_BINOMIAL))


def _check_sharp(camera: SheetCamera, outline_in: TableInches) -> None:
    per_in = float(np.median(camera.pixels_per_inch(outline_in)))
    if per_in < _LEAST_PER_IN:
        raise AlignmentError(
            f"the photo has {per_in:.0f} pixels to the inch on the garment, {_LEAST_PER_IN:.0f} are needed; go "
            "nearer, so that garment and sheets fill the picture, and retake it"
        )


def _check_clear(edge: ClothEdge) -> None:
    if edge.unclear > _MOST_UNCLEAR:
        raise AlignmentError(
            f"along {edge.unclear:.0%} of its edge the garment looks like the table; lay a cloth of another colour "
            "under it, or plain paper if it is sheer, and retake the photo nearer and in more light"
        )
    if edge.scatter_in > _MOST_SCATTER_IN:
        raise AlignmentError(
            f"the garment's edge cannot be followed: neighbouring points scatter by {edge.scatter_in:.2f} in; "
            "light it evenly, lay a plain cloth of another colour under it, and retake the photo"
        )
