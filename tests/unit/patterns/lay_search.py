"""The shortest lay on cloth folded selvedge to selvedge, by trying every place on a lattice of a quarter inch.

Written from the definition, with shapely: which shifts of one outline against another keep the gap is asked once,
then all places of all pieces are gone through.
"""

from dataclasses import dataclass
from itertools import product

import numpy as np
import numpy.typing as npt
import shapely
from shapely import affinity

from patterns.cutting.drafted import DraftedPattern, DraftedPiece

LATTICE = 4  # places an inch
HAIR_IN = 1e-9
Places = npt.NDArray[np.int64]


@dataclass(frozen=True, kw_only=True, eq=False)
class _Way:
    """An outline turned one way, in the frame in which the fold is x = 0 and the cloth lies right of it."""

    outline: shapely.Polygon
    places: Places  # (n, 2) lattice steps across and along, the least far end first

    @property
    def far_ends_in(self) -> npt.NDArray[np.float64]:
        """(n,) where it ends at each of its places."""
        return np.asarray(self.places[:, 1] / LATTICE + self.outline.bounds[3])


def shortest_in(pattern: DraftedPattern, room_in: float, gap_in: float, longest_in: float) -> float:
    """Inches of the shortest lay on the lattice, `room_in` from the fold to the selvedge, of two pieces or three."""
    ways = [_ways(piece, room_in, gap_in, longest_in) for piece in pattern.pieces.values()]
    best = longest_in
    for chosen in product(*ways):
        if len(chosen) == 2:
            best = min(best, _shortest_of_two(*chosen, gap_in))
        else:
            best = min(best, _shortest_of_three(chosen, gap_in, best))
    return best


def _ways(piece: DraftedPiece, room_in: float, gap_in: float, longest_in: float) -> list[_Way]:
    drawn = shapely.Polygon(piece.cut_line)
    flips = [(1, 1), (1, -1)] if piece.cut.on_fold else list(product((1, -1), (1, -1)))
    found = []
    for across, along in flips:
        turned = affinity.scale(drawn, across, along, origin=(0, 0))
        left, bottom, right, top = turned.bounds
        outline = affinity.translate(turned, 0 if piece.cut.on_fold else -left, -bottom)
        most = room_in - (right - left)
        columns = (
            [0] if piece.cut.on_fold else np.arange(np.ceil(gap_in / 2 * LATTICE), most * LATTICE + HAIR_IN)
        )
        rows = np.arange(0, (longest_in - (top - bottom)) * LATTICE + HAIR_IN)
        places = np.array([(x, y) for y in rows for x in columns], dtype=np.int64).reshape(-1, 2)
        found.append(_Way(outline=outline, places=places))
    return found


def _free(one: _Way, other: _Way, gap_in: float) -> npt.NDArray[np.bool_]:
    """(places of one, places of the other) whether they keep the gap."""
    shifts = other.places[None] - one.places[:, None]
    low = shifts.reshape(-1, 2).min(axis=0)
    count = shifts.reshape(-1, 2).max(axis=0) - low + 1
    across, along = np.meshgrid(*(low[i] + np.arange(count[i]) for i in (0, 1)), indexing="ij")
    steps = np.stack([across.ravel(), along.ravel()], axis=1) / LATTICE
    ring = np.asarray(other.outline.exterior.coords)
    moved = shapely.polygons(ring[None] + steps[:, None])
    shapely.prepare(one.outline)
    apart = ~shapely.dwithin(one.outline, moved, gap_in - HAIR_IN)
    return np.asarray(apart.reshape(tuple(count))[tuple((shifts - low).transpose(2, 0, 1))])


def _shortest_of_two(one: _Way, other: _Way, gap_in: float) -> float:
    ends = np.maximum(one.far_ends_in[:, None], other.far_ends_in[None])
    return float(np.where(_free(one, other, gap_in), ends, np.inf).min())


def _shortest_of_three(ways: tuple[_Way, ...], gap_in: float, best: float) -> float:
    first, second, third = ways
    both, beside, other = (
        _free(first, second, gap_in),
        _free(first, third, gap_in),
        _free(second, third, gap_in),
    )
    for place, end in enumerate(first.far_ends_in):
        if end >= best:
            break
        seconds = np.flatnonzero(both[place] & (second.far_ends_in < best))
        free = other[seconds] & beside[place]
        thirds = third.far_ends_in[free.argmax(axis=1)]
        ends = np.maximum(np.maximum(thirds, second.far_ends_in[seconds]), end)
        best = min(best, float(np.where(free.any(axis=1), ends, np.inf).min(initial=np.inf)))
    return best
