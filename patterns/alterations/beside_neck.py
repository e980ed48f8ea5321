"""The line beside a neck, into the piece from it, that meets the fold square.

Places are complex numbers and pieces four of them, as in `cubics`.
"""

import cmath
import math
from collections.abc import Iterator, Sequence
from itertools import pairwise
from typing import Final, NamedTuple, Self

import numpy as np

from patterns.alterations.parting import parted
from patterns.cubics import Piece, in_plane, is_nothing, leaving, out_of_plane, split
from patterns.curves import Array, Curve
from patterns.cutting.corners import NoCornerError, mitred
from patterns.cutting.offsets import Stretch
from patterns.errors import PatternError
from patterns.saying import LengthError

SQUARE_RAD: Final = math.radians(1)  # a neck nearer to square than this runs smoothly across the fold
DIP_RAD: Final = math.radians(15)  # so far a traced neck may dip at the fold, and is taken to be level there
REACH_PART: Final = 1.25  # the parallel must run so far past the end asked for, to leave room for the blend
_PER_RUN: Final = 24  # about so many pieces of a neck's run have their parallels one by one
_PARTS: Final = 2**20  # of one of its cubics: a place on it is found to the nearest of so many
_LEAST_IN: Final = 1e-12  # what was shorter where one cubic ends is no longer where the next one begins
_STEP: Final = _PARTS // 4  # the first such place is looked for in such steps


def beside_neck(neck: Curve, outward: float, name: str, depth_in: float, below_in: float) -> Curve:
    """The line `depth_in` beside a neck that is walked from the fold, `below_in` below it there.

    `outward` is the walk's, as `Shape.outward`; `name` the piece that the line is for. Raises PatternError where the
    neck does not come to the fold as it must, or leaves no room.
    """
    way, fold_y = complex(*neck.start_tangent.tolist()), float(neck.start[1]) + below_in
    dips_rad = cmath.phase(way)
    if abs(dips_rad) <= SQUARE_RAD:
        return path_of(_parallel(neck, outward, name, depth_in, below_in))
    if 0 < dips_rad <= DIP_RAD:
        parallel = path_of(_parallel(neck, outward, name, depth_in, below_in))
        return _levelled_at_fold(parallel, fold_y, depth_in)
    widened = depth_in * max(1.0, below_in * REACH_PART / (depth_in / _rise(way, name)))
    parallel_pieces = _parallel(neck, outward, name, depth_in, widened)
    return path_of(_squared_at_fold(parallel_pieces, way, name, fold_y))


def pieces_of(path: Curve) -> list[Piece]:
    """Its pieces, one by one."""
    pieces: list[Piece] = in_plane(path.beziers).tolist()
    return pieces


def path_of(pieces: Sequence[Piece]) -> Curve:
    """The path through all of the pieces, each on from the last."""
    return Curve(out_of_plane(np.array(pieces)).reshape(-1, 4, 2))


def cubic_between(start: complex, leaves: complex, end: complex, arrives: complex) -> Piece:
    """One cubic from a place to another, with those unit directions; its handles are evenly long."""
    reach = abs(end - start) / 3
    return start, start + leaves * reach, end - arrives * reach, end


def _rise(way: complex, name: str) -> float:
    """The part of a parallel's reach at the fold that is its distance from a neck leaving along `way`."""
    if way.real <= 0 or way.imag >= 0:
        raise PatternError(
            f"{name}: the neck does not fall towards the fold, so a facing cannot meet it square; draw the neck's "
            "end square to the fold, or draw it anew with neck: round"
        )
    return way.real


