"""Watching the table through a camera until all that is needed is seen, sharp and still."""

from dataclasses import dataclass, replace
from typing import Final, Self

import numpy as np

from calibration.cameras.advice import advice
from calibration.cameras.steady import SteadyFrames
from calibration.errors import AlignmentError
from calibration.frames import CameraPixels, Gray
from calibration.photos.found_markers import FoundMarkers, find_markers
from calibration.photos.pattern_fit import place_pattern
from calibration.photos.photo import placed_sheets, sight, target_pattern
from calibration.photos.sightings import PhotoSighting
from calibration.sheets.markers import PRINTED, PROJECTED
from calibration.sheets.sheet import MARKERS_IN_USE, PAPERS, Paper
from calibration.sheets.targets import Targets

FRAMES: Final = 12  # averaged, they have 0.29 of the noise of one
MOVED: Final = "something moved: hold still, hands off the table"
_LEAST_LIGHT_MARKS: Final = 12


@dataclass(frozen=True, slots=True, kw_only=True)
class Look:
    """What is seen of what is looked for: the numbers of sheets, and whether the squares of light are.

    `trouble` says what to change; `frames` is how many were taken, one after the other, with nothing moving.
    """

    sheets: tuple[int, ...] = ()
    light: bool = False
    trouble: str = ""
    frames: int = 0

    @property
    def in_a_row(self) -> int:
        """How many sheets are seen, counted from sheet 1 to the first that is missing."""
        return next(n for n in range(len(self.sheets) + 1) if n + 1 not in self.sheets)


NOTHING_YET: Final = Look()


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Watch:
    """What to look for, what the last frame showed, and the frames taken so far.

    Frames are taken while sheets 1 to `sheets` and the light are seen; `as_it_is`: whatever the advice.
    """

    paper: Paper
    sheets: int
    targets: Targets
    look: Look = NOTHING_YET
    taken: SteadyFrames | None = None
    as_it_is: bool = False

    @property
    def complete(self) -> bool:
        """Whether enough frames are taken."""
        return self.look.frames >= FRAMES

    def after(self, frame: Gray) -> Self:
        """The watch after one more frame."""
        if self.taken is not None and self.taken.agrees(frame):
            taken = self.taken.with_frame(frame)
            return replace(self, taken=taken, look=replace(self.look, frames=taken.frames, trouble=""))
        look, marks_px = self._looked(frame)
        if not self._will_do(look):
            return replace(self, look=look, taken=None)
        trouble = MOVED if self.taken is not None else ""
        look = replace(look, frames=1, trouble=trouble)
        return replace(self, look=look, taken=SteadyFrames.begun(frame, marks_px))

    def hurried(self) -> Self:
        """The watch that is content with what is seen now; AlignmentError where that is too little."""
        if not self.look.in_a_row or not self.look.light:
            lacking = "the squares of light" if self.look.in_a_row else "sheet 1"
            raise AlignmentError(f"at least {lacking} must be seen; get more into the camera's view")
        return replace(self, sheets=min(self.look.in_a_row, self.sheets), as_it_is=True)

    def sighting(self) -> PhotoSighting:
        """The corners in the average of the frames taken; raises AlignmentError as `sight` does."""
        if self.taken is None:
            raise ValueError("no frame is taken yet")
        return sight(self.taken.mean, self.paper, self.sheets, self.targets)

    def _will_do(self, look: Look) -> bool:
        return look.light and look.in_a_row >= self.sheets and (self.as_it_is or not look.trouble)

    def _looked(self, frame: Gray) -> tuple[Look, CameraPixels]:
        """What one frame shows, and the corners (n, 2) of its marks."""
        printed, projected = find_markers(
            frame, [(PRINTED, MARKERS_IN_USE), (PROJECTED, self.targets.markers_in_use)]
        )
        sheets = placed_sheets(printed, self.paper)
        light = place_pattern(target_pattern(self.targets), projected)
        agreed = [place.agreed for place in (*sheets.values(), *([light] if light else []))]
        lit = light is not None and len(np.unique(light.agreed.numbers)) >= _LEAST_LIGHT_MARKS
        look = Look(
            sheets=tuple(sorted(sheets)),
            light=lit,
            trouble=advice(frame) or ("" if sheets else self._wrong_paper(printed)),
        )
        return look, CameraPixels(
            np.concatenate([[], *(marks.corners_px.ravel() for marks in agreed)]).reshape(-1, 2)
        )

    def _wrong_paper(self, printed: FoundMarkers) -> str:
        for other in PAPERS.values():
            if other != self.paper and placed_sheets(printed, other):
                return (
                    f"the sheets are on {other.name} paper: leave, and start again with --paper {other.name}"
                )
        return ""
