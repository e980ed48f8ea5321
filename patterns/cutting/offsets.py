"""The stretches of a seam line between its corners, each moved outward by its allowance."""

import math
from dataclasses import dataclass
from functools import cache, cached_property, lru_cache
from typing import Final

import numpy as np

from patterns.cubics import Plane, in_plane, out_of_plane
from patterns.curves import FLAT_IN, Array, Curve, Spans, even_grid
from patterns.measures import Unit
from patterns.saying import Say, Sentence
from patterns.shape import REMEMBERED, Shape

SHARP_IN: Final = 1 / 64  # a hollow of less is a corner to the eye, and its radius says nothing
_SAMPLES: Final = 33  # looks at the curvature of each cubic; a cubic's curvature has few extremes
_ROUNDS: Final = 14  # of halving steps; each quarters the stray


class TooWideError(Exception):
    """An allowance that does not fit: the numbers of the edges to blame, and the sentence that says why."""

    def __init__(self, edges: tuple[int, ...], reason: Sentence) -> None:
        super().__init__(reason(Say(Unit.IN)))
        self.edges = edges
        self.reason = reason


@dataclass(frozen=True, eq=False)
class Stretch:
    """A smooth stretch of one edge: `points` (n, 2) are its seam moved outward by `width_in`.

    The seam's ends have their unit directions along the walk, (2,) each.
    """

    edge: int
    width_in: float
    outward: float
    start: Array
    start_tangent: Array
    end: Array
    end_tangent: Array
    points: Array

    @classmethod
    def along(cls, seam: Curve, edge: int, width_in: float, outward: float, points: Array) -> "Stretch":
        """Of a smooth seam."""
        return cls(
            edge=edge,
            width_in=width_in,
            outward=outward,
            start=seam.start,
            start_tangent=seam.start_tangent,
            end=seam.end,
            end_tangent=seam.end_tangent,
            points=points,
        )

    @property
    def start_normal(self) -> Array:
        """(2,) unit direction out of the piece at the start."""
        return normal(self.start_tangent, self.outward)

    @property
    def end_normal(self) -> Array:
        """(2,) unit direction out of the piece at the end."""
        return normal(self.end_tangent, self.outward)

    @cached_property
    def reversed(self) -> "Stretch":
        """The same stretch walked the other way, its outside where it was."""
        return Stretch(
            edge=self.edge,
            width_in=self.width_in,
            outward=-self.outward,
            start=self.end,
            start_tangent=-self.end_tangent,
            end=self.start,
            end_tangent=-self.start_tangent,
            points=self.points[::-1],
        )


def normals(tangents: Array, outward: float) -> Array:
    """(n, 2) unit directions out of the piece for (n, 2) unit tangents."""
    return tangents[:, ::-1] * (outward, -outward)


def normal(tangent: Array, outward: float) -> Array:
    """(2,) unit direction out of the piece for a (2,) unit tangent."""
    return outward * np.array([tangent[1], -tangent[0]])


def turn_rad(arriving: Array, leaving: Array) -> float:
    """Radians from one (2,) direction to another, positive from x towards y."""
    (x, y), (on_x, on_y) = arriving.tolist(), leaving.tolist()
    return math.atan2(x * on_y - y * on_x, x * on_x + y * on_y)


def stretches(shape: Shape) -> list[Stretch]:
    """The seam line's smooth stretches in order, each with its offset, the fold left as it is.

    Raises TooWideError where an allowance is wider than a hollow's radius.
    """
    outward = shape.outward
    found = []
    for number, edge in enumerate(shape.edges):
        for run in edge.curve.runs():
            if edge.width_in and not run.is_straight:
                _check_hollows(shape, number, run, outward)
            found.append(_stretch(number, run, edge.width_in, outward))
    return found


@lru_cache(maxsize=REMEMBERED)
def _stretch(edge: int, seam: Curve, width_in: float, outward: float) -> Stretch:
    """The very same for the same seam: a point that is pulled leaves most of them alone."""
    points = offset(seam, width_in * outward) if width_in else seam.points
    return Stretch.along(seam, edge, width_in, outward, points)


