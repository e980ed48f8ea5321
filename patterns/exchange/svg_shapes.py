"""The shapes of SVG as lines in inches: path data, basic shapes, transforms.

SVG 2: chapters 8 (transforms), 9 (paths), 10 (basic shapes); appendix B.2 for the arcs.
"""

import math
import re
from collections.abc import Mapping
from typing import Final

import numpy as np
from fontTools.svgLib.path import parse_path  # type: ignore[import-untyped]

from patterns.curves import Array, Curve
from patterns.exchange.drawn import FLAT_IN

Matrix = Array  # (2, 3): what x, y and 1 are multiplied by
STILL: Final[Matrix] = np.array([[1.0, 0.0, 0.0], [0.0, 1.0, 0.0]])
UNITS_IN: Final[Mapping[str, float]] = {
    "in": 1.0,
    "cm": 1 / 2.54,
    "mm": 1 / 25.4,
    "q": 1 / 101.6,
    "pt": 1 / 72,
    "pc": 1 / 6,
}  # CSS Values and Units, level 3, section 5.2
PIXEL_IN: Final = 1 / 96  # of the same section: what a user unit of a drawing without units would be
NUMBER: Final = r"[-+]?(?:\d+\.?\d*|\.\d+)(?:[eE][-+]?\d+)?"
_LENGTH: Final = re.compile(rf"\s*({NUMBER})\s*([a-zA-Z%]*)\s*")
_TRANSFORM: Final = re.compile(r"(\w+)\s*\(([^()]*)\)")
FARTHEST: Final = 1e9  # units, of anything that is drawn
_FEWEST: Final = 8  # chords of a whole ellipse


class ShapeError(Exception):
    """A shape or transform that makes no sense, in words."""


def numbers(text: str) -> list[float]:
    """All numbers in a text; ShapeError where one is beyond any drawing."""
    found = [float(number) for number in re.findall(NUMBER, text)]
    if any(abs(number) > FARTHEST for number in found):
        raise ShapeError(f'a number in "{text[:40]}" that is beyond any drawing')
    return found


def length(text: str | None, usual: float = 0.0) -> float:
    """User units of a length; ShapeError where it is a share of something, or nonsense."""
    if text is None:
        return usual
    match = _LENGTH.fullmatch(text)
    unit = match[2].lower() if match else "?"
    if match is None or unit not in ("", "px", *UNITS_IN):
        raise ShapeError(f'a length of "{text[:40]}"')
    return numbers(match[1])[0] * (UNITS_IN[unit] / PIXEL_IN if unit in UNITS_IN else 1.0)


def times(outer: Matrix, inner: Matrix) -> Matrix:
    """The transform that is `inner` and then `outer`."""
    product: Array = outer[:, :2] @ inner
    product[:, 2] += outer[:, 2]
    return product


def placed(points: Array, matrix: Matrix) -> Array:
    """(n, 2) points transformed."""
    moved: Array = points @ matrix[:, :2].T + matrix[:, 2]
    return moved


def transform(text: str) -> Matrix:
    """All transforms of a list, the last first; ShapeError where one is not known.

    >>> placed(np.array([[1.0, 0.0]]), transform("translate(10, 5) rotate(90) scale(2)")).round(9)
    array([[10.,  7.]])
    """
    whole = STILL
    rest = _TRANSFORM.sub("", text).replace(",", " ").strip()
    if rest and rest != "none":
        raise ShapeError(f'a transform of "{text[:40]}"')
    for name, values in _TRANSFORM.findall(text):
        whole = times(whole, _one(name, numbers(values), text))
    return whole


def _one(name: str, values: list[float], text: str) -> Matrix:
    match name, values:
        case "matrix", [a, b, c, d, e, f]:
            return np.array([[a, c, e], [b, d, f]])
        case "translate", [x, *rest] if len(rest) < 2:
            return _shift(x, *rest)
        case "scale", [x, *rest] if len(rest) < 2:
            return np.array([[x, 0.0, 0.0], [0.0, rest[0] if rest else x, 0.0]])
        case "rotate", [turn]:
            return _turn(turn)
        case "rotate", [turn, x, y]:
            return times(times(_shift(x, y), _turn(turn)), _shift(-x, -y))
        case "skewX", [turn]:
            return np.array([[1.0, math.tan(math.radians(turn)), 0.0], [0.0, 1.0, 0.0]])
        case "skewY", [turn]:
            return np.array([[1.0, 0.0, 0.0], [math.tan(math.radians(turn)), 1.0, 0.0]])
    raise ShapeError(f'a transform of "{text[:40]}"')


def _shift(x: float, y: float = 0.0) -> Matrix:
    return np.array([[1.0, 0.0, x], [0.0, 1.0, y]])


def _turn(degrees: float) -> Matrix:
    cos, sin = math.cos(math.radians(degrees)), math.sin(math.radians(degrees))
    return np.array([[cos, -sin, 0.0], [sin, cos, 0.0]])


def path_data(tag: str, attributes: Mapping[str, str]) -> str:
    """The path data of a shape, empty for what is none; ShapeError as `length`."""

    def of(*names: str) -> list[float]:
        return [length(attributes.get(name)) for name in names]

    match tag:
        case "path":
            return attributes.get("d", "")
        case "line":
            return "M {} {} L {} {}".format(*of("x1", "y1", "x2", "y2"))
        case "polyline" | "polygon":
            points = " ".join(map(repr, numbers(attributes.get("points", ""))))
            return f"M {points}{' Z' if tag == 'polygon' else ''}" if points else ""
        case "circle" | "ellipse":
            x, y = of("cx", "cy")
            wide, high = of("r", "r") if tag == "circle" else of("rx", "ry")
            half = f"A {wide} {high} 0 0 1"
            return f"M {x - wide} {y} {half} {x + wide} {y} {half} {x - wide} {y} Z" if wide and high else ""
        case "rect":
            x, y, wide, high = of("x", "y", "width", "height")
            return _rounded(x, y, wide, high, attributes)
    return ""


