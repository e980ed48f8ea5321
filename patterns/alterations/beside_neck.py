"""The line beside a neck, into the piece from it, that meets the fold square."""

import math
from typing import Final, NamedTuple

import numpy as np

from patterns.curves import Array, Curve, Place
from patterns.cutting.corners import mitred
from patterns.cutting.offsets import Stretch, normals
from patterns.errors import PatternError
from patterns.saying import LengthError

SQUARE_RAD: Final = math.radians(1)  # a neck nearer to square than this runs smoothly across the fold
DIP_RAD: Final = math.radians(15)  # so far a traced neck may dip at the fold, and is taken to be level there
REACH_PART: Final = 1.25  # the parallel must run so far past the end asked for, to leave room for the blend
_PER_RUN: Final = 25  # places at which a parallel edge is held to the true parallel
_PARTS: Final = 2**20  # of one of its cubics: a place on it is found to the nearest of so many
_LEAST_IN: Final = 1e-12  # what was shorter where one cubic ends is no longer where the next one begins
_STEP: Final = _PARTS // 4  # the first such place is looked for in such steps


def beside_neck(neck: Curve, outward: float, name: str, depth_in: float, below_in: float) -> Curve:
    """The line `depth_in` beside a neck that is walked from the fold, `below_in` below it there.

    `outward` is the walk's, as `Shape.outward`; `name` the piece that the line is for. Raises PatternError where the
    neck does not come to the fold as it must, or leaves no room.
    """
    tangent = neck.start_tangent
    dips_rad = math.atan2(tangent[1], tangent[0])
    if abs(dips_rad) <= SQUARE_RAD:
        return _parallel(neck, outward, name, depth_in, below_in)
    if 0 < dips_rad <= DIP_RAD:
        parallel = _parallel(neck, outward, name, depth_in, below_in)
        return _levelled_at_fold(parallel, neck.start[1] + below_in, depth_in)
    widened = depth_in * max(1.0, below_in * REACH_PART / (depth_in / _rise(tangent, name)))
    parallel = _parallel(neck, outward, name, depth_in, widened)
    return _squared_at_fold(parallel, tangent, name, neck.start[1] + below_in)


def cubic_between(start: Array, leaving: Array, end: Array, arriving: Array) -> Curve:
    """One cubic from a place to another, (2,) each, with those unit directions; its handles are evenly long."""
    reach = np.hypot(*(end - start)) / 3
    return Curve(np.array([[start, start + leaving * reach, end - arriving * reach, end]]))


def _rise(tangent: Array, name: str) -> float:
    """The part of a parallel's reach at the fold that is its distance from a neck leaving along `tangent`."""
    if tangent[0] <= 0 or tangent[1] >= 0:
        raise PatternError(
            f"{name}: the neck does not fall towards the fold, so a facing cannot meet it square; draw the neck's "
            "end square to the fold, or draw it anew with neck: round"
        )
    return float(tangent[0])


def _parallel(neck: Curve, outward: float, name: str, depth_in: float, below_in: float) -> Curve:
    """The neck moved into the piece by `depth_in`, widening smoothly to `below_in` at the fold."""
    joined: list[Curve] = []
    before: Stretch | None = None
    begun, total = 0.0, neck.length_in
    for run in neck.runs():
        lengths, seam, tangents, bends = _held_to(run)
        into = normals(tangents, -outward)
        share = (begun + lengths) / total
        widths = depth_in + (below_in - depth_in) * (1 - share) ** 2 * (1 + 2 * share)
        widening = (below_in - depth_in) * -6 * share * (1 - share) / total
        stretch = 1 - outward * widths * bends
        if stretch.min() <= 0:
            raise LengthError(
                lambda say: f"{name}: {say(depth_in)} is more than the bend of the neck leaves room for"
            )
        points = seam + into * widths[:, None]
        slopes = tangents * stretch[:, None] + into * widening[:, None]
        here = Stretch.along(run, 0, depth_in, -outward, points[[0, -1]])
        if before is not None:
            corner = [joined[-1].end, *mitred(before, here).points, points[0]]
            joined.append(Curve.straight(np.array(corner)))
        joined.append(Curve.hermite(points, slopes, np.diff(lengths)))
        before, begun = here, begun + run.length_in
    return Curve.chain(*joined)


