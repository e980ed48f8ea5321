"""The cross of light that a person moves, and the words beside it; all in projector pixels."""

from collections.abc import Sequence
from dataclasses import dataclass, replace
from typing import Final

import numpy as np

from calibration.frames import ScreenPixels
from projector.actions import Action, ChangeSide, ChangeStep, Drag, Move
from projector.bindings import Binding
from projector.lighting.look import CROSS_LIGHT, GUIDE_LIGHT, STRIP_ASIDE_LIGHT, STRIP_LIGHT
from projector.lighting.strokes import Drawing, Stroke
from projector.scene import Layer
from projector.words.messages import LETTER_SHARE, SPACING, WIDEST, columns_light, message_light, wrapped
from projector.words.strip import StripWords

COARSE_PX: Final = 10.0
FINE_PX: Final = 0.5  # what a careful hand and eye can place
ARM_SHARE: Final = 1 / 16  # of the screen's height: longer than the printed cross it is laid on
PLACED_SHARE: Final = 1 / 90
CROSS_PX: Final = 1.3
WORDS_LOW: Final = 0.78  # how far down the screen the middle of the words is: the half where the cross is not
WORDS_HIGH: Final = 0.22
ROW_SHARE: Final = LETTER_SHARE * SPACING
PLAN_SHARE: Final = 1 / 7  # of the screen's height: a plan above the words
PLAN_GAP: Final = 1 / 40

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
        """The step in force and the other one, in words."""
        step, other = (FINE_PX, COARSE_PX) if self.fine else (COARSE_PX, FINE_PX)
        return f"arrows step {step:g} px, s: {other:g} px"

    @property
    def words_at(self) -> float:
        """How far down the screen words are clear of the cross."""
        return WORDS_HIGH if self.at_px[1] > self.screen_px[1] / 2 else WORDS_LOW

    def layers(
        self, placed: Sequence[Pixel], words: StripWords, *, lit: bool, plan_share: float = 0.0
    ) -> tuple[Layer, ...]:
        """The cross, if lit, small ones where others were left, and the words below room for a plan."""
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
            Layer(
                name="words",
                key=(words, self.words_at, self.upside_down, plan_share),
                draw=lambda: self._words(words, plan_share),
            ),
        )

    def plan_px(self, words: StripWords) -> Pixel:
        """Where the middle of a plan is that stands above the words, as the person reads them."""
        width, height = self.screen_px
        up = (len(self._rows(words)) * ROW_SHARE + PLAN_GAP) / 2
        return width / 2, height * (self.words_at + (up if self.upside_down else -up))

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

    def _rows(self, words: StripWords) -> list[tuple[str, float]]:
        """The words in rows that fit the screen, each with its light."""
        most = WIDEST * self.screen_px[0] / (self.screen_px[1] * LETTER_SHARE)
        lit = [(text, STRIP_LIGHT) for text in words.first] + [
            (text, STRIP_ASIDE_LIGHT) for text in words.aside
        ]
        return [(row, light) for text, light in lit for row in wrapped(text, most)]

    def _words(self, words: StripWords, plan_share: float) -> Drawing:
        rows = self._rows(words)
        room = plan_share + PLAN_GAP if plan_share else 0.0
        way = -1 if self.upside_down else 1
        first = room / 2 - (len(rows) - 1) / 2 * ROW_SHARE
        return tuple(
            part
            for number, (text, light) in enumerate(rows)
            for part in message_light(
                text,
                self.screen_px,
                light,
                middle=self.words_at + way * (first + number * ROW_SHARE),
                upside_down=self.upside_down,
            )
        )


def crosses_light(at_px: Sequence[Pixel], arm_px: float, brightness: float) -> Drawing:
    """Upright crosses; nothing where there are none."""
    if not at_px:
        return ()
    arms = arm_px * np.array([[-1.0, 0.0], [1.0, 0.0], [0.0, -1.0], [0.0, 1.0]])
    points = (np.array(at_px)[:, None] + arms).reshape(-1, 2)
    ends = np.arange(2, len(points) + 1, 2)
    return (Stroke(points=ScreenPixels(points), ends=ends, width_px=CROSS_PX, light=brightness),)
