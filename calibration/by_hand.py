"""Alignment without a camera: crosses of light are moved by hand on to printed marks, one after the other."""

from collections.abc import Sequence
from dataclasses import dataclass, replace
from datetime import datetime

import cv2
import numpy as np

from calibration.errors import AlignmentError
from calibration.frames import Array, ScreenPixels
from calibration.hand_fit import LEAST_MARKS, HandFit, fit_by_hand
from calibration.hand_marks import HandMark, mat_marks, sheet_marks
from calibration.joint_model import TABLE_UNIT_IN, lie, matrix_of, picture_units
from calibration.lens import bend
from calibration.projector_map import ProjectorMap, project
from calibration.proof import CUTTABLE_IN, claim, in_words
from calibration.saved import Alignment
from calibration.sheet import RULER_IN, Paper
from calibration.unit_map import map_from_units

USUAL_MARKS = 16
_FEWEST_TO_FINISH = 6
_DISAGREES = 4.0  # times the median held-out error, and over two pixels: a slip of the hand
_FILL = 0.8  # of the screen that the marks are guessed to take, before any is placed


@dataclass(frozen=True, slots=True, kw_only=True)
class HandReport:
    """What is known after the crosses placed so far. Infinite inches where nothing can be said yet."""

    placed: int
    rms_in: float
    p95_in: float
    worst: HandMark | None
    words: str


