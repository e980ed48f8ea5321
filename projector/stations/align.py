"""Aligning by hand: a cross of light is moved on to one printed mark after the other.

Everything is drawn in projector pixels: until the crosses are placed there is no map, and nothing is known
of inches on the table.
"""

from dataclasses import dataclass, replace
from datetime import datetime
from typing import Final

import numpy as np

from calibration.by_hand import HandAlignment
from calibration.errors import AlignmentError
from calibration.frames import ScreenPixels
from calibration.hand_marks import HandMark
from calibration.saved import Alignment
from projector.actions import Accept, Action, ChangeSide, ChangeStep, Drag, Finish, Move, Undo
from projector.bindings import ALIGN_BINDINGS, Binding
from projector.look import CROSS_LIGHT, GUIDE_LIGHT, STRIP_ASIDE_LIGHT, STRIP_LIGHT
from projector.messages import LETTER_SHARE, SPACING, columns_light, message_light
from projector.scene import Controls, Layer, Scene
from projector.strokes import Drawing, Stroke

COARSE_PX: Final = 10.0
FINE_PX: Final = 0.5  # what a careful hand and eye can place
ARM_SHARE: Final = 1 / 16  # of the screen's height: longer than the printed cross it is laid on
PLACED_SHARE: Final = 1 / 90
CROSS_PX: Final = 1.3
WORDS_LOW: Final = 0.7  # how far down the screen the words are: between the marks' likely rows
WORDS_HIGH: Final = 0.3
ROW_SHARE: Final = LETTER_SHARE * SPACING


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class AlignStation:
    """`cross_px` is where the cross for the next mark is; `said` is what the crosses so far are worth."""

    alignment: HandAlignment
    name: str
    cross_px: tuple[float, float]
    said: str
    fine: bool = False
    upside_down: bool = False
    notice: str = ""
    result: Alignment | None = None

    @classmethod
    def begun(cls, alignment: HandAlignment, name: str) -> "AlignStation":
        """The cross for the first mark that has none, where it is expected; AlignmentError if nowhere."""
        return cls(
            alignment=alignment,
            name=name,
            cross_px=_expected(alignment),
            said=alignment.report().words,
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
        """The cross, those placed before it, and words clear of it; the keys instead when asked for."""
        height = self.alignment.screen_px[1]
        if controls.helping:
            return (Layer(name="words", key=("help", self.upside_down), draw=self._help),)
        lines = self.lines(controls)
        at = WORDS_HIGH if self.cross_px[1] > height / 2 else WORDS_LOW
        return (
            Layer(name="cross", key=(self.cross_px, self._has_mark), draw=self._cross),
            Layer(name="placed", key=self.alignment.crosses_px, draw=self._placed),
            Layer(name="words", key=(lines, at, self.upside_down), draw=lambda: self._words(lines, at)),
        )

    def lines(self, controls: Controls) -> tuple[str, ...]:
        """Which mark; what the crosses are worth; what to do."""
        mark = self.alignment.next_mark()
        first = (
            f"put the cross on {_said(mark, self.alignment.on_mat)}" if mark else "every mark has its cross"
        )
        if controls.frozen:
            first = "FROZEN: f frees it"
        steps = f"steps {FINE_PX if self.fine else COARSE_PX:g} px"
        ways = [steps, "enter accepts", "backspace undoes"]
        if self.alignment.enough:
            ways.append("d saves")
        preview = ["preview, not true to size"] if controls.preview else []
        return (first, self.notice or self.said, "  ·  ".join([*preview, *ways, "h shows the keys"]))

    @property
    def _has_mark(self) -> bool:
        return self.alignment.next_mark() is not None

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
                return self._with(self.alignment.with_cross(self.cross_px))
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
        return replace(
            self,
            alignment=alignment,
            cross_px=_expected(alignment),
            said=alignment.report().words,
            notice="",
        )

    def _undone(self) -> "AlignStation":
        if not self.alignment.crosses_px:
            return replace(self, notice="nothing to undo")
        back = self.alignment.crosses_px[-1]
        return replace(self._with(self.alignment.undone()), cross_px=back)

    def _cross(self) -> Drawing:
        if not self._has_mark:
            return ()
        return _crosses([self.cross_px], ARM_SHARE * self.alignment.screen_px[1], CROSS_LIGHT)

    def _placed(self) -> Drawing:
        return _crosses(
            list(self.alignment.crosses_px), PLACED_SHARE * self.alignment.screen_px[1], GUIDE_LIGHT
        )

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


def _expected(alignment: HandAlignment) -> tuple[float, float]:
    """Where the cross for the next mark starts; the middle of the screen when all are placed."""
    mark = alignment.next_mark()
    if mark is None:
        width, height = alignment.screen_px
        return (width / 2, height / 2)
    x, y = alignment.predicted_px(mark)[0]
    return (float(x), float(y))


def _said(mark: HandMark, on_mat: bool) -> str:
    return f"the mat's lines {mark.name}, from its near left corner" if on_mat else mark.name


def _crosses(at_px: list[tuple[float, float]], arm_px: float, brightness: float) -> Drawing:
    if not at_px:
        return ()
    arms = arm_px * np.array([[-1.0, 0.0], [1.0, 0.0], [0.0, -1.0], [0.0, 1.0]])
    points = (np.array(at_px)[:, None] + arms).reshape(-1, 2)
    ends = np.arange(2, len(points) + 1, 2)
    return (Stroke(points=ScreenPixels(points), ends=ends, width_px=CROSS_PX, light=brightness),)