def _parallel(neck: Curve, outward: float, name: str, depth_in: float, below_in: float) -> list[Piece]:
    """The neck moved into the piece by `depth_in`, widening smoothly to `below_in` at the fold."""
    runs, beside = neck.runs(), list[list[Piece]]()
    begun, total = 0.0, neck.length_in
    for run in runs:
        seam = run if run.is_straight else parted(run, _PER_RUN)
        ends_in = [0.0, run.length_in] if run.is_straight else seam.ends_in
        share = (begun + np.array(ends_in)) / total
        width = depth_in + (below_in - depth_in) * (1 - share) ** 2 * (1 + 2 * share)
        widening = (below_in - depth_in) * -6 * share * (1 - share) / total
        begun += run.length_in
        if run.is_straight:
            beside.append([_beside_straight(run, 1j * outward, width.tolist(), widening.tolist())])
            continue
        stretch = 1 - outward * np.stack([width[:-1], width[1:]]) * _bends(seam)
        if stretch.min() <= 0:
            raise LengthError(
                lambda say: f"{name}: {say(depth_in)} is more than the bend of the neck leaves room for"
            )
        beside.append(_moved(seam, 1j * outward, width, widening, stretch))
    try:
        corners = list(_corners(runs, beside, outward, depth_in))
    except NoCornerError as missing:
        raise LengthError(
            lambda say: f"{name}: {say(depth_in)} is more than the corners of the neck leave room for"
        ) from missing
    return [
        *beside[0],
        *(piece for corner, run in zip(corners, beside[1:], strict=True) for piece in corner + run),
    ]


def _beside_straight(run: Curve, inward: complex, width: Sequence[float], widening: Sequence[float]) -> Piece:
    """Beside a straight run, where it is one cubic since it widens as one; `width` and `widening` at both ends."""
    start, *_, end = in_plane(run.corners).tolist()
    way, reach = (end - start) / abs(end - start), run.length_in / 3
    (begins, stops), (leaves, arrives) = (
        [inward * way * much for much in both] for both in (width, widening)
    )
    first, last = start + begins, end + stops
    return first, first + (way + leaves) * reach, last - (way + arrives) * reach, last


def _bends(seam: Curve) -> Array:
    """(2, n) curvatures in 1/in at the starts and at the ends of its n pieces."""
    count = len(seam.beziers)
    return seam.curvatures(np.tile(np.arange(count), 2), np.repeat([0.0, 1.0], count)).reshape(2, count)


def _moved(seam: Curve, inward: complex, width: Array, widening: Array, stretch: Array) -> list[Piece]:
    """The n pieces of a smooth seam moved by `width` (n + 1,) inches a quarter turn `inward`, still smooth.

    `widening` (n + 1,) is how much wider it becomes with each inch; `stretch` (2, n) is how many times as far as the
    seam it runs, at the starts and at the ends of its pieces.
    """
    starts, handles, others, ends = in_plane(seam.beziers).T
    count = len(starts)
    corners = np.append(np.arange(count), count - 1), np.append(np.zeros(count), 1.0)
    ways = in_plane(seam.tangents(*corners))
    # Where the seam's bend jumps both sides set out between their two directions.
    alike = np.concatenate([stretch[0, :1], (stretch[1, :-1] + stretch[0, 1:]) / 2, stretch[1, -1:]])
    slopes = ways * (alike + inward * widening)
    slopes /= abs(slopes)
    reaches = np.hypot(stretch, [widening[:-1], widening[1:]]) * abs(
        np.stack([handles - starts, ends - others])
    )
    places = np.append(starts, ends[-1]) + inward * ways * width
    starts, ends = places[:-1], places[1:]
    handles, others = starts + slopes[:-1] * reaches[0], ends - slopes[1:] * reaches[1]
    moved: list[Piece] = np.stack([starts, handles, others, ends], axis=1).tolist()
    return moved


def _corners(
    runs: Sequence[Curve], beside: Sequence[list[Piece]], outward: float, depth_in: float
) -> Iterator[list[Piece]]:
    """What joins the parallels `beside` the runs of a neck round each corner between them."""
    for both, (before, after) in zip(pairwise(runs), pairwise(beside), strict=True):
        ends = [out_of_plane(np.array([one[0][0], one[-1][-1]])) for one in (before, after)]
        one, two = (
            Stretch.along(run, 0, depth_in, -outward, points) for run, points in zip(both, ends, strict=True)
        )
        yield pieces_of(Curve.straight(np.concatenate([ends[0][1:], mitred(one, two).points, ends[1][:1]])))


