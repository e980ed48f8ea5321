"""Letters as outlines, so that words are mapped on to the table like every other line."""

import importlib.util
from collections.abc import Sequence
from dataclasses import dataclass
from functools import cache, lru_cache
from itertools import accumulate
from pathlib import Path
from typing import Any

import numpy as np
from fontTools.pens.basePen import BasePen  # type: ignore[import-untyped]
from fontTools.ttLib import TTFont  # type: ignore[import-untyped]

from calibration.frames import Array
from projector.lighting.strokes import Ends, Plane, in_plane, in_rows, joined
from projector.words.running import DIGIT
from projector.words.unbroken import HELD

CAPITAL = "H"  # its height is the height of the letters
CURVE_STEPS = 5  # a quarter of a hand-high "o" strays under 0.01 in
STEM = np.array([-0.5j, 0.5j])
OVERHANG = 0.5  # beyond its advance no letter reaches further
LINE_SPACING = 1.7  # baseline to baseline, in letter heights
AS_WIDE_AS = {HELD: " ", DIGIT: "0"}  # signs that the font lacks, which only hold a place


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Glyph:
    """Closed contours and advance width in letter heights; x to the right, y up from the baseline.

    `ends` are the indices past each contour's last of the points.
    """

    points: Plane
    ends: tuple[int, ...]
    advance: float

    @classmethod
    def of(cls, contours: Sequence[Array], advance: float) -> "Glyph":
        """Of contours (n, 2)."""
        points, ends = joined(contours)
        return cls(points=in_plane(points), ends=tuple(ends.tolist()), advance=advance)


class _Outliner(BasePen):  # type: ignore[misc]
    """Flattens a glyph's curves as fontTools walks them."""

    def __init__(self, glyphs: Any) -> None:
        super().__init__(glyphs)
        self.contours: list[list[tuple[float, float]]] = []

    def _moveTo(self, pt: tuple[float, float]) -> None:  # noqa: N802
        self.contours.append([pt])

    def _lineTo(self, pt: tuple[float, float]) -> None:  # noqa: N802
        self.contours[-1].append(pt)

    def _curveToOne(  # noqa: N802
        self, pt1: tuple[float, float], pt2: tuple[float, float], pt3: tuple[float, float]
    ) -> None:
        t = np.linspace(0, 1, CURVE_STEPS + 1)[1:, None]
        start, first, second, end = (np.array(p) for p in (self.contours[-1][-1], pt1, pt2, pt3))
        bent = (1 - t) ** 3 * start + 3 * t * (1 - t) ** 2 * first + 3 * t**2 * (1 - t) * second + t**3 * end
        self.contours[-1].extend((float(x), float(y)) for x, y in bent)


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class _Font:
    font: TTFont
    names: dict[int, str]
    unit: float


@cache
def _font() -> _Font:
    # The bundled font of the window library, read as a file: writing a frame needs no window library.
    package = importlib.util.find_spec("pygame")
    if package is None or not package.submodule_search_locations:
        raise ModuleNotFoundError("pygame is not installed: its font draws the words on the table")
    font = TTFont(Path(package.submodule_search_locations[0]) / "freesansbold.ttf", lazy=True)
    names: dict[int, str] = font.getBestCmap()
    capital = font["glyf"][names[ord(CAPITAL)]]
    return _Font(font=font, names=names, unit=float(capital.yMax))


@cache
def glyph(character: str) -> Glyph:
    """The outline of one character; a hollow box where the font has none, so that nothing vanishes."""
    font = _font()
    name = font.names.get(ord(AS_WIDE_AS.get(character, character)))
    if name is None:
        return _box()
    glyphs = font.font.getGlyphSet()
    pen = _Outliner(glyphs)
    glyphs[name].draw(pen)
    contours = [np.array(contour, dtype=np.float64) / font.unit for contour in pen.contours]
    return Glyph.of(contours, float(glyphs[name].width) / font.unit)


def _box() -> Glyph:
    outer = np.array([[0.1, 0.0], [0.8, 0.0], [0.8, 1.0], [0.1, 1.0]])
    inner = np.array([[0.2, 0.1], [0.2, 0.9], [0.7, 0.9], [0.7, 0.1]])
    return Glyph.of([outer, inner], 0.9)


@lru_cache(maxsize=1024)
def words_width(text: str) -> float:
    """Width of a line of words, in letter heights."""
    return sum(glyph(character).advance for character in text)


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Outline:
    """A line of words: contour points in letter heights, the index past each's last, and its letter.

    `stem` are the foot and head of a letter in the middle, `box` four corners round any words of this width, with room
    for accents and tails; `plane` has contours, stem and box one after another.
    """

    plane: Plane
    ends: Ends
    letters: Ends

    @property
    def points(self) -> Array:
        """(n, 2) of the contours."""
        return in_rows(self.plane[:-6])


@lru_cache(maxsize=256)
def words_outline(text: str) -> Outline:
    """Contours of the words, the line centred on the origin."""
    shapes = [glyph(character) for character in text]
    begins = accumulate((shape.advance for shape in shapes), initial=-words_width(text) / 2)
    contours, ends, letters, count = list[Plane](), list[int](), list[int](), 0
    for number, (shape, begin) in enumerate(zip(shapes, begins, strict=False)):
        contours.append(shape.points + (begin - 0.5j))
        ends += [count + end for end in shape.ends]
        letters += [number] * len(shape.ends)
        count += len(shape.points)
    half = words_width(text) / 2 + OVERHANG
    box = np.array([-half - 1j, half - 1j, half + 1j, -half + 1j])
    return Outline(
        plane=np.concatenate([*contours, STEM, box]),
        ends=np.array(ends, np.intp),
        letters=np.array(letters, np.intp),
    )
