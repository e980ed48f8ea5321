"""Alignment without a camera: crosses of light are moved by hand on to printed marks, one after the other."""

from dataclasses import dataclass, replace
from datetime import datetime
from typing import Final

import numpy as np

from calibration.errors import AlignmentError
from calibration.frames import Array, ScreenPixels
from calibration.hand.choice import opening_mark, pinned, worst_foreseen
from calibration.hand.fit import LEAST_MARKS, HandFit, fit_by_hand
from calibration.hand.guess import early_guess, spare_place
from calibration.hand.marks import HandCross, HandMark, mat_marks, sheet_marks
from calibration.lens import bend
from calibration.projector_map import ProjectorMap, project
from calibration.sheets.sheet import RULER_IN, Paper
from calibration.solving.from_photos import turn_along_screen
from calibration.solving.joint_model import TABLE_UNIT_IN, lie, matrix_of
from calibration.solving.proof import CUTTABLE_IN, claim, in_words
from calibration.solving.unit_map import map_from_units
from calibration.table.saved import Alignment
from calibration.trust.ruler_test import in_64ths

_USUAL_MARKS: Final = 12
_USUAL_ON_SHEET: Final = 4  # two only lay a loose sheet; what the others add is known of the light
_FEWEST_TO_FINISH: Final = 6
_FEWEST_TO_JUDGE: Final = 8  # with fewer, the others cannot tell which of them is at fault
_SURPRISING: Final = (
    4.5  # standard deviations: no careful hand in a hundred is accused (`tests/bench/hand.py`)
)


@dataclass(frozen=True, slots=True, kw_only=True)
class HandReport:
    """What is known after the crosses placed so far. Infinite inches where nothing can be said yet.

    `worst` is the mark that disagrees with the others, if one does, and `worst_in` by how much.
    """

    placed: int
    rms_in: float
    p95_in: float
    worst: HandMark | None
    worst_in: float
    words: str


