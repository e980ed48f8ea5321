"""Which corner of a folded garment is which, judged by the shape of a garment with cut-on sleeves.

Walked from the fold's top: neck, shoulder point, overarm, sleeve hem, side (hollow: the underarm), hem, fold.
Each reading of a contour, with one side taken for the fold and one of its ends for the top, is scored by what
is true of garments: the body is longer and wider than the sleeve, and the hem runs square to the fold.
"""

import math
from collections.abc import Iterator
from dataclasses import dataclass, replace
from itertools import combinations, pairwise
from typing import Final

import numpy as np

from patterns.curves import Array
from patterns.tracing.contour import Contour
from patterns.tracing.corner_finding import FoundCorner
from patterns.tracing.fold_line import FoldLine, meets_fold

NAMES: Final = ("neck", "overarm", "sleeve hem", "side", "hem")
LANDMARKS: Final = 4  # corners that jut out, without the fold's ends: shoulder, both sleeve ends, side at hem
DOUBT: Final = 0.6  # a lead in score this small decides nothing
_HOLLOW: Final = 8.0  # a side draws in by about an eighth of its length
_MOST: Final = 1.5  # that one thing speaks against a reading; for it, 1 at most
_ARMHOLE: Final = 20.0  # an armhole draws in by about a fifth
_STRANGE: Final = 0.5  # what a corner too many costs
_AT_FOLD_IN: Final = 0.25  # a corner this near to the fold's end is the fold's end
_MOST_CORNERS: Final = 9  # that jut out: more are noise, and too many to try


def fold_name(piece: str) -> str:
    """What the fold of a piece is called."""
    return f"centre {piece}" if piece in ("front", "back") else "centre"


@dataclass(frozen=True, kw_only=True, eq=False)
class Stop:
    """A corner as a reading passes it: `place` (2,) in piece inches but for y's nought, `along_in` walked."""

    along_in: float
    place: Array
    juts_out: bool


@dataclass(frozen=True, kw_only=True, eq=False)
class Reading:
    """One way to read the contour: `stops` from the fold's top round to its bottom, both ends included.

    `landmarks` are the six of the stops that edges begin and end at. `ahead` is 1 where the stops go the
    contour's way and -1 where they go against it.
    """

    fold: FoldLine
    ahead: float
    stops: tuple[Stop, ...]
    landmarks: tuple[int, ...]
    score: float

    def turned(self) -> "Reading":
        """The same with the fold's other end as its top, every corner the end of an edge."""
        flipped = [replace(stop, place=stop.place * (1.0, -1.0)) for stop in reversed(self.stops)]
        every = tuple(range(len(flipped)))
        return replace(self, ahead=-self.ahead, stops=tuple(flipped), landmarks=every)

    @property
    def strange(self) -> tuple[Stop, ...]:
        """Corners that jut out within an edge, where a garment has none."""
        return tuple(s for i, s in enumerate(self.stops) if i not in self.landmarks and s.juts_out)


def readings(contour: Contour, fold: FoldLine, corners: tuple[FoundCorner, ...]) -> tuple[Reading, ...]:
    """Every way to read the contour with this fold, the best first; none where corners are missing."""
    found = [
        reading
        for ahead in (1.0, -1.0)
        for reading in _from_top(contour, _stops(contour, fold, corners, ahead), fold, ahead)
    ]
    return tuple(sorted(found, key=lambda reading: -reading.score))


def plain_reading(contour: Contour, fold: FoldLine, corners: tuple[FoundCorner, ...]) -> Reading:
    """The contour with an edge from each corner to the next, its top where the corner nearest the fold is."""
    stops = _stops(contour, fold, corners, 1.0)
    reading = Reading(fold=fold, ahead=1.0, stops=stops, landmarks=tuple(range(len(stops))), score=0.0)
    return reading.turned() if stops[1].place[0] > stops[-2].place[0] else reading


