"""The cross of light that a person moves, and the words beside it; all in projector pixels."""

from collections.abc import Sequence
from dataclasses import dataclass, replace
from typing import Final

import numpy as np

from calibration.frames import ScreenPixels
from projector.actions import Action, ChangeSide, ChangeStep, Drag, Move
from projector.bindings import Binding
from projector.look import CROSS_LIGHT, GUIDE_LIGHT, STRIP_ASIDE_LIGHT, STRIP_LIGHT
from projector.messages import LETTER_SHARE, SPACING, columns_light, message_light
from projector.scene import Layer
from projector.strokes import Drawing, Stroke

COARSE_PX: Final = 10.0
FINE_PX: Final = 0.5  # what a careful hand and eye can place
ARM_SHARE: Final = 1 / 16  # of the screen's height: longer than the printed cross it is laid on
PLACED_SHARE: Final = 1 / 90
CROSS_PX: Final = 1.3
WORDS_LOW: Final = 0.7  # how far down the screen the words are: between the marks' likely rows
WORDS_HIGH: Final = 0.3
ROW_SHARE: Final = LETTER_SHARE * SPACING

Pixel = tuple[float, float]


@dataclass(frozen=True, slots=True, kw_only=True)
class CrossInHand:
    """Where the cross is, how it steps, and whether the person stands at the far side."""

    at_px: Pixel
    screen_px: tuple[int, int]
    fine: bool = False
    upside_down: bool = False

    def after(self, action: Action) -> "CrossInHand":
        """Moved, or stepping or read otherwise; the same after any other action."""
        match action:
            case Move():
                step = FINE_PX if self.fine != action.other_step else COARSE_PX
                way = -step if self.upside_down else step
                return self._moved(way * action.right, -way * action.away)
            case Drag():
                (x0, y0), (x1, y1) = action.from_px, action.to_px
                return self._moved(x1 - x0, y1 - y0)
            case ChangeStep():
                return replace(self, fine=not self.fine)
            case ChangeSide():
                return replace(self, upside_down=not self.upside_down)
            case _:
                return self

    @property
    def steps(self) -> str:
        """The step in force, in words."""
        return f"steps {FINE_PX if self.fine else COARSE_PX:g} px"

    @property
    def words_at(self) -> float:
        """How far down the screen words are clear of the cross."""
        return WORDS_HIGH if self.at_px[1] > self.screen_px[1] / 2 else WORDS_LOW

    def layers(self, placed: Sequence[Pixel], lines: tuple[str, ...], *, lit: bool) -> tuple[Layer, ...]:
        """The cross, if lit, small ones where others were left, and the words."""
        left = tuple(placed)
        height = self.screen_px[1]
        cross = crosses_light([self.at_px] if lit else [], ARM_SHARE * height, CROSS_LIGHT)
        return (
            Layer(name="cross", key=(self.at_px, lit), draw=lambda: cross),
            Layer(
                name="placed",
                key=left,
                draw=lambda: crosses_light(left, PLACED_SHARE * height, GUIDE_LIGHT),
            ),
            Layer(
                name="words",
                key=(lines, self.words_at, self.upside_down),
                draw=lambda: self._words(lines),
            ),
        )

    def help_layer(self, bindings: Sequence[Binding]) -> Layer:
        """The keys."""
        rows = [(binding.shown, binding.says) for binding in bindings]
        lights = (STRIP_LIGHT, STRIP_ASIDE_LIGHT)
        return Layer(
            name="words",
            key=("help", self.upside_down),
            draw=lambda: columns_light(rows, self.screen_px, lights, upside_down=self.upside_down),
        )

    def _moved(self, right_px: float, down_px: float) -> "CrossInHand":
        width, height = self.screen_px
        x = min(max(self.at_px[0] + right_px, 0.0), width - 1.0)
        y = min(max(self.at_px[1] + down_px, 0.0), height - 1.0)
        return replace(self, at_px=(x, y))

    def _words(self, lines: tuple[str, ...]) -> Drawing:
        first, others = lines[0], "\n".join(lines[1:])
        at, turned = self.words_at, self.upside_down
        up = -ROW_SHARE if not turned else ROW_SHARE
        return (
            *message_light(first, self.screen_px, STRIP_LIGHT, middle=at + up, upside_down=turned),
            *message_light(others, self.screen_px, STRIP_ASIDE_LIGHT, middle=at - up / 2, upside_down=turned),
        )


def crosses_light(at_px: Sequence[Pixel], arm_px: float, brightness: float) -> Drawing:
    """Upright crosses; nothing where there are none."""
    if not at_px:
        return ()
    arms = arm_px * np.array([[-1.0, 0.0], [1.0, 0.0], [0.0, -1.0], [0.0, 1.0]])
    points = (np.array(at_px)[:, None] + arms).reshape(-1, 2)
    ends = np.arange(2, len(points) + 1, 2)
    return (Stroke(points=ScreenPixels(points), ends=ends, width_px=CROSS_PX, light=brightness),)
