"""From photo files to an alignment, in one call."""

from collections.abc import Mapping, Sequence
from datetime import datetime
from pathlib import Path

import numpy as np

from calibration.errors import AlignmentError
from calibration.photo import read_photo, sight
from calibration.projector_map import ProjectorMap
from calibration.proof import prove
from calibration.saved import Alignment
from calibration.sheet import RULER_IN, Paper
from calibration.solve import Pair, solve
from calibration.targets import Targets

_PRINT_SCALES = (0.9, 1.1)  # beyond them the page was not printed from our file, or the ruler misread
_TAPE_MISFIT_IN = 1 / 8  # a tape and photos that disagree by more cannot both be right


def align_from_photos(
    photos: Sequence[Path],
    paper: Paper,
    screen_px: tuple[int, int],
    sheets: int,
    printed_ruler_in: float | None = None,
    tapes: Mapping[Pair, float] | None = None,
) -> Alignment:
    """The alignment from photos in which `sheets` printed sheets and the projected frame are seen together.

    `printed_ruler_in` is the measured length of the printed ruler; `tapes` are measured inches between the
    centre crosses of two sheets. Raises AlignmentError, saying what to do, where the photos do not do.
    """
    tapes = dict(tapes or {})
    printed_scale = _printed_scale(printed_ruler_in)
    targets = Targets(screen_px=screen_px, sheets=sheets, paper=paper)
    sightings = []
    for path in photos:
        try:
            sightings.append(sight(read_photo(path), paper, sheets, targets))
        except AlignmentError as error:
            raise AlignmentError(f"{path.name}: {error}") from error
    fit = solve(sightings, screen_px=screen_px, printed_scale=printed_scale, ruler_in=RULER_IN, tapes=tapes)
    for pair, taped_in in tapes.items():
        seen_in = fit.model.centre_distance_in(fit.unknowns, pair)
        if abs(seen_in - taped_in) > _TAPE_MISFIT_IN:
            a, b = pair
            raise AlignmentError(
                f"The tape between sheets {a} and {b} says {taped_in:.2f} in, the photo {seen_in:.2f} in; "
                "measure again from centre cross to centre cross, and measure the printed ruler"
            )
    proof = prove(fit)
    return Alignment(
        map=proof.map,
        name="table",
        aligned_on=datetime.now().astimezone(),
        rms_in=proof.rms_in,
        p95_in=proof.p95_in,
        verdict=proof.verdict,
        size_checked=proof.size_checked,
        trustworthy=proof.trustworthy,
        sheets=sheets,
        photos=len(photos),
        marks=int(fit.kept.sum()),
        turn_deg=turn_along_screen(proof.map),
        sheet_places=fit.sheet_places,
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


def _printed_scale(printed_ruler_in: float | None) -> float | None:
    if printed_ruler_in is None:
        return None
    scale = printed_ruler_in / RULER_IN
    if not _PRINT_SCALES[0] <= scale <= _PRINT_SCALES[1]:
        raise AlignmentError(
            f"The printed ruler is said to be {printed_ruler_in:.3f} in long where {RULER_IN:g} in was drawn; "
            "measure it from its first line to its last, or print the sheets again at 100 %"
        )
    return scale