def _stops(
    contour: Contour, fold: FoldLine, corners: tuple[FoundCorner, ...], ahead: float
) -> tuple[Stop, ...]:
    """The fold's end, the corners in order, the fold's start, as met going on (1) or back (-1) from the fold."""
    frame = np.stack([fold.inward, -ahead * fold.onward], axis=1)
    stops = []
    for corner in corners:
        past = (corner.along_in - fold.end_in) % contour.length_in
        if _AT_FOLD_IN < past < contour.length_in - fold.length_in - _AT_FOLD_IN:
            along = fold.end_in + past
            stops.append(
                Stop(along_in=along, place=(corner.place - fold.origin) @ frame, juts_out=corner.juts_out)
            )
    stops.sort(key=lambda stop: stop.along_in)
    ends = [
        Stop(along_in=along, place=np.array([0.0, -ahead * meets_fold(contour, fold, side)]), juts_out=True)
        for side, along in ((1.0, fold.end_in), (-1.0, fold.start_in + contour.length_in))
    ]
    walked = (ends[0], *stops, ends[1])
    return walked if ahead > 0 else walked[::-1]


def _from_top(contour: Contour, stops: tuple[Stop, ...], fold: FoldLine, ahead: float) -> Iterator[Reading]:
    jutting = [i for i, stop in enumerate(stops) if stop.juts_out][1:-1]
    if not LANDMARKS <= len(jutting) <= _MOST_CORNERS:
        return
    for chosen in combinations(jutting, LANDMARKS):
        landmarks = (0, *chosen, len(stops) - 1)
        score = _score(contour, [stops[i] for i in landmarks], ahead) - _STRANGE * (len(jutting) - LANDMARKS)
        yield Reading(fold=fold, ahead=ahead, stops=stops, landmarks=landmarks, score=score)


def _score(contour: Contour, stops: list[Stop], ahead: float) -> float:
    """How like a garment's the six landmarks are; each term is about 1 where it speaks clearly."""
    top, shoulder, sleeve_top, sleeve_end, side_end, bottom = (stop.place for stop in stops)
    hollows = [_hollow(contour, one, two, ahead) for one, two in pairwise(stops)]
    over, sleeve, side = (hollows[NAMES.index(name)] for name in ("overarm", "sleeve hem", "side"))
    over_in, sleeve_in = _apart(shoulder, sleeve_top), _apart(sleeve_top, sleeve_end)
    hem_in = _apart(side_end, bottom)
    highest = min(float(place[1]) for place in (sleeve_top, sleeve_end, side_end))
    terms = (
        _clip(_log_ratio(side_end[0], shoulder[0])),  # the hem is wider than the neck
        _clip(_log_ratio(hem_in, sleeve_in)),  # and than the sleeve
        _clip(_log_ratio(_apart(top, bottom), over_in)),  # the fold is longer than the overarm
        _clip(_log_ratio(_apart(sleeve_end, side_end), _apart(top, shoulder))),  # the side than the neck
        min(_clip(2 * _log_ratio(over_in, sleeve_in)), 0.0),  # shoulder and sleeve than the sleeve is wide
        -min(
            2 * abs(side_end[1] - bottom[1]) / max(abs(side_end[0]), 1e-6), _MOST
        ),  # hems run square to the fold
        _clip((highest - shoulder[1]) / 2) if highest < shoulder[1] else 0.0,  # the shoulder point lies high
        _clip((top[1] - shoulder[1]) / 1) if top[1] < shoulder[1] else 0.0,  # and the neck below it
        _clip(_HOLLOW * (side - abs(over))),  # the underarm is hollow, the overarm nearly straight
        -min(_ARMHOLE * abs(sleeve), 2 * _MOST),  # sleeves end straight, and armholes hollow
    )
    return float(sum(terms))


def _hollow(contour: Contour, one: Stop, two: Stop, ahead: float) -> float:
    """How far the cloth's edge draws in from the line between two stops, in parts of that line."""
    path = contour.at(np.linspace(one.along_in, two.along_in, 33))
    chord = path[-1] - path[0]
    length = math.hypot(chord[0], chord[1])
    off = (chord[0] * (path[:, 1] - path[0, 1]) - chord[1] * (path[:, 0] - path[0, 0])) / max(length, 1e-9)
    return float(off.mean()) * 1.5 / max(length, 1e-9) * ahead


def _apart(one: Array, other: Array) -> float:
    return float(np.hypot(*(one - other)))


def _log_ratio(one: float, other: float) -> float:
    return math.log(max(one, 1e-3) / max(other, 1e-3))


def _clip(value: float) -> float:
    return max(-_MOST, min(1.0, float(value)))
