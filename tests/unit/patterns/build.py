"""Small pieces for tests, in bare inches unless said otherwise."""

from collections.abc import Sequence
from itertools import pairwise
from pathlib import Path

import numpy as np
import pytest

from patterns.curves import Array, Curve
from patterns.errors import PatternError
from patterns.files.reader import read_pattern
from patterns.measures import Length, Unit
from patterns.parts import Corner, CutCount, Kind, Point
from patterns.pattern import Pattern
from patterns.shape import Shape, ShapeEdge

LEANING_NECK = Curve.bezier(
    np.array([[0.0, 2.25], [2.2, 2.25], [3.65, 1.25], [3.5, 0.0]])
)  # over its shoulder
JUMPING_NECK = Curve.bezier(  # smooth, though its bend is another on either side of where its pieces meet
    np.array([[0.0, 6.0], [1.0, 6.0], [2.0, 5.5], [2.5, 4.5], [3.0, 3.5], [3.2, 1.0], [3.5, 0.0]])
)
HALF_TOP = """\
pattern: Prompt corner
allowance: {seam: 1/2 in, hem: 1/2 in}
pieces:
  front:
    cut: 1 on fold
    edges:
      - {name: neck, kind: seam, path: [[0, 4], [2, 4], [3.5, 2.4], [3.5, 0]], curve: bezier}
      - {name: shoulder, kind: seam, path: [[3.5, 0], [9, 2]]}
      - {name: side, kind: seam, path: [[9, 2], [10, 24]]}
      - {name: hem, kind: hem, path: [[10, 24], [0, 24]]}
      - {name: centre front, kind: fold, path: [[0, 24], [0, 4]]}
"""


def points_of(pairs: Sequence[Sequence[float]], unit: Unit = Unit.IN) -> tuple[Point, ...]:
    """Authored points of bare numbers."""
    return tuple(
        Point(x=Length(spelling=f"{x:g}", unit=unit), y=Length(spelling=f"{y:g}", unit=unit))
        for x, y in pairs
    )


def edge(
    name: str,
    path: Sequence[Sequence[float]] | Array | Curve,
    *widths: float,
    kind: Kind = Kind.SEAM,
    corner: Corner | None = None,
) -> ShapeEdge:
    """An edge of straight lines or of the curve, with its allowance's parts in inches."""
    curve = path if isinstance(path, Curve) else Curve.straight(np.array(path, dtype=np.float64))
    return ShapeEdge(name=name, kind=kind, curve=curve, allowance_in=widths or (0.0,), corner=corner)


def shape(*edges: ShapeEdge, name: str = "flag") -> Shape:
    """A loop of edges; on the fold where one of them is a fold."""
    on_fold = any(one.kind is Kind.FOLD for one in edges)
    return Shape(name=name, cut=CutCount(on_fold=on_fold), edges=tuple(edges))


def ring_of(corners: Sequence[Sequence[float]], *widths: float) -> Shape:
    """A polygon with one edge a side, its allowances taken in turn."""
    closed = [*corners, corners[0]]
    sides = pairwise(closed)
    return shape(*(edge(f"e{i}", side, widths[i % len(widths)]) for i, side in enumerate(sides)))


def arc(centre: Sequence[float], radius: float, start_deg: float, end_deg: float, pieces: int = 8) -> Curve:
    """A circular arc, its angles from x towards y, off the true circle by less than a millionth of it."""
    angles = np.radians(np.linspace(start_deg, end_deg, pieces + 1))
    out = np.stack([np.cos(angles), np.sin(angles)], axis=1)
    along = np.stack([-np.sin(angles), np.cos(angles)], axis=1)
    step = angles[1] - angles[0]
    slopes = along * radius * 4 * np.tan(step / 4) / step
    return Curve.hermite(np.array(centre) + out * radius, slopes, np.full(pieces, step))


def saved(folder: Path, text: str, name: str = "top.yaml") -> Path:
    """The text as a file."""
    path = folder / name
    path.write_text(text, encoding="utf-8")
    return path


def pattern_of(folder: Path, text: str) -> Pattern:
    """The text read as a pattern file."""
    return read_pattern(saved(folder, text))


def refusal(folder: Path, text: str) -> list[str]:
    """The sentences with which the text is refused as a pattern file."""
    with pytest.raises(PatternError) as refused:
        pattern_of(folder, text)
    sentences = str(refused.value).splitlines()
    assert len(refused.value.complaints) == len(sentences)
    return sentences


def nearest_in(points: Array, place: Sequence[float]) -> float:
    """Inches from `place` to the nearest of (n, 2) points."""
    return float(np.hypot(*(points - np.array(place)).T).min())
