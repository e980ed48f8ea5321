"""What a drawing from another program holds: lines in inches, what each is for, and what belongs to one piece.

Drawing inches: x to the right and y **down**, as on a piece.
"""

import re
from dataclasses import dataclass
from enum import Enum
from pathlib import Path
from types import MappingProxyType
from typing import Final

import numpy as np

from patterns.curves import Array
from patterns.errors import PatternError
from patterns.measures import Unit
from patterns.parts import Allowance, Kind

MOST_BYTES: Final = 64_000_000
MOST_PATHS: Final = 100_000
MOST_POINTS: Final = 1_000_000
FLAT_IN: Final = 0.0005  # that chords stray from the curves of a drawing: half of the thousandth promised
SAME_IN: Final = 1e-6  # points nearer to one another are one
_WORD: Final = re.compile(r"[A-Z]?[a-z]+|[A-Z]+(?![a-z])")


class Role(Enum):
    """What a line is for, as far as the drawing says."""

    UNSAID = "unsaid"
    CUT = "cut line"
    SEAM = "seam line"
    FOLD = "fold"
    GRAIN = "grain"
    NOTCH = "notch"
    OTHER = "other"


_ROLES: Final = MappingProxyType(
    {
        **dict.fromkeys(("cut", "cutting", "cutline"), Role.CUT),
        **dict.fromkeys(("seam", "sew", "sewing", "stitch", "stitching", "seamline", "sewline"), Role.SEAM),
        **dict.fromkeys(("fold", "mirror"), Role.FOLD),
        **dict.fromkeys(("grain", "grainline"), Role.GRAIN),
        **dict.fromkeys(("notch", "notches"), Role.NOTCH),
        **dict.fromkeys(("sign", "tick", "clip", "words", "text", "annotation"), Role.OTHER),
    }
)

_WHOLE: Final = (
    "centre",
    "center",
)  # a line's whole name; within one they speak of the piece, "centre front"


@dataclass(frozen=True, slots=True, kw_only=True)
class SaidEdge:
    """An edge as a drawing names it."""

    name: str
    kind: Kind
    allowance: Allowance | None = None


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class DrawnPath:
    """A line: `points` (n, 2) drawing inches, the last not repeating the first where it is `closed`."""

    points: Array
    closed: bool = False
    role: Role = Role.UNSAID
    edge: SaidEdge | None = None
    name: str = ""


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class DrawnPiece:
    """Lines that belong to one piece. `origin` (2,) is its own nought, if the drawing says where that is.

    `starts` are the edges that it names, in order, each with the place (2,) at which it begins; `cut` is how many are
    cut, as it says.
    """

    name: str
    paths: tuple[DrawnPath, ...]
    cut: str = ""
    origin: Array | None = None
    starts: tuple[tuple[SaidEdge, Array], ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Drawing:
    """A whole file: pieces that it tells apart, and lines that belong to none of them.

    `unit` is the one that its lengths are in, as far as it has one of ours; `notes` are to be looked at.
    """

    pieces: tuple[DrawnPiece, ...]
    loose: tuple[DrawnPath, ...]
    unit: Unit = Unit.IN
    notes: tuple[str, ...] = ()


def role_of(*names: str) -> Role:
    """What the first name says that is any of our words.

    >>> role_of("front-seam"), role_of("fold-sign"), role_of("GrainLine 1"), role_of("path12", "layer 2")
    (<Role.SEAM: 'seam line'>, <Role.OTHER: 'other'>, <Role.GRAIN: 'grain'>, <Role.UNSAID: 'unsaid'>)
    """
    for name in names:
        if name in _WHOLE:
            return Role.OTHER
        found = {_ROLES[word] for word in map(str.lower, _WORD.findall(name)) if word in _ROLES}
        if Role.OTHER in found:
            return Role.OTHER
        if len(found) == 1:
            return found.pop()
    return Role.UNSAID


def counted(number: int, what: str) -> str:
    """So many of something: "1 line", "2 lines"."""
    return f"{number} {what}{'' if number == 1 else 's'}"


def without_repeats(points: Array, *, closed: bool) -> Array:
    """(k, 2) of the points (n, 2), those that lie on the one before left out."""
    if len(points) < 2:
        return points
    kept = np.concatenate([[True], np.hypot(*np.diff(points, axis=0).T) > SAME_IN])
    points = points[kept]
    if closed and len(points) > 1 and float(np.hypot(*(points[0] - points[-1]))) <= SAME_IN:
        points = points[:-1]
    return points


def content_of(path: Path) -> bytes:
    """The file's bytes; PatternError where it cannot be read or is too large to be a pattern."""
    try:
        if path.stat().st_size > MOST_BYTES:
            raise PatternError(
                f"{path}: {path.stat().st_size // 1_000_000} MB are more than a pattern takes; give a file of at most "
                f"{MOST_BYTES // 1_000_000} MB"
            )
        return path.read_bytes()
    except OSError as closed:
        raise PatternError(f"{path}: cannot be read ({closed.strerror}); check its name") from closed


class Budget:
    """Counts lines and points as they are read, so that no file can ask for more than a pattern needs."""

    def __init__(self) -> None:
        self.paths = 0
        self.points = 0

    def took(self, path: DrawnPath) -> DrawnPath:
        """The path; PatternError as soon as there are too many."""
        self.paths += 1
        self.points += len(path.points)
        if self.paths > MOST_PATHS or self.points > MOST_POINTS:
            raise PatternError(
                f"more than {MOST_PATHS:,} lines or {MOST_POINTS:,} points are no pattern; export the pieces alone, "
                "without pictures or hatching"
            )
        return path
