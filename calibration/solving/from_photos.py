"""From photo files to an alignment, in one call."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import datetime
from pathlib import Path

import numpy as np

from calibration.cameras.place import kept_cameras
from calibration.errors import AlignmentError
from calibration.frames import Array
from calibration.photos.photo import read_photo, sight
from calibration.photos.sightings import PhotoSighting
from calibration.projector_map import ProjectorMap
from calibration.sheets.sheet import RULER_IN, Paper
from calibration.sheets.targets import Targets
from calibration.solving.proof import prove
from calibration.solving.solve import Fit, Pair, solve
from calibration.table.saved import Alignment

_PRINT_SCALES = (0.9, 1.1)  # beyond them the page was not printed from our file, or the ruler misread
_TAPE_MISFIT_IN = 1 / 8  # a tape and photos that disagree by more cannot both be right
_RULER_SIGMAS = 5  # nor a tape and a printed ruler


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Solved:
    """An alignment and the fit it rests on."""

    alignment: Alignment
    fit: Fit

    @property
    def residual_arrows(self) -> Array:
        """(n, 4) x, y, dx, dy in table inches: where each believed corner should lie, and how far off it is seen."""
        model, x, kept = self.fit.model, self.fit.unknowns, self.fit.kept
        predicted_in = model.predicted_in(x)[kept]
        return np.hstack([predicted_in, model.seen_in(x)[kept] - predicted_in])


def solved_from_photos(
    photos: Sequence[Path],
    paper: Paper,
    screen_px: tuple[int, int],
    sheets: int,
    printed_ruler_in: float | None = None,
    tapes: Mapping[Pair, float] | None = None,
) -> Solved:
    """The alignment from photos in which `sheets` printed sheets and the projected frame are seen together.

    `printed_ruler_in` is the measured length of the printed ruler; `tapes` are measured inches between the
    centre crosses of two sheets. Raises AlignmentError, saying what to do, where the photos do not do.
    """
    print_scale(printed_ruler_in)  # a slip of typing is told before minutes of looking
    sightings = look(photos, paper, screen_px, sheets)
    return solved(sightings, paper, screen_px, printed_ruler_in, tapes)


def look(
    photos: Sequence[Path], paper: Paper, screen_px: tuple[int, int], sheets: int
) -> tuple[PhotoSighting, ...]:
    """The corners that each photo shows; raises AlignmentError that names the photo which does not do."""
    targets = Targets(screen_px=screen_px, sheets=sheets, paper=paper)
    sightings = []
    for path in photos:
        try:
            sightings.append(sight(read_photo(path), paper, sheets, targets))
        except AlignmentError as error:
            raise AlignmentError(f"{path.name}: {error}") from error
    return tuple(sightings)


def solved(
    sightings: Sequence[PhotoSighting],
    paper: Paper,
    screen_px: tuple[int, int],
    printed_ruler_in: float | None = None,
    tapes: Mapping[Pair, float] | None = None,
) -> Solved:
    """The alignment from what photos show, with the fit it rests on; arguments as of `solved_from_photos`."""
    tapes = dict(tapes or {})
    printed_scale = print_scale(printed_ruler_in)
    fit = solve(sightings, screen_px=screen_px, printed_scale=printed_scale, ruler_in=RULER_IN, tapes=tapes)
    _check_tapes(fit)
    proof = prove(fit)
    alignment = Alignment(
        map=proof.map,
        name="table",
        aligned_on=datetime.now().astimezone(),
        rms_in=proof.rms_in,
        p95_in=proof.p95_in,
        verdict=proof.verdict,
        size_checked=proof.size_checked,
        trustworthy=proof.trustworthy,
        sheets=len(fit.model.sheet_numbers),
        photos=len(sightings),
        marks=int(fit.kept.sum()),
        turn_deg=turn_along_screen(proof.map),
        sheet_places=fit.sheet_places,
        paper=paper.name,
        printed_scale=float(fit.unknowns[fit.model.scale_at]),
        cameras=kept_cameras(fit.model, fit.unknowns, fit.covariance),
    )
    return Solved(alignment=alignment, fit=fit)


def _check_tapes(fit: Fit) -> None:
    """Raise where a tape contradicts the photos at the size that the printed ruler gives, or a printer can give."""
    model, x = fit.model, fit.unknowns
    for pair, taped_in in fit.tapes.items():
        by_tapes_in = model.centre_distance_in(x, pair)
        by_ruler_in = by_tapes_in / x[model.scale_at] * model.ruler
        size_slack_in = _RULER_SIGMAS * model.ruler_sigma * by_ruler_in
        for seen_in, slack_in in ((by_tapes_in, _TAPE_MISFIT_IN), (by_ruler_in, size_slack_in)):
            if abs(seen_in - taped_in) > slack_in:
                a, b = pair
                raise AlignmentError(
                    f"The tape between sheets {a} and {b} says {taped_in:.2f} in, the photo {seen_in:.2f} in; "
                    "measure again from centre cross to centre cross, and measure the printed ruler"
                )


def turn_along_screen(found: ProjectorMap) -> float:
    """Degrees that turn the drawing parallel to the picture's edges: sheet 1 says which side is up, not how straight.

    A projector hangs square to the table; a loose sheet lies a few degrees off.
    """
    width, height = found.screen_px
    middle = np.array([(width - 1) / 2, (height - 1) / 2])
    left, right = found.table_from_screen(middle + np.array([(-width / 4, 0), (width / 4, 0)]))
    across_deg = float(np.rad2deg(np.arctan2(*(right - left)[::-1])))
    return (across_deg + 45) % 90 - 45


def print_scale(printed_ruler_in: float | None) -> float | None:
    """True over drawn length by the measured printed ruler, if it was; AlignmentError where that cannot be."""
    if printed_ruler_in is None:
        return None
    scale = printed_ruler_in / RULER_IN
    if not _PRINT_SCALES[0] <= scale <= _PRINT_SCALES[1]:
        raise AlignmentError(
            f"The printed ruler is said to be {printed_ruler_in:.3f} in long where {RULER_IN:g} in was drawn; "
            "measure it from its first line to its last, or print the sheets again at 100 %"
        )
    return scale
