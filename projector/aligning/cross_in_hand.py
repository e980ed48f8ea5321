"""The cross of light that a person moves, and the words beside it; all in projector pixels."""

from collections.abc import Sequence
from dataclasses import dataclass, replace
from typing import Final

import numpy as np

from calibration.frames import ScreenPixels
from projector.actions import Action, ChangeStep, Drag, Move
from projector.aligning.words_beside import Obstacle, Pixel, Wanted, WordsBeside, words_beside
from projector.bindings import Binding
from projector.lighting.look import CROSS_LIGHT, GUIDE_LIGHT, STRIP_ASIDE_LIGHT, STRIP_LIGHT
from projector.lighting.strokes import Drawing, Stroke
from projector.scene import Layer
from projector.words.messages import columns_light

COARSE_PX: Final = 10.0
FINE_PX: Final = 0.5  # what a careful hand and eye can place
ARM_SHARE: Final = 1 / 16  # of the screen's height: longer than the printed cross it is laid on
PLACED_SHARE: Final = 1 / 90
CROSS_PX: Final = 1.3
RING_SHARE: Final = 1 / 30  # round a cross that is pointed at
STILL_SHARE: Final = 1 / 9  # of the screen's height, within which the cross moves before its words do


@dataclass(frozen=True, slots=True, kw_only=True)
class CrossInHand:
    """Where the cross is and how it steps; `upside_down` is whether the person stands at the far side."""

    at_px: Pixel
    screen_px: tuple[int, int]
    fine: bool = False

    def after(self, action: Action, *, upside_down: bool) -> "CrossInHand":
        """Moved, or stepping or read otherwise; the same after any other action."""
        match action:
            case Move():
                step = FINE_PX if self.fine != action.other_step else COARSE_PX
                way = -step if upside_down else step
                return self._moved(way * action.right, -way * action.away)
            case Drag():
                (x0, y0), (x1, y1) = action.from_px, action.to_px
                return self._moved(x1 - x0, y1 - y0)
            case ChangeStep():
                return replace(self, fine=not self.fine)
            case _:
                return self

    @property
    def steps(self) -> str:
        """The step in force and the other one, in words."""
        step, other = (FINE_PX, COARSE_PX) if self.fine else (COARSE_PX, FINE_PX)
        return f"arrows step {step:g} px, s: {other:g} px"

    def layers(self, placed: Sequence[Pixel], words: WordsBeside, *, lit: bool) -> tuple[Layer, ...]:
        """The cross, if lit, small ones where others were left, and the words."""
        left = tuple(placed)
        height = self.screen_px[1]
        cross = [self.at_px] if lit else []
        return (
            Layer(
                name="cross",
                key=(self.at_px, lit),
                draw=lambda: crosses_light(cross, ARM_SHARE * height, CROSS_LIGHT),
            ),
            Layer(
                name="placed",
                key=left,
                draw=lambda: crosses_light(left, PLACED_SHARE * height, GUIDE_LIGHT),
            ),
            Layer(name="words", key=words, draw=lambda: words.light),
        )

    def beside(self, wanted: Wanted, placed: Sequence[Pixel], ringed: Sequence[Pixel] = ()) -> WordsBeside:
        """The words where neither this cross is nor those placed; they stay while it is moved a little."""
        height = self.screen_px[1]
        step = STILL_SHARE * height
        x, y = (step * round(at / step) for at in self.at_px)
        others = [Obstacle(at_px=at, reach_px=PLACED_SHARE * height) for at in placed]
        others += [Obstacle(at_px=at, reach_px=RING_SHARE * height) for at in ringed]
        hand = Obstacle(at_px=(x, y), reach_px=ARM_SHARE * height + step / 2)
        return words_beside(wanted, hand, tuple(others))

    def help_layer(self, bindings: Sequence[Binding], *, upside_down: bool) -> Layer:
        """The keys."""
        rows = [(binding.shown, binding.says) for binding in bindings]
        lights = (STRIP_LIGHT, STRIP_ASIDE_LIGHT)
        return Layer(
            name="words",
            key=("help", upside_down),
            draw=lambda: columns_light(rows, self.screen_px, lights, upside_down=upside_down),
        )

    def _moved(self, right_px: float, down_px: float) -> "CrossInHand":
        width, height = self.screen_px
        x = min(max(self.at_px[0] + right_px, 0.0), width - 1.0)
        y = min(max(self.at_px[1] + down_px, 0.0), height - 1.0)
        return replace(self, at_px=(x, y))


def crosses_light(at_px: Sequence[Pixel], arm_px: float, brightness: float) -> Drawing:
    """Upright crosses; nothing where there are none."""
    if not at_px:
        return ()
    arms = arm_px * np.array([[-1.0, 0.0], [1.0, 0.0], [0.0, -1.0], [0.0, 1.0]])
    points = (np.array(at_px)[:, None] + arms).reshape(-1, 2)
    ends = np.arange(2, len(points) + 1, 2)
    return (Stroke(points=ScreenPixels(points), ends=ends, width_px=CROSS_PX, light=brightness),)
