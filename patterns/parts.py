"""The parts of a piece as their author wrote them: they keep every spelling and check their own rules."""

from dataclasses import dataclass, field
from enum import Enum
from functools import cached_property, lru_cache
from itertools import pairwise
from typing import Final

import numpy as np

from patterns.curves import Curve
from patterns.errors import Complaint, PatternError
from patterns.measures import Length

MOST_POINTS: Final = 1000  # in one path: a traced edge needs some dozens
LONGEST_NAME: Final = 60  # a name is projected on the cloth in letters


class Kind(Enum):
    """What happens at an edge: sewn, hemmed, laid on the fold of the cloth, or left raw."""

    SEAM = "seam"
    HEM = "hem"
    FOLD = "fold"
    EDGE = "edge"


class Bend(Enum):
    """How a path runs through its points."""

    STRAIGHT = "straight"
    SMOOTH = "smooth"
    BEZIER = "bezier"


class Corner(Enum):
    """How the cut line turns the corner at an edge's end.

    MITRE: both cut edges run on until they meet. SQUARED: this edge's seam line runs on across the other
    allowance and its own allowance ends square to it; SQUARED_NEXT: the next edge's does. REFLECTED: the
    neighbour's cut edge mirrored about the hem's fold line.
    """

    MITRE = "mitre"
    SQUARED = "squared"
    SQUARED_NEXT = "squared next"
    REFLECTED = "reflected"


class End(Enum):
    """The end of an edge, as walked round the piece."""

    START = "start"
    END = "end"


@dataclass(frozen=True, slots=True, kw_only=True)
class Allowance:
    """What is added outside the seam line: one length, or two for a hem that is folded twice.

    Of two, the first lies next to the hem line and the second, never wider, is turned under.
    """

    parts: tuple[Length, ...]

    def __post_init__(self) -> None:
        found = f'"{self}"'
        _refuse(
            len(self.parts) not in (1, 2), found, 'one length, or two for a double hem: "1/4 in + 1/4 in"'
        )
        _refuse(any(part.inches < 0 for part in self.parts), found, "an allowance of nothing or more")
        _refuse(
            len(self.parts) == 2 and self.parts[1].exact_inches > self.parts[0].exact_inches,
            found,
            "a double hem whose second part, turned under, is no wider than the first",
        )

    def __str__(self) -> str:
        return " + ".join(part.spelling for part in self.parts)

    @property
    def inches(self) -> tuple[float, ...]:
        """Each part in inches."""
        return tuple(part.inches for part in self.parts)


@dataclass(frozen=True, slots=True, kw_only=True)
class CutCount:
    """How many are cut, whether on the fold, and whether as mirrored pairs."""

    count: int = 1
    on_fold: bool = False
    mirrored: bool = False

    def __post_init__(self) -> None:
        _refuse(not 1 <= self.count <= 99, f"{self.count} to cut", "a count from 1 to 99")
        _refuse(
            self.mirrored and self.count % 2 == 1,
            f'"{self}"',
            'an even count of mirrored pieces, such as "2 mirrored"',
        )
        _refuse(self.mirrored and self.on_fold, f'"{self}"', '"on fold" or "mirrored", not both')

    def __str__(self) -> str:
        return f"{self.count}{' on fold' if self.on_fold else ''}{' mirrored' if self.mirrored else ''}"

    @property
    def words(self) -> str:
        """As it stands on the piece: "cut 1 on fold"."""
        return f"cut {self}"

    @property
    def times(self) -> int:
        """How often each edge is there once all are cut and opened out: twice a piece that is on the fold."""
        return self.count * (2 if self.on_fold else 1)


@dataclass(frozen=True, slots=True, kw_only=True)
class Point:
    """A point of a path: `x` from the centre line, `y` down from the high shoulder point as it was traced."""

    x: Length
    y: Length

    @property
    def place_in(self) -> tuple[float, float]:
        """Both coordinates in inches."""
        return self.x.inches, self.y.inches