def offset(curve: Curve, width_in: float) -> Array:
    """(n, 2) points of the smooth curve moved `width_in` sideways, positive to the side of (ty, -tx).

    The true offset of the true curve; chords stray from it by at most FLAT_IN.
    """
    if curve.is_straight:
        return curve.corners + width_in * np.array([curve.start_tangent[1], -curve.start_tangent[0]])
    spans, along = _with_middles(curve.flat_chords)
    count = len(along) // 2 + 1
    both = _moved(curve, spans, along, width_in)
    points, between = both[:count], both[count:]
    spans, along, middle = spans[:count], along[:count], along[count:]
    for _ in range(_ROUNDS):
        coarse = (_strays(points, between) > FLAT_IN).nonzero()[0]
        if not len(coarse):
            break
        spans = np.insert(spans, coarse + 1, spans[coarse])
        along = np.insert(along, coarse + 1, middle[coarse])
        points = np.insert(points, coarse + 1, between[coarse])
        middle = _middles(along)
        between = _moved(curve, spans[:-1], middle, width_in)
    return out_of_plane(points)


@lru_cache(maxsize=REMEMBERED)
def _with_middles(chords: tuple[int, ...]) -> tuple[Spans, Array]:
    """Pieces and parameters of the n ends of so many chords a piece, then of their n - 1 middles."""
    spans, along = even_grid(chords)
    along = np.append(along, 1.0)
    both = np.concatenate([spans, [len(chords) - 1], spans]), np.concatenate([along, _middles(along)])
    for one in both:
        one.setflags(write=False)
    return both


def _middles(along: Array) -> Array:
    """(n - 1,) parameters halfway between (n,) ones, each on the piece that the first of the two is on."""
    next_along = along[1:].copy()
    next_along[next_along == 0] = 1.0
    middle: Array = (along[:-1] + next_along) / 2
    return middle


def _moved(curve: Curve, spans: Spans, along: Array, width_in: float) -> Plane:
    return in_plane(curve.at_parameters(spans, along)) - 1j * width_in * in_plane(
        curve.tangents(spans, along)
    )


def _strays(points: Plane, between: Plane) -> Array:
    """(n - 1,) distances of `between` from the chords of (n,) points."""
    chord, step = points[1:] - points[:-1], between - points[:-1]
    stray: Array = abs((chord.conj() * step).imag) / np.maximum(abs(chord), 1e-12)
    return stray


def _check_hollows(shape: Shape, number: int, run: Curve, outward: float) -> None:
    edge = shape.edges[number]
    if run.curved_at_most * edge.width_in < 1:
        return
    bend, place = _deepest_hollow(run, outward)
    if bend * edge.width_in >= 1:
        radius = 1 / bend
        x, y = run.at_parameters(*place)[0].tolist()
        raise TooWideError(
            (number,),
            lambda say: (
                f"{shape.name}, {edge.name}: an allowance of {say(edge.width_in, 64)} does not fit the "
                + ("sharp bend" if radius < SHARP_IN else f"hollow of {say.finely(radius)} radius")
                + f" near {say.place(x, y)}"
            ),
        )


@lru_cache(maxsize=REMEMBERED)
def _deepest_hollow(run: Curve, outward: float) -> tuple[float, tuple[Spans, Array]]:
    """The sharpest curvature into the piece, in 1/in, and where: a piece of the run and a parameter, (1,) each."""
    spans, along = _looks(len(run.beziers))
    hollow = -outward * run.curvatures(spans, along)
    deepest = int(np.argmax(hollow))
    return float(hollow[deepest]), (spans[deepest : deepest + 1], along[deepest : deepest + 1])


@cache
def _looks(pieces: int) -> tuple[Spans, Array]:
    """Pieces and parameters (n,) at which so many cubics are looked at."""
    return np.repeat(np.arange(pieces), _SAMPLES), np.tile(np.linspace(0, 1, _SAMPLES), pieces)