@dataclass(frozen=True, slots=True, kw_only=True)
class HandAlignment:
    """Crosses placed on marks so far, in the order in which the marks are taken. A cross makes a new value."""

    screen_px: tuple[int, int]
    marks: tuple[HandMark, ...]
    crosses_px: tuple[tuple[float, float], ...] = ()
    scale: float = 1.0
    on_mat: bool = False

    @staticmethod
    def over_mat(
        screen_px: tuple[int, int], pitch_in: float, size_in: tuple[float, float]
    ) -> "HandAlignment":
        """On the crossings of a ruled mat; the table frame has its origin at the mat's near left corner."""
        return HandAlignment(screen_px=screen_px, marks=mat_marks(pitch_in, size_in), on_mat=True)

    @staticmethod
    def over_sheets(
        screen_px: tuple[int, int], paper: Paper, sheets: int, printed_ruler_in: float | None = None
    ) -> "HandAlignment":
        """On the crosses of printed sheets lying loosely; sheet 1 sets the table frame."""
        scale = 1.0 if printed_ruler_in is None else printed_ruler_in / RULER_IN
        return HandAlignment(screen_px=screen_px, marks=sheet_marks(paper, sheets), scale=scale)

    def next_mark(self) -> HandMark | None:
        """The mark to put the next cross on; None when all are placed."""
        placed = len(self.crosses_px)
        return self.marks[placed] if placed < len(self.marks) else None

    def with_cross(self, at_px: tuple[float, float]) -> "HandAlignment":
        """The next mark's cross, placed; raises AlignmentError when there is no mark left, or off the screen."""
        if self.next_mark() is None:
            raise AlignmentError("Every mark has its cross; finish, or undo one")
        if not all(0 <= value < size for value, size in zip(at_px, self.screen_px, strict=True)):
            raise AlignmentError("The cross is outside the light; bring it back on to the mark")
        return replace(self, crosses_px=(*self.crosses_px, at_px))

    def undone(self) -> "HandAlignment":
        """Without the last cross; the same value where there is none."""
        return replace(self, crosses_px=self.crosses_px[:-1])

    def predicted_px(self, mark: HandMark) -> ScreenPixels:
        """(1, 2) projector pixels where the cross for a mark starts: the better known, the more are placed."""
        at = self._in_units([mark])
        own = [i for i, placed in enumerate(self._placed) if placed.sheet == mark.sheet]
        first = [i for i, placed in enumerate(self._placed) if placed.sheet == 1]
        if len(first) < LEAST_MARKS:
            units = self._early_guess(at, own)
        elif mark.sheet != 1 and not own:
            units = picture_units(np.array([self._spare_place(mark)]), self.screen_px)
        else:
            fit = self._fit()
            place = fit.places[mark.sheet]
            table = lie(place, at)
            straight = project(matrix_of(fit.terms[:8]), table)
            units = bend(straight, fit.terms[10:12], fit.terms[8], fit.terms[9])
        width, height = self.screen_px
        pixels = units * (width / 2) + ((width - 1) / 2, (height - 1) / 2)
        return ScreenPixels(np.clip(pixels, 0, np.array(self.screen_px) - 1.0))

    @property
    def enough(self) -> bool:
        """Whether the alignment may be finished."""
        return len(self.crosses_px) >= _FEWEST_TO_FINISH

    def report(self) -> HandReport:
        """Residuals, forecast and the mark that disagrees most, in numbers and in words."""
        placed = len(self.crosses_px)
        if placed < LEAST_MARKS or not self._solvable:
            left = max(LEAST_MARKS - placed, 1)
            words = f"{placed} placed; {left} more and the rest is predicted"
            return HandReport(placed=placed, rms_in=np.inf, p95_in=np.inf, worst=None, words=words)
        fit = self._fit()
        found = self._map(fit)
        per_inch = self._pixels_per_inch(found)
        rms_in = float(np.sqrt((fit.residual_px**2).mean()) / per_inch)
        p95_in = claim(found, found.table_from_screen(self._area_px()))
        worst = self._disagreeing(fit)
        words = f"{placed} placed, good to about {in_words(p95_in)}"
        if worst is not None:
            words += f"; {worst.name} disagrees with the others: undo to it and place it again"
        return HandReport(placed=placed, rms_in=rms_in, p95_in=p95_in, worst=worst, words=words)

    def finished(self, name: str, aligned_on: datetime) -> Alignment:
        """The alignment to save; raises AlignmentError while too few crosses are placed."""
        if not self.enough or not self._solvable:
            raise AlignmentError(
                f"{len(self.crosses_px)} crosses placed; {_FEWEST_TO_FINISH} or more are needed, "
                f"{USUAL_MARKS} are usual: place some more"
            )
        report = self.report()
        fit = self._fit()
        ruled = "the mat's lines" if self.on_mat else "the print of the sheets"
        trustworthy = report.p95_in <= CUTTABLE_IN
        good = (
            f"Good to {in_words(report.p95_in)} where crosses were placed"
            if trustworthy
            else "Not good enough yet"
        )
        return Alignment(
            map=self._map(fit),
            name=name,
            aligned_on=aligned_on,
            rms_in=report.rms_in,
            p95_in=report.p95_in,
            verdict=f"{good}, placed by hand; size is as true as {ruled}, and not checked.",
            size_checked=False,
            trustworthy=trustworthy,
            sheets=len(fit.places),
            photos=0,
            marks=report.placed,
            sheet_places=tuple(
                (float(x * TABLE_UNIT_IN), float(y * TABLE_UNIT_IN), float(np.rad2deg(turn)))
                for x, y, turn in fit.places.values()
            ),
        )

    @property
    def _placed(self) -> tuple[HandMark, ...]:
        return self.marks[: len(self.crosses_px)]

    @property
    def _solvable(self) -> bool:
        """Whether every sheet that has a cross has two, since a loose sheet may be turned."""
        last = self._placed[-1].sheet
        return last == 1 or sum(mark.sheet == last for mark in self._placed) > 1

    def _fit(self) -> HandFit:
        marks, crosses = self._placed, self.crosses_px
        if not self._solvable:
            marks, crosses = marks[:-1], crosses[:-1]
        fit = fit_by_hand(marks, np.array(crosses), self.screen_px, self.scale)
        if self._solvable:
            return fit
        # one cross on a new sheet: as if it lay unturned
        mark = self._placed[-1]
        at = self._in_units([mark])[0]
        landed = self._map(fit).table_from_screen([self.crosses_px[-1]])[0] / TABLE_UNIT_IN
        return replace(fit, places={**fit.places, mark.sheet: np.array([*(landed - at), 0.0])})

    def _map(self, fit: HandFit) -> ProjectorMap:
        return map_from_units(fit.terms, fit.covariance, self.screen_px)

    def _early_guess(self, at: Array, own: list[int]) -> Array:
        """Before four marks: the marks fill most of the screen, upright; then shifted, turned, sheared to fit."""
        known = self._in_units([mark for mark in self.marks if mark.sheet == 1])
        low, high = known.min(axis=0), known.max(axis=0)
        half_screen = np.array((1.0, self.screen_px[1] / self.screen_px[0]))
        zoom = 2 * _FILL * float((half_screen / (high - low)).min())

        def upright(table: Array) -> Array:
            return np.asarray((table - (low + high) / 2) * (zoom, -zoom), dtype=np.float64)

        guess = upright(at)
        if not own:
            return guess
        source = upright(self._in_units([self.marks[i] for i in own]))
        image = picture_units(np.array([self.crosses_px[i] for i in own]), self.screen_px)
        if len(own) == 1:
            return guess + image - source
        estimate = cv2.estimateAffine2D if len(own) > 2 else cv2.estimateAffinePartial2D
        matrix, _ = estimate(source, image)
        if matrix is None:
            raise AlignmentError(
                "The marks placed lie on one line; undo, and place marks that enclose an area"
            )
        return np.asarray(guess @ matrix[:, :2].T + matrix[:, 2], dtype=np.float64)

    def _in_units(self, marks: Sequence[HandMark]) -> Array:
        return np.array([mark.at_in for mark in marks]) * self.scale / TABLE_UNIT_IN

    def _spare_place(self, mark: HandMark) -> tuple[float, float]:
        """Middle of a corner of the screen in turn: where a further sheet is likely to lie."""
        width, height = self.screen_px
        corner = (mark.sheet - 2) % 4
        return width * (0.2 if corner in (0, 3) else 0.8), height * (0.25 if corner < 2 else 0.75)

    def _area_px(self) -> Array:
        crosses = np.array(self.crosses_px)
        low, high = crosses.min(axis=0), crosses.max(axis=0)
        u, v = np.meshgrid(np.linspace(low[0], high[0], 13), np.linspace(low[1], high[1], 9))
        return np.column_stack([u.ravel(), v.ravel()])

    def _pixels_per_inch(self, found: ProjectorMap) -> float:
        middle = np.array(self.crosses_px).mean(axis=0)
        near = found.table_from_screen(middle + np.array([(0, 0), (1, 0)]))
        return float(1 / np.hypot(*(near[1] - near[0])))

    def _disagreeing(self, fit: HandFit) -> HandMark | None:
        if not np.isfinite(fit.held_out_px).all():
            return None
        worst = int(np.argmax(fit.held_out_px))
        slip = fit.held_out_px[worst] > max(_DISAGREES * float(np.median(fit.held_out_px)), 2.0)
        return self._placed[worst] if slip else None