@dataclass(frozen=True, kw_only=True)
class Edge:
    """One edge of a piece, on the seam line. `corner` is the one at its end; None is the kind's own.

    `places_in` are the points of its path in inches.
    """

    name: str
    kind: Kind
    path: tuple[Point, ...]
    bend: Bend = Bend.STRAIGHT
    allowance: Allowance | None = None
    corner: Corner | None = None
    places_in: tuple[tuple[float, float], ...] = field(init=False, compare=False, repr=False)

    def __post_init__(self) -> None:
        check_name(self.name)
        object.__setattr__(self, "places_in", tuple(point.place_in for point in self.path))
        self._check_path()
        self._check_kind()

    def __hash__(self) -> int:
        return hash(
            (self.name, self.places_in)
        )  # equal paths have equal places, and numbers are sooner hashed

    @cached_property
    def curve(self) -> Curve:
        """The path as a curve in inches."""
        points = np.array(self.places_in)
        if self.bend is Bend.STRAIGHT:
            return Curve.straight(points)
        return Curve.smooth(points) if self.bend is Bend.SMOOTH else Curve.bezier(points)

    def _check_path(self) -> None:
        count, bezier = len(self.path), self.bend is Bend.BEZIER
        _refuse(
            not 2 <= count <= MOST_POINTS, f"{count} points", f"a path of 2 to {MOST_POINTS} points", "path"
        )
        _refuse(
            bezier and count % 3 != 1,
            f"{count} points in a bezier path",
            "point, handle, handle, point, ...: 4, 7, 10, ... points",
            "path",
        )
        step = 3 if bezier else 1
        for number, (before, place) in enumerate(pairwise(self.places_in[::step]), start=1):
            if place == before:
                point = self.path[number * step]
                found = f"[{point.x}, {point.y}] twice in a row"
                _refuse(True, found, "points that move on", "path", number * step)

    def _check_kind(self) -> None:
        if self.kind is Kind.FOLD:
            _refuse(self.bend is not Bend.STRAIGHT, f"a {self.bend.value} fold", "a straight fold", "curve")
            _refuse(
                any(x for x, _ in self.places_in),
                "a fold that leaves x = 0",
                "a fold along the centre line, with x = 0 at each point",
                "path",
            )
            _refuse(
                self.allowance is not None and any(self.allowance.inches),
                f"an allowance of {self.allowance} on a fold",
                "none: cloth is not cut at its fold",
                "allowance",
            )
        if self.allowance is not None and self.kind is not Kind.HEM:
            _refuse(
                len(self.allowance.parts) == 2,
                f'"{self.allowance}" on a {self.kind.value}',
                "one length; only a hem is folded twice",
                "allowance",
            )


@dataclass(frozen=True, slots=True, kw_only=True)
class Notch:
    """A notch of one to three clips, `at` so far along `edge` from its start or end."""

    edge: str
    at: Length
    from_end: End = End.START
    count: int = 1

    def __post_init__(self) -> None:
        _refuse(not 1 <= self.count <= 3, f"a notch of {self.count}", "a notch of 1, 2 or 3 clips")
        _refuse(self.at.inches < 0, f'"{self.at}"', "a distance of nothing or more along the edge")


@dataclass(frozen=True, slots=True, kw_only=True)
class Grain:
    """The grainline, from one end to the other."""

    start: Point
    end: Point

    def __post_init__(self) -> None:
        _refuse(self.start == self.end, "a grainline without length", "two different points")


@lru_cache(maxsize=1024)  # those of a pattern are checked in every picture of it
def check_name(name: str) -> None:
    """PatternError unless `name` can be said, projected and referred to."""
    _refuse(not name.strip(), "no name", "a name")
    _refuse(
        name != name.strip() or not name.isprintable() or "/" in name,
        f"{name!r}",
        'a name of letters and spaces, without "/" and without spaces at its ends',
    )
    _refuse(
        len(name) > LONGEST_NAME,
        f"a name of {len(name)} letters",
        f"a name of at most {LONGEST_NAME} letters",
    )


def _refuse(wrong: bool, found: str, wanted: str, *at: str | int) -> None:
    if wrong:
        raise PatternError.listing([Complaint(found=found, wanted=wanted, at=at)])