def _levelled_at_fold(parallel: Curve, fold_y: float, within_in: float) -> Curve:
    """The parallel of a neck that dips beside the fold, led level to the fold at `fold_y` over its first inches."""
    rest = pieces_of(parallel.between(min(within_in, parallel.length_in / 2), parallel.length_in))
    return path_of([cubic_between(complex(0, fold_y), 1, rest[0][0], leaving(rest[0])), *rest])


def _squared_at_fold(parallel: list[Piece], way: complex, name: str, fold_y: float) -> list[Piece]:
    """The parallel with its end at the fold blended to meet it square at `fold_y`, above where it would.

    `way` is its unit direction at that end.
    """
    start = parallel[0][0]
    crosses = start - way * start.real / way.real
    rest = _from_leaving([cubic_between(crosses, way, start, way), *parallel], fold_y, name)
    place, along = rest[0][0], leaving(rest[0])
    turn, back = -cmath.phase(along), (place.imag - fold_y) / along.imag
    # The tangents at both ends of an arc meet at a knee; this part of them is what its cubic's handles are long.
    part = 4 / 3 * math.tan(turn / 4) / math.tan(turn / 2)
    knee = place - along * back
    blend = complex(0, fold_y), complex(part * knee.real, fold_y), place - along * back * part, place
    return [blend, *rest]


def _from_leaving(pieces: Sequence[Piece], fold_y: float, name: str) -> list[Piece]:
    """The parallel from where an arc can leave it that meets the fold square at `fold_y`.

    There the tangents at both ends of the arc are equally long. The first such place, looked for in steps along each
    piece.
    """
    for number, piece in enumerate(pieces):
        tangents = _Tangents.of(piece, fold_y)
        for part in range(_STEP, _PARTS + 1, _STEP):
            if tangents.longer_in(part) >= 0:
                _, rest = split(piece, tangents.even_at(part - _STEP, part) / _PARTS)
                return [one for one in (rest, *pieces[number + 1 :]) if not is_nothing(one)]
    raise PatternError(f"{name}: the neck is too short for its facing to turn square to the fold")


class _Tangents(NamedTuple):
    """Those of one piece of a parallel, as each part of it is reached, up to their knees level with `fold_y`.

    `by_powers` are what the parameter's third, second, first and zeroth powers are multiplied by.
    """

    by_powers: tuple[complex, complex, complex, complex]
    fold_y: float

    @classmethod
    def of(cls, piece: Piece, fold_y: float) -> Self:
        """Of that piece."""
        start, far, near, end = piece
        by_powers = end - 3 * near + 3 * far - start, 3 * (near - 2 * far + start), 3 * (far - start), start
        return cls(by_powers=by_powers, fold_y=fold_y)

    def longer_in(self, part: int) -> float:
        """Inches by which the tangent is longer than that from its knee to the fold; much less where it has no knee."""
        along = part / _PARTS
        cubed, squared, plain, start = self.by_powers
        place = ((cubed * along + squared) * along + plain) * along + start
        slope = (3 * cubed * along + 2 * squared) * along + plain
        below = place.imag - self.fold_y
        if below >= 0 or slope.imag >= 0:
            return -math.inf
        return below / slope.imag * (abs(slope) + slope.real) - place.real

    def even_at(self, low: int, high: int) -> int:
        """The part, after one at which it is shorter and up to one at which it is not, from which it is not.

        Closed in upon from where it would be if it grew evenly, and from the middle in turn, in case it does not.
        """
        shorter, longer = min(self.longer_in(low), -_LEAST_IN), self.longer_in(high)
        evenly = True
        while high - low > 1:
            back = int((high - low) * longer / (longer - shorter)) if evenly else (high - low) // 2
            look = max(high - max(back, 1), low + 1)
            found = self.longer_in(look)
            if found < 0:
                low, shorter = look, found
            else:
                high, longer = look, found
            evenly = not evenly
        return high
