"""Aligning by hand: a cross of light is moved on to one printed mark after the other.

Everything is drawn in projector pixels: until the crosses are placed there is no map, and nothing is known
of inches on the table.
"""

from dataclasses import dataclass, replace
from datetime import datetime
from typing import Final

import numpy as np

from calibration.by_hand import USUAL_MARKS, HandAlignment, HandReport
from calibration.errors import AlignmentError
from calibration.frames import ScreenPixels
from calibration.hand_marks import HandMark
from calibration.saved import Alignment
from projector.actions import Accept, Action, ChangeSide, ChangeStep, Drag, Finish, Move, TakeUp, Undo
from projector.bindings import ALIGN_BINDINGS, Binding
from projector.look import CROSS_LIGHT, GUIDE_LIGHT, STRIP_ASIDE_LIGHT, STRIP_LIGHT
from projector.mark_plan import plan_light, ring
from projector.messages import LETTER_SHARE, SPACING, columns_light, message_light
from projector.scene import Controls, Layer, Scene
from projector.strokes import Drawing, Stroke

COARSE_PX: Final = 10.0
FINE_PX: Final = 0.5  # what a careful hand and eye can place
ARM_SHARE: Final = 1 / 16  # of the screen's height: longer than the printed cross it is laid on
PLACED_SHARE: Final = 1 / 90
CROSS_PX: Final = 1.3
RING_SHARE: Final = 1 / 30  # round a cross that is pointed at
WORDS_LOW: Final = 0.7  # how far down the screen the words are: between the marks' likely rows
WORDS_HIGH: Final = 0.3
PLAN_FROM_WORDS: Final = 0.2  # of the screen's height, towards the edge
ROW_SHARE: Final = LETTER_SHARE * SPACING


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class AlignStation:
    """`cross_px` is where the cross for the mark is; `report` says what the crosses so far are worth."""

    alignment: HandAlignment
    name: str
    mark: HandMark | None
    cross_px: tuple[float, float]
    report: HandReport
    fine: bool = False
    upside_down: bool = False
    notice: str = ""
    result: Alignment | None = None

    @classmethod
    def begun(cls, alignment: HandAlignment, name: str, notice: str = "") -> "AlignStation":
        """The cross for the first mark that has none, where it is expected; AlignmentError if nowhere."""
        mark = alignment.next_mark()
        return cls(
            alignment=alignment,
            name=name,
            mark=mark,
            cross_px=_expected(alignment, mark),
            report=alignment.report(),
            notice=notice,
        )

    @property
    def bindings(self) -> tuple[Binding, ...]:
        """The keys that have a meaning here."""
        return ALIGN_BINDINGS

    @property
    def finished(self) -> bool:
        """Whether there is an alignment to save."""
        return self.result is not None

    def after(self, action: Action) -> "AlignStation":
        """The station after the action; what cannot be done is said and changes nothing."""
        try:
            return self._after(action)
        except AlignmentError as error:
            return replace(self, notice=str(error))

    def can_undo(self, action: Action) -> bool:
        """Undo takes back the last cross, which is this station's own."""
        return False

    def scene(self, controls: Controls) -> Scene:
        """The cross, those placed before it, a plan and words clear of it; the keys instead when asked for."""
        height = self.alignment.screen_px[1]
        if controls.helping:
            return (Layer(name="words", key=("help", self.upside_down), draw=self._help),)
        lines = self.lines(controls)
        low = self.cross_px[1] <= height / 2
        words_at = WORDS_LOW if low else WORDS_HIGH
        plan_at = words_at + PLAN_FROM_WORDS if low else words_at - PLAN_FROM_WORDS
        crosses, doubted, turned = self.alignment.crosses, self.report.worst, self.upside_down
        return (
            Layer(name="cross", key=(self.cross_px, self.mark is None), draw=self._cross),
            Layer(name="placed", key=(crosses, self.mark, doubted), draw=self._placed),
            Layer(name="plan", key=(crosses, self.mark, plan_at), draw=lambda: self._plan(plan_at)),
            Layer(name="words", key=(lines, words_at, turned), draw=lambda: self._words(lines, words_at)),
        )

    def lines(self, controls: Controls) -> tuple[str, ...]:
        """Which mark; what the crosses are worth; what to do."""
        first = "every mark has its cross: d saves"
        if self.mark is not None:
            again = "again, " if self._redoing else ""
            first = f"{again}put the cross on {_said(self.mark, self.alignment.mat is not None)}"
        if controls.frozen:
            first = "FROZEN: f frees it"
        steps = f"steps {FINE_PX if self.fine else COARSE_PX:g} px"
        ways = [steps, "enter accepts", "backspace undoes"]
        if self.report.worst is not None and not self._redoing:
            ways.insert(0, "r redoes the ringed mark")
        if self.alignment.enough:
            ways.append("d saves")
        preview = ["preview, not true to size"] if controls.preview else []
        return (first, self.notice or self.said, "  ·  ".join([*preview, *ways, "h shows the keys"]))

    @property
    def said(self) -> str:
        """What the crosses are worth, and how many more are usual."""
        left = USUAL_MARKS - self.report.placed
        more = f"; {left} more are usual" if self.alignment.enough and left > 0 else ""
        return self.report.words + more

    @property
    def _redoing(self) -> bool:
        return any(cross.mark == self.mark for cross in self.alignment.placed)

    def _after(self, action: Action) -> "AlignStation":
        match action:
            case Move():
                step = FINE_PX if self.fine != action.other_step else COARSE_PX
                way = -step if self.upside_down else step
                return self._moved(way * action.right, -way * action.away)
            case Drag():
                (x0, y0), (x1, y1) = action.from_px, action.to_px
                return self._moved(x1 - x0, y1 - y0)
            case Accept():
                return self._with(self.alignment.with_cross(self.cross_px, self.mark))
            case TakeUp():
                return self._taken_up()
            case Undo():
                return self._undone()
            case Finish():
                return replace(self, result=self.alignment.finished(self.name, datetime.now().astimezone()))
            case ChangeStep():
                return replace(self, fine=not self.fine, notice="")
            case ChangeSide():
                return replace(self, upside_down=not self.upside_down, notice="")
            case _:
                return self

    def _moved(self, right_px: float, down_px: float) -> "AlignStation":
        width, height = self.alignment.screen_px
        x = min(max(self.cross_px[0] + right_px, 0.0), width - 1.0)
        y = min(max(self.cross_px[1] + down_px, 0.0), height - 1.0)
        return replace(self, cross_px=(x, y), notice="")

    def _with(self, alignment: HandAlignment) -> "AlignStation":
        mark = alignment.next_mark()
        return replace(
            self,
            alignment=alignment,
            mark=mark,
            cross_px=_expected(alignment, mark),
            report=alignment.report(),
            notice="",
        )

    def _taken_up(self) -> "AlignStation":
        """The cross that disagrees, from where it was left; it counts until it is placed again."""
        worst = self.report.worst
        if worst is None:
            return replace(self, notice="no mark disagrees with the others")
        return replace(self, mark=worst, cross_px=_left_at(self.alignment, worst), notice="")

    def _undone(self) -> "AlignStation":
        """The last cross in hand again, where it was left; a cross that was taken up is put back."""
        if not self.alignment.crosses:
            return replace(self, notice="nothing to undo")
        if self._redoing:
            return self._with(self.alignment)
        last = self.alignment.crosses[-1]
        back = self._with(self.alignment.undone())
        return replace(back, mark=last.mark, cross_px=last.at_px)

    def _cross(self) -> Drawing:
        if self.mark is None:
            return ()
        return _crosses([self.cross_px], ARM_SHARE * self.alignment.screen_px[1], CROSS_LIGHT)

    def _placed(self) -> Drawing:
        """Small crosses where they were left, but for the one in hand; a ring round one that disagrees."""
        height = self.alignment.screen_px[1]
        left = [cross.at_px for cross in self.alignment.placed if cross.mark != self.mark]
        drawing = _crosses(left, PLACED_SHARE * height, GUIDE_LIGHT)
        if self.report.worst is None or self.report.worst == self.mark:
            return drawing
        middle = np.array(_left_at(self.alignment, self.report.worst))
        return (*drawing, ring(middle, RING_SHARE * height, CROSS_LIGHT))

    def _plan(self, at: float) -> Drawing:
        if self.mark is None:
            return ()
        width, height = self.alignment.screen_px
        return plan_light(self.alignment, self.mark, (width / 2, at * height))

    def _words(self, lines: tuple[str, ...], at: float) -> Drawing:
        screen_px, turned = self.alignment.screen_px, self.upside_down
        first, others = lines[0], "\n".join(lines[1:])
        up = -ROW_SHARE if not turned else ROW_SHARE
        return (
            *message_light(first, screen_px, STRIP_LIGHT, middle=at + up, upside_down=turned),
            *message_light(others, screen_px, STRIP_ASIDE_LIGHT, middle=at - up / 2, upside_down=turned),
        )

    def _help(self) -> Drawing:
        rows = [(binding.shown, binding.says) for binding in self.bindings]
        lights = (STRIP_LIGHT, STRIP_ASIDE_LIGHT)
        return columns_light(rows, self.alignment.screen_px, lights, upside_down=self.upside_down)


def _expected(alignment: HandAlignment, mark: HandMark | None) -> tuple[float, float]:
    """Where the cross for the mark starts; the middle of the screen when all are placed."""
    if mark is None:
        width, height = alignment.screen_px
        return (width / 2, height / 2)
    x, y = alignment.predicted_px(mark)[0]
    return (float(x), float(y))


def _left_at(alignment: HandAlignment, mark: HandMark) -> tuple[float, float]:
    """Where the mark's cross was left."""
    return next(cross.at_px for cross in alignment.placed if cross.mark == mark)


def _said(mark: HandMark, on_mat: bool) -> str:
    return f"the mat's lines {mark.name}, from its near left corner" if on_mat else mark.name


def _crosses(at_px: list[tuple[float, float]], arm_px: float, brightness: float) -> Drawing:
    if not at_px:
        return ()
    arms = arm_px * np.array([[-1.0, 0.0], [1.0, 0.0], [0.0, -1.0], [0.0, 1.0]])
    points = (np.array(at_px)[:, None] + arms).reshape(-1, 2)
    ends = np.arange(2, len(points) + 1, 2)
    return (Stroke(points=ScreenPixels(points), ends=ends, width_px=CROSS_PX, light=brightness),)