@dataclass(frozen=True, slots=True, kw_only=True)
class HandAlignment:
    """Crosses in the order in which they were placed; of two on one mark the later counts.

    `mat` is the pitch, width and height of a ruled mat, `paper` what the sheets are printed on. A cross makes
    a new value.
    """

    screen_px: tuple[int, int]
    marks: tuple[HandMark, ...]
    crosses: tuple[HandCross, ...] = ()
    scale: float = 1.0
    mat: tuple[float, float, float] | None = None
    paper: str = ""

    @staticmethod
    def over_mat(
        screen_px: tuple[int, int], pitch_in: float, size_in: tuple[float, float]
    ) -> "HandAlignment":
        """On the crossings of a ruled mat; the table frame has its origin at the mat's near left corner."""
        return HandAlignment(
            screen_px=screen_px, marks=mat_marks(pitch_in, size_in), mat=(pitch_in, *size_in)
        )

    @staticmethod
    def over_sheets(
        screen_px: tuple[int, int], paper: Paper, sheets: int, printed_ruler_in: float | None = None
    ) -> "HandAlignment":
        """On the crosses of printed sheets lying loosely; sheet 1 sets the table frame."""
        scale = 1.0 if printed_ruler_in is None else printed_ruler_in / RULER_IN
        return HandAlignment(
            screen_px=screen_px, marks=sheet_marks(paper, sheets), scale=scale, paper=paper.name
        )

    @property
    def placed(self) -> tuple[HandCross, ...]:
        """The crosses that count: the latest of each mark."""
        latest = {cross.mark: cross for cross in self.crosses}
        return tuple(cross for cross in self.crosses if latest[cross.mark] is cross)

    def next_mark(self) -> HandMark | None:
        """The mark to put the next cross on; None when all have theirs.

        A few pin the map, then it is where the cross is foreseen worst. AlignmentError where the marks placed
        cannot tell, since they lie on a line.
        """
        taken = {cross.mark for cross in self.crosses}
        opening = opening_mark(self.marks, taken)
        left = [mark for mark in self.marks if mark not in taken]
        if opening is not None or not left:
            return opening
        return worst_foreseen(self._fit(), left, self.scale)

    def with_cross(self, at_px: tuple[float, float], mark: HandMark | None = None) -> "HandAlignment":
        """With a cross on the mark, or on the next one; AlignmentError where there is none, or off the screen."""
        mark = mark or self.next_mark()
        if mark is None:
            raise AlignmentError("Every mark has its cross; finish, or undo one")
        if not all(0 <= value < size for value, size in zip(at_px, self.screen_px, strict=True)):
            raise AlignmentError("The cross is outside the light; bring it back on to the mark")
        return replace(self, crosses=(*self.crosses, HandCross(mark=mark, at_px=at_px)))

    def undone(self) -> "HandAlignment":
        """Without the last cross, so that an earlier one on its mark counts again; the same where there is none."""
        return replace(self, crosses=self.crosses[:-1])

    def predicted_px(self, mark: HandMark) -> ScreenPixels:
        """(1, 2) projector pixels where the cross for a mark starts: as foreseen, but in the light."""
        return ScreenPixels(np.clip(self.foreseen_px(mark), 0, np.array(self.screen_px) - 1.0))

    def foreseen_px(self, mark: HandMark) -> ScreenPixels:
        """(1, 2) projector pixels of a mark: the better known, the more are placed."""
        own = [cross for cross in self.placed if cross.mark.sheet == mark.sheet]
        first = [cross for cross in self.placed if cross.mark.sheet == 1]
        if len(first) < LEAST_MARKS:
            units = early_guess(mark, [m for m in self.marks if m.sheet == 1], own, self.screen_px)
        elif mark.sheet != 1 and not own:
            units = spare_place(mark.sheet, self.screen_px)
        else:
            fit = self._fit()
            place = fit.places.get(mark.sheet)
            table = lie(self._unturned(fit, own[0]) if place is None else place, self._in_units(mark))
            straight = project(matrix_of(fit.terms[:8]), table)
            units = bend(straight, fit.terms[10:12], fit.terms[8], fit.terms[9])
        width, height = self.screen_px
        return ScreenPixels(units * (width / 2) + ((width - 1) / 2, (height - 1) / 2))

    @property
    def usual_marks(self) -> int:
        """How many crosses are worth their time."""
        sheets = max(mark.sheet for mark in self.marks)
        return max(_USUAL_MARKS, _USUAL_ON_SHEET * sheets)

    @property
    def enough(self) -> bool:
        """Whether the alignment may be finished."""
        return len(self.placed) >= _FEWEST_TO_FINISH and self._all_pinned

    def report(self) -> HandReport:
        """Residuals, forecast and the mark that disagrees most, in numbers and in words."""
        placed = len(self.placed)
        if placed < LEAST_MARKS or not self._all_pinned:
            left = max(LEAST_MARKS - placed, 1)
            words = f"{placed} placed; after {left} more the cross nearly finds the next mark itself"
            return HandReport(
                placed=placed, rms_in=np.inf, p95_in=np.inf, worst=None, worst_in=np.inf, words=words
            )
        fit = self._fit()
        found = self._map(fit)
        per_inch = self._pixels_per_inch(found)
        p95_in = claim(found, found.table_from_screen(self._area_px()))
        at = self._disagreeing(fit)
        worst = None if at is None else self.placed[at].mark
        worst_in = np.inf if at is None else float(fit.held_out_px[at] / per_inch)
        words = f"{placed} placed, good to about {in_words(p95_in)} among them"
        return HandReport(
            placed=placed,
            rms_in=float(np.sqrt((fit.residual_px**2).mean()) / per_inch),
            p95_in=p95_in,
            worst=worst,
            worst_in=worst_in,
            words=words,
        )

    @property
    def residual_arrows(self) -> Array:
        """(n, 4) x, y, dx, dy in table inches: where each mark lies, and how far off it the map puts its cross."""
        fit = self._fit()
        marks = [lie(fit.places[cross.mark.sheet], self._in_units(cross.mark)) for cross in self.placed]
        marks_in = np.vstack(marks) * TABLE_UNIT_IN
        crosses_in = self._map(fit).table_from_screen([cross.at_px for cross in self.placed])
        return np.hstack([marks_in, crosses_in - marks_in])

    def finished(self, name: str, aligned_on: datetime) -> Alignment:
        """The alignment to save; raises AlignmentError while too few crosses are placed."""
        if len(self.placed) < _FEWEST_TO_FINISH:
            raise AlignmentError(
                f"{len(self.placed)} crosses placed; {_FEWEST_TO_FINISH} or more are needed, "
                f"{self.usual_marks} are usual: place some more"
            )
        if not self._all_pinned:
            raise AlignmentError(
                "A sheet has one cross; a loose sheet needs two, since it may be turned: place another on it"
            )
        report = self.report()
        fit = self._fit()
        ruled = "the print of the sheets" if self.mat is None else "the mat's lines"
        doubt = (
            ""
            if report.worst is None
            else f" {report.worst.name} disagrees with the others by {in_64ths(report.worst_in)}."
        )
        trustworthy = report.p95_in <= CUTTABLE_IN
        good = (
            f"Good to {in_words(report.p95_in)} where crosses were placed"
            if trustworthy
            else "Not good enough yet"
        )
        found = self._map(fit)
        return Alignment(
            map=found,
            name=name,
            aligned_on=aligned_on,
            rms_in=report.rms_in,
            p95_in=report.p95_in,
            verdict=f"{good}, placed by hand; size is as true as {ruled}, and not checked.{doubt}",
            size_checked=False,
            trustworthy=trustworthy,
            sheets=len(fit.places),
            photos=0,
            marks=report.placed,
            turn_deg=0.0
            if self.mat is not None
            else turn_along_screen(found),  # a mat lies square, a sheet may not
            sheet_places=tuple(
                (float(x * TABLE_UNIT_IN), float(y * TABLE_UNIT_IN), float(np.rad2deg(turn)))
                for x, y, turn in fit.places.values()
            ),
            paper=self.paper,
            printed_scale=self.scale,
            mat=self.mat,
        )

    @property
    def _all_pinned(self) -> bool:
        return len(pinned(self.placed)) == len(self.placed)

    def _fit(self) -> HandFit:
        return fit_by_hand(pinned(self.placed), self.screen_px, self.scale)

    def _map(self, fit: HandFit) -> ProjectorMap:
        terms = len(fit.terms)
        return map_from_units(fit.terms, fit.covariance[:terms, :terms], self.screen_px)

    def _unturned(self, fit: HandFit, cross: HandCross) -> Array:
        """(x, y, 0): a sheet with one cross, as if it lay unturned."""
        landed = self._map(fit).table_from_screen([cross.at_px])[0] / TABLE_UNIT_IN
        return np.array([*(landed - self._in_units(cross.mark)[0]), 0.0])

    def _in_units(self, mark: HandMark) -> Array:
        return np.array([mark.at_in]) * self.scale / TABLE_UNIT_IN

    def _area_px(self) -> Array:
        crosses = np.array([cross.at_px for cross in self.placed])
        low, high = crosses.min(axis=0), crosses.max(axis=0)
        u, v = np.meshgrid(np.linspace(low[0], high[0], 13), np.linspace(low[1], high[1], 9))
        return np.column_stack([u.ravel(), v.ravel()])

    def _pixels_per_inch(self, found: ProjectorMap) -> float:
        middle = np.array([cross.at_px for cross in self.placed]).mean(axis=0)
        near = found.table_from_screen(middle + np.array([(0, 0), (1, 0)]))
        return float(1 / np.hypot(*(near[1] - near[0])))

    def _disagreeing(self, fit: HandFit) -> int | None:
        worst = int(np.argmax(fit.surprise))
        judged = len(fit.surprise) >= _FEWEST_TO_JUDGE
        return worst if judged and fit.surprise[worst] > _SURPRISING else None
