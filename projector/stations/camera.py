"""Aligning by camera: the squares of light to be seen, and in a dark band at their edge what is seen of them.

Measured in projector pixels, since nothing is known of inches yet.
"""

import re
from dataclasses import dataclass, replace
from enum import Enum, auto
from typing import Final

import cv2
import numpy as np

from calibration.cameras.watch import FRAMES, NOTHING_YET, Look
from calibration.frames import Array, Gray, ScreenPixels
from calibration.photos.photo_faults import sheets_are
from calibration.sheets.targets import Targets
from projector.actions import Accept, Action, ChangeSide
from projector.bindings import BLANK, QUIT, SIDE, Binding
from projector.lighting.look import CROSS_LIGHT, GUIDE_LIGHT, STRIP_LIGHT
from projector.lighting.strokes import Drawing, Patch, Picture, Stroke
from projector.person import FAR, across
from projector.scene import Controls, Layer, Scene
from projector.words.messages import LETTER_SHARE, line_light, wrapped

USE_IT: Final = Binding(
    shown="enter", says="use what is seen", keys=("return", "enter", "page down"), actions=(Accept(),)
)
BINDINGS: Final = (USE_IT, SIDE, BLANK, replace(QUIT, says="leave; nothing is kept"))
KEYS: Final = "enter: use what is seen  ·  t: turn the words  ·  space: light off, on  ·  q: leave"
ROW_SHARE: Final = 1.6  # letter heights from row to row
TAIL_SHARE: Final = 0.3  # of a letter's height, by which a "p" reaches below the line
SCALES: Final = (1.0, 0.85, 0.7, 0.6, 0.5)  # of the letters, until the words fit
ROOM_SHARE: Final = 0.8  # of the screen's width, for words; the plan is to the left of them
PLAN_SHARE: Final = 0.84  # of the band's height
MARGIN_SHARE: Final = 0.02  # of the screen's width, beside the plan and beside the words
TICK: Final = np.array([(-0.5, 0.0), (-0.1, 0.4), (0.55, -0.5)])  # of half a page's shorter side
PLAN_LINE_PX: Final = 1.6
NUMBER_SHARE: Final = 0.55
LIVE: Final = (
    (re.compile(r"show the frame of --targets, "), ""),  # it is being shown
    (re.compile(r",? and retake( it| the photo)?\b"), ""),
    (re.compile(r"\bretake (it|the photo)\b"), "look again"),
    (re.compile(r" for the photo\b"), ""),
    (re.compile(r"\bphoto"), "picture"),
)