def _held_to(run: Curve) -> tuple[Array, Array, Array, Array]:
    """Where a parallel is held to a smooth run: inches along (n,), points and unit tangents (n, 2), curvatures (n,)."""
    if run.is_straight:
        # Beside a straight neck it is one cubic, since it widens as one.
        ends, ways = np.array([run.start, run.end]), np.array([run.start_tangent, run.end_tangent])
        return np.array([0.0, run.length_in]), ends, ways, np.zeros(2)
    lengths = np.linspace(0.0, run.length_in, _PER_RUN)
    places = run.places_at(lengths)
    return lengths, run.at_parameters(*places), run.tangents(*places), run.curvatures(*places)


def _levelled_at_fold(parallel: Curve, fold_y: float, within_in: float) -> Curve:
    """The parallel of a neck that dips beside the fold, led level to the fold at `fold_y` over its first inches."""
    rest = parallel.between(min(within_in, parallel.length_in / 2), parallel.length_in)
    return Curve.chain(
        cubic_between(np.array([0.0, fold_y]), np.array([1.0, 0.0]), rest.start, rest.start_tangent), rest
    )


def _squared_at_fold(parallel: Curve, tangent: Array, name: str, fold_y: float) -> Curve:
    """The parallel with its end at the fold blended to meet it square at `fold_y`, above where it would.

    `tangent` (2,) is its direction at that end.
    """
    crosses_y = parallel.start[1] - tangent[1] / tangent[0] * parallel.start[0]
    whole = Curve.chain(Curve.straight(np.array([[0.0, crosses_y], parallel.start])), parallel)
    rest = whole.part(_leaving(whole, fold_y, name), (len(whole.beziers) - 1, 1.0))
    (x, y), (next_x, next_y) = rest.beziers[0, :2].tolist()
    turn, back = math.atan2(y - next_y, next_x - x), (y - fold_y) / (next_y - y)
    # The tangents at both ends of an arc meet at a knee; this part of them is what its cubic's handles are long.
    part = 4 / 3 * math.tan(turn / 4) / math.tan(turn / 2)
    level_to = part * (x - back * (next_x - x))
    handle = x - part * back * (next_x - x), y - part * back * (next_y - y)
    blend = np.array([[[0.0, fold_y], [level_to, fold_y], handle, [x, y]]])
    return Curve(np.concatenate([blend, rest.beziers]))


def _leaving(whole: Curve, fold_y: float, name: str) -> Place:
    """Where an arc can leave the parallel that meets the fold square at `fold_y`: there its tangents are equally long.

    The first such place, looked for in steps along each piece.
    """
    for number, piece in enumerate(whole.beziers.tolist()):
        tangents = _Tangents.of(piece, fold_y)
        for part in range(_STEP, _PARTS + 1, _STEP):
            if tangents.longer_in(part) >= 0:
                return number, tangents.even_at(part - _STEP, part) / _PARTS
    raise PatternError(f"{name}: the neck is too short for its facing to turn square to the fold")


_Powers = tuple[float, float, float, float]


class _Tangents(NamedTuple):
    """Those of one piece of a parallel, as each part of it is reached, up to their knees level with `fold_y`.

    What the parameter's third, second, first and zeroth powers are multiplied by, `across` and `down`, in inches.
    """

    across: _Powers
    down: _Powers
    fold_y: float

    @classmethod
    def of(cls, piece: list[list[float]], fold_y: float) -> "_Tangents":
        """Of a cubic of four points."""
        across, down = (
            (end - 3 * near + 3 * far - start, 3 * (near - 2 * far + start), 3 * (far - start), start)
            for start, far, near, end in zip(*piece, strict=True)
        )
        return cls(across=across, down=down, fold_y=fold_y)

    def longer_in(self, part: int) -> float:
        """Inches by which the tangent is longer than that from its knee to the fold; much less where it has no knee."""
        along = part / _PARTS
        cubed, squared, plain, start = self.down
        below = ((cubed * along + squared) * along + plain) * along + start - self.fold_y
        slope_y = (3 * cubed * along + 2 * squared) * along + plain
        if below >= 0 or slope_y >= 0:
            return -math.inf
        cubed, squared, plain, start = self.across
        x = ((cubed * along + squared) * along + plain) * along + start
        slope_x = (3 * cubed * along + 2 * squared) * along + plain
        return below / slope_y * (math.hypot(slope_x, slope_y) + slope_x) - x

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