def _rounded(x: float, y: float, wide: float, high: float, attributes: Mapping[str, str]) -> str:
    if not wide or not high:
        return ""
    across, down = (attributes.get(name) for name in ("rx", "ry"))
    rx = min(length(across if across is not None else down), wide / 2)
    ry = min(length(down if down is not None else across), high / 2)
    if not rx or not ry:
        return f"M {x} {y} h {wide} v {high} h {-wide} Z"
    turn = f"a {rx} {ry} 0 0 1"
    return (
        f"M {x + rx} {y} h {wide - 2 * rx} {turn} {rx} {ry} v {high - 2 * ry} {turn} {-rx} {ry} "
        f"h {2 * rx - wide} {turn} {-rx} {-ry} v {2 * ry - high} {turn} {rx} {-ry} Z"
    )


def flattened(data: str, matrix: Matrix) -> list[tuple[Array, bool]]:
    """Each part of path data as (n, 2) inches, and whether it is closed; `matrix` makes user units inches.

    Raises ShapeError where the data cannot be read.
    """
    pen = _Pen(matrix)
    try:
        parse_path(data, pen)
    except (ValueError, OverflowError, ZeroDivisionError, IndexError) as wrong:
        raise ShapeError(f'path data of "{data[:40]}"') from wrong
    parts = [(np.array(points), closed) for points, closed in pen.parts]
    if any(not (np.abs(points) <= FARTHEST).all() for points, _ in parts):
        raise ShapeError(f'path data of "{data[:40]}"')
    return parts


class _Pen:
    """Takes the commands of path data, in user units, and keeps chords in inches."""

    def __init__(self, matrix: Matrix) -> None:
        self.matrix = matrix
        self.parts: list[tuple[list[Array], bool]] = []
        self.at = (0.0, 0.0)

    def moveTo(self, place: tuple[float, float]) -> None:  # noqa: N802  the names are the parser's
        """Begin a part."""
        self.parts.append(([self._inches(place)[0]], False))
        self.at = place

    def lineTo(self, place: tuple[float, float]) -> None:  # noqa: N802
        """A straight line."""
        self._go(self._inches(place), place)

    def curveTo(self, *places: tuple[float, float]) -> None:  # noqa: N802
        """A cubic."""
        self._go(chords(self._inches(self.at, *places)), places[-1])

    def qCurveTo(self, *places: tuple[float, float]) -> None:  # noqa: N802
        """A quadratic, as the cubic that it is."""
        start, middle, end = self._inches(self.at, *places)
        cubic = np.stack([start, start + (middle - start) * 2 / 3, end + (middle - end) * 2 / 3, end])
        self._go(chords(cubic), places[-1])

    def arcTo(  # noqa: N802
        self, rx: float, ry: float, turn: float, large: bool, sweep: bool, place: tuple[float, float]
    ) -> None:
        """An arc of an ellipse."""
        self._go(self._arc(abs(rx), abs(ry), math.radians(turn), bool(large), bool(sweep), place), place)

    def closePath(self) -> None:  # noqa: N802
        """Back to where the part began."""
        points, _ = self.parts[-1]
        self.parts[-1] = (points, True)

    def endPath(self) -> None:  # noqa: N802
        """The end of an open part."""

    def _go(self, points: Array, place: tuple[float, float]) -> None:
        self.parts[-1][0].extend(points)
        self.at = place

    def _inches(self, *places: tuple[float, float]) -> Array:
        return placed(np.array(places, dtype=np.float64), self.matrix)

    def _arc(
        self, rx: float, ry: float, turn: float, large: bool, sweep: bool, place: tuple[float, float]
    ) -> Array:
        """(n, 2) inches after the start, by the conversion to a centre (appendix B.2.4)."""
        axes = np.array([[math.cos(turn), -math.sin(turn)], [math.sin(turn), math.cos(turn)]])
        start, end = np.array(self.at), np.array(place)
        half = axes.T @ (start - end) / 2
        if rx == 0 or ry == 0 or not half.any():
            return self._inches(place)
        radii = np.array([rx, ry])
        radii = radii * max(1.0, float(np.hypot(*(half / radii))))
        unit = half / radii
        rise = math.sqrt(max(0.0, 1 / float(unit @ unit) - 1)) * (-1.0 if large == sweep else 1.0)
        centre = rise * np.array([unit[1], -unit[0]])
        first, last = (math.atan2(v[1], v[0]) for v in (unit - centre, -unit - centre))
        angle = last - first
        if sweep and angle < 0:
            angle += 2 * math.pi
        elif not sweep and angle > 0:
            angle -= 2 * math.pi
        reach_in = float(radii.max()) * float(np.linalg.norm(self.matrix[:, :2], 2))
        step = math.acos(max(-1.0, 1 - FLAT_IN / reach_in)) * 2 if reach_in > FLAT_IN else math.pi
        count = max(math.ceil(abs(angle) / min(step, 2 * math.pi / _FEWEST)), 1)
        angles = first + angle * np.arange(1, count + 1) / count
        circle = np.stack([np.cos(angles), np.sin(angles)], axis=1) + centre
        points = circle * radii @ axes.T + (start + end) / 2
        points[-1] = end
        return placed(points, self.matrix)


def chords(cubic_in: Array) -> Array:
    """(n, 2) inches along a cubic (4, 2), its start left out."""
    return Curve(cubic_in[None]).points[1:]