class Stage(Enum):
    """How far the work is."""

    WATCHING = auto()
    WORKING = auto()
    DONE = auto()
    FAILED = auto()


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class CameraStation:
    """`picture` (h, w) is lit to the share `light`; `said` is what the person must be told now.

    `hurried`: the person asks to use what is seen. `closed`: the light is out, and all is told.
    """

    targets: Targets
    picture: Gray
    look: Look = NOTHING_YET
    light: float = 0.0
    stage: Stage = Stage.WATCHING
    said: str = ""
    hurried: bool = False
    side: int = 0
    closed: bool = False

    @classmethod
    def begun(cls, targets: Targets) -> "CameraStation":
        """Dark yet; `targets` must leave a row dark for the words."""
        return cls(targets=targets, picture=targets.frame())

    @property
    def bindings(self) -> tuple[Binding, ...]:
        """The keys that have a meaning here."""
        return BINDINGS

    @property
    def upside_down(self) -> bool:
        """Whether the words are turned to the far side."""
        return self.side == FAR

    @property
    def finished(self) -> bool:
        """Whether there is something to save, and it was told."""
        return self.closed

    @property
    def over(self) -> bool:
        """Whether the camera has done what it can."""
        return self.stage in (Stage.DONE, Stage.FAILED)

    def after(self, action: Action) -> "CameraStation":
        """The station after the action."""
        match action:
            case Accept() if self.stage is Stage.WATCHING:
                return replace(self, hurried=True)
            case ChangeSide():
                return replace(self, side=across(self.side))
            case _:
                return self

    def lit(self, light: float) -> "CameraStation":
        """With this share of full light; itself where that is no change."""
        return self if light == self.light else replace(self, light=light)

    def saw(self, look: Look) -> "CameraStation":
        """What the camera sees now."""
        return replace(self, look=look, said="")

    def heard(self) -> "CameraStation":
        """The hurry is passed on."""
        return replace(self, hurried=False)

    def working(self) -> "CameraStation":
        """Enough is seen."""
        return replace(self, stage=Stage.WORKING, said="all taken; working it out")

    def refused(self, reason: str) -> "CameraStation":
        """What was seen does not do; on with watching."""
        return replace(self, stage=Stage.WATCHING, said=live(reason))

    def done(self, verdict: str) -> "CameraStation":
        """There is a result."""
        return replace(self, stage=Stage.DONE, said=verdict)

    def failed(self, reason: str) -> "CameraStation":
        """Nothing more is to be had from the camera."""
        return replace(self, stage=Stage.FAILED, said=reason)

    def told(self) -> "CameraStation":
        """The result has been on the table long enough to be read."""
        return replace(self, closed=True)

    def scene(self, controls: Controls) -> Scene:
        """The squares, and in the band below them a plan of the sheets and the words."""
        lines = self.lines(controls)
        seen = self.look.sheets
        return (
            Layer(name="squares", key=self.light, draw=self._squares),
            Layer(name="plan", key=(seen, self.upside_down), draw=self._plan),
            Layer(name="words", key=(lines, self.upside_down), draw=lambda: self._words(lines)),
        )

    def lines(self, controls: Controls) -> tuple[str, str]:
        """What is seen and to be done; the keys."""
        preview = "preview, not true to size  ·  " if controls.preview else ""
        match self.stage:
            case Stage.WATCHING:
                return (self.said or self._seen(), preview + KEYS)
            case Stage.FAILED:
                return (self.said, "q: leave")
            case _:
                return (self.said, preview.removesuffix("  ·  "))

    def _seen(self) -> str:
        look, wanted = self.look, range(1, self.targets.sheets + 1)
        missing = [number for number in wanted if number not in look.sheets]
        if look is NOTHING_YET:
            return "lay each sheet in its white window, and keep hands and heads out of the light"
        if look.trouble:
            return look.trouble
        seen = f"{_sheets(look.sheets)} seen" if look.sheets and missing else "all sheets seen"
        if look.frames:
            return f"{seen}; hold still: frame {look.frames} of {FRAMES}"
        if missing:
            return f"{seen}; {_sheets(missing)} missing" if look.sheets else f"{_sheets(missing)} missing"
        return "all sheets seen, the squares of light not: dim the room, get all the light into view"

    def _squares(self) -> Drawing:
        return (
            Picture(pixels=np.asarray(cv2.convertScaleAbs(self.picture, alpha=self.light), dtype=np.uint8)),
        )

    def _words(self, lines: tuple[str, str]) -> Drawing:
        width, height = self.targets.screen_px
        top = self.targets.dark_from_px
        rows, letter = _fitted(lines, ROOM_SHARE * width, height - top, LETTER_SHARE * height)
        first = (top + height - TAIL_SHARE * letter) / 2 - (len(rows) - 1) / 2 * ROW_SHARE * letter
        middle = width * (1 - MARGIN_SHARE - ROOM_SHARE / 2)
        drawn = []
        for number, (text, light) in enumerate(rows):
            at = self._turned(np.array([(middle, first + number * ROW_SHARE * letter)]))[0]
            drawn.append(line_light(text, (at[0], at[1]), letter, light, self.upside_down))
        return tuple(part for part in drawn if len(part.points))

    def _plan(self) -> Drawing:
        """Each sheet where it belongs: ticked if seen, with its number if not."""
        width, height = self.targets.screen_px
        band = height - self.targets.dark_from_px
        scale = PLAN_SHARE * band / height
        corner = np.array([MARGIN_SHARE * width, height - band * (1 + PLAN_SHARE) / 2])
        screen = np.array([(0, 0), (width, 0), (width, height), (0, height)])
        drawn: list[Stroke | Patch] = [self._path(_closed(screen) * scale + corner, GUIDE_LIGHT)]
        for number, window in enumerate(self.targets.windows, start=1):
            page = window * scale + corner
            seen = number in self.look.sheets
            drawn.append(self._path(_closed(page), STRIP_LIGHT if seen else CROSS_LIGHT))
            middle = page.mean(axis=0)
            half = float(np.linalg.norm(page[1] - page[0])) / 2
            if seen:
                drawn.append(self._path(middle + TICK * half, CROSS_LIGHT))
            else:
                at = self._turned(middle[None])[0]
                letter = 2 * NUMBER_SHARE * half
                drawn.append(line_light(str(number), (at[0], at[1]), letter, CROSS_LIGHT, self.upside_down))
        return tuple(drawn)

    def _path(self, points: Array, light: float) -> Stroke:
        turned = ScreenPixels(self._turned(points))
        return Stroke(points=turned, ends=np.array([len(points)]), width_px=PLAN_LINE_PX, light=light)

    def _turned(self, points: Array) -> Array:
        """The points as they lie in the band for the person: turned about its middle, if they stand opposite."""
        width, height = self.targets.screen_px
        middle = np.array([width - 1, self.targets.dark_from_px + height - 1])
        return middle - points if self.upside_down else points


def live(sentence: str) -> str:
    """What is said of a photo, as it is said of a camera that goes on looking: nothing has to be taken again.

    >>> live("the photo is too dark: it reaches 30 of 255; expose it longer and retake it")
    'the picture is too dark: it reaches 30 of 255; expose it longer'
    >>> live("not in the photo: retake it with every sheet in sight")
    'not in the picture: look again with every sheet in sight'
    """
    for pattern, words in LIVE:
        sentence = pattern.sub(words, sentence)
    return sentence


def _sheets(numbers: "list[int] | tuple[int, ...]") -> str:
    """The sheets by name, such as "sheets 2 and 3"."""
    return sheets_are(numbers).removesuffix(" is").removesuffix(" are")


def _closed(corners: Array) -> Array:
    return np.concatenate([corners, corners[:1]])


def _fitted(
    lines: tuple[str, str], width_px: float, height_px: float, letter_px: float
) -> tuple[list[tuple[str, float]], float]:
    """Rows with their light, and the largest of our letters in which they fit; the smallest where none does."""
    for scale in SCALES:
        letter = scale * letter_px
        rows = [
            (row, light)
            for line, light in zip(lines, (CROSS_LIGHT, STRIP_LIGHT), strict=True)
            for row in wrapped(line, width_px / letter)
            if row
        ]
        if (len(rows) * ROW_SHARE + TAIL_SHARE) * letter <= height_px:
            break
    return rows, letter
