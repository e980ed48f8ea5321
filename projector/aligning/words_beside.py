"""Words for aligning, with a plan above them, where no cross of light is; all in projector pixels."""

from collections.abc import Sequence
from dataclasses import dataclass, replace
from functools import lru_cache
from itertools import product
from typing import Final

import numpy as np
import numpy.typing as npt

from calibration.frames import Array
from projector.lighting.letters import words_width
from projector.lighting.look import STRIP_ASIDE_LIGHT, STRIP_LIGHT
from projector.lighting.strokes import Drawing
from projector.words.messages import LETTER_SHARE, SPACING, WIDEST, line_light, side_by_side
from projector.words.strip_rows import BETWEEN, StripWords

LOW: Final = (
    0.78  # how far down the screen the middle of the words is: the half where the cross in hand is not
)
HIGH: Final = 0.22
PLAN_GAP: Final = 1 / 40  # of the screen's height, between the plan and the words
CLEAR: Final = 1 / 60  # of the screen's height, from a cross to words and plan
EDGE: Final = 1 / 60  # and from the screen's edge
WIDTHS: Final = (WIDEST, 0.7, 0.5, 0.36, 0.26)  # of the screen's width, that the words may take
SCALES: Final = (1.0, 0.85, 0.7, 0.6)  # of the letters
PLACES: Final = 36  # tried from the top of the screen to its bottom, and as close beside one another

Pixel = tuple[float, float]
NO_PLAN: Final[Pixel] = (0.0, 0.0)


@dataclass(frozen=True, slots=True, kw_only=True)
class Obstacle:
    """Light that words keep off: a square of `reach_px` each way about its middle."""

    at_px: Pixel
    reach_px: float


@dataclass(frozen=True, slots=True, kw_only=True)
class Wanted:
    """`words` on a screen, with room above them for a plan of that width and height, if there is one."""

    words: StripWords
    screen_px: tuple[int, int]
    plan_px: Pixel = NO_PLAN
    upside_down: bool = False


@dataclass(frozen=True, slots=True, kw_only=True)
class WordsBeside:
    """Where words and plan lie as the person reads them; turned about the screen's middle for one at the far side."""

    rows: tuple[tuple[str, float], ...]
    letter_px: float
    middle_px: Pixel
    wanted: Wanted

    @property
    def size_px(self) -> Pixel:
        """Width and height of words and plan together."""
        width = self.wanted.plan_px[0]
        widest = max(words_width(text) for text, _ in self.rows)
        return max(widest * self.letter_px, width), self._words_px + self._plan_room_px

    @property
    def has_plan(self) -> bool:
        """Whether there is room for the plan too."""
        return self.wanted.plan_px != NO_PLAN

    @property
    def plan_middle_px(self) -> Pixel:
        """The middle of the plan on the screen."""
        x, y = self.middle_px
        return self._on_screen((x, y - self.size_px[1] / 2 + self.wanted.plan_px[1] / 2))

    @property
    def light(self) -> Drawing:
        """The words."""
        x, y = self.middle_px
        first = y + (self._plan_room_px - (len(self.rows) - 1) * SPACING * self.letter_px) / 2
        drawn = (
            line_light(
                text,
                self._on_screen((x, first + number * SPACING * self.letter_px)),
                self.letter_px,
                light,
                self.wanted.upside_down,
            )
            for number, (text, light) in enumerate(self.rows)
        )
        return tuple(part for part in drawn if len(part.points))

    @property
    def _words_px(self) -> float:
        return len(self.rows) * SPACING * self.letter_px

    @property
    def _plan_room_px(self) -> float:
        tall = self.wanted.plan_px[1]
        return tall + PLAN_GAP * self.wanted.screen_px[1] if tall else 0.0

    def _on_screen(self, at: Pixel) -> Pixel:
        return _turned(at, self.wanted.screen_px) if self.wanted.upside_down else at


@lru_cache(maxsize=16)
def words_beside(wanted: Wanted, hand: Obstacle, others: tuple[Obstacle, ...]) -> WordsBeside:
    """The words across the half that the cross in hand is not in; where other crosses are in their way, moved from
    there as little as may be, in narrower rows, then in smaller letters, then without the plan. Where there is no room
    at all they stay.
    """
    width, height = wanted.screen_px
    obstacles = (hand, *others)
    if wanted.upside_down:
        turned = [_turned(each.at_px, wanted.screen_px) for each in obstacles]
    else:
        turned = [each.at_px for each in obstacles]
    at = np.array(turned)
    reach = np.array([each.reach_px for each in obstacles]) + CLEAR * height
    usual = np.array((width / 2, height * (HIGH if at[0, 1] > height / 2 else LOW)))
    first = _laid(wanted, WIDEST, 1.0, usual)
    if _free(first.size_px, usual[:1], usual[1:], at, reach).all():
        return first
    for less, scale in product((wanted, replace(wanted, plan_px=NO_PLAN)), SCALES):
        laid = (_laid(less, share, scale, usual) for share in WIDTHS)
        moved = [one for each in laid for one in _moved(each, at, reach)]
        if moved:
            return min(moved, key=lambda one: float(np.hypot(*(usual - one.middle_px))))
    return first


def _laid(wanted: Wanted, share: float, scale: float, middle: Array) -> WordsBeside:
    """The words in rows of that share of the screen's width, about a place (2,)."""
    width, height = wanted.screen_px
    letter = LETTER_SHARE * height * scale
    lit = [(text, STRIP_LIGHT) for text in wanted.words.first]
    lit += [(text, STRIP_ASIDE_LIGHT) for text in wanted.words.aside]
    most = share * width / letter
    rows = tuple((row, light) for text, light in lit for row in side_by_side(text.split(BETWEEN), most))
    x, y = middle.tolist()
    return WordsBeside(rows=rows, letter_px=letter, middle_px=(x, y), wanted=wanted)


def _moved(laid: WordsBeside, at: Array, reach: Array) -> tuple[WordsBeside, ...]:
    """The words at the nearest free place; none where there is no such place."""
    screen = laid.wanted.screen_px
    edge, step = EDGE * screen[1], screen[1] / PLACES
    across, down = (
        np.arange(edge + size / 2, whole - edge - size / 2, step)
        for size, whole in zip(laid.size_px, screen, strict=True)
    )
    free = np.argwhere(_free(laid.size_px, across, down, at, reach))
    if not len(free):
        return ()
    places = np.column_stack([across[free[:, 0]], down[free[:, 1]]])
    x, y = places[np.hypot(*(places - laid.middle_px).T).argmin()].tolist()
    return (replace(laid, middle_px=(x, y)),)


def _free(size_px: Pixel, across: Array, down: Array, at: Array, reach: Array) -> npt.NDArray[np.bool_]:
    """(n, m) whether a box about each of (n,) places across and (m,) down keeps off squares about middles (k, 2)."""
    beside, above = (
        np.abs(places[:, None] - middles) < size / 2 + reach
        for places, middles, size in zip((across, down), at.T, size_px, strict=True)
    )
    in_the_way = beside.astype(float) @ above.T.astype(float)
    return np.asarray(in_the_way == 0)


def _turned(at: Pixel, screen_px: Sequence[int]) -> Pixel:
    return screen_px[0] - at[0], screen_px[1] - at[1]
