"""The ways in which each piece may be laid on one folding of the cloth.

A `Job` is what one or two layings give: one piece, or a pair. It is done in one of its `ways`, a laying or two;
of each laying there are `options`, which leave open only where across and along the cloth it lies.
"""

from collections.abc import Iterator
from dataclasses import dataclass, replace
from functools import lru_cache
from itertools import product
from typing import Final

import numpy as np

from patterns.curves import Array
from patterns.cutting.drafted import DraftedPiece
from patterns.cutting.placement import Placement
from patterns.laying.cloth import Cloth
from patterns.laying.folding import Direction, Fold, Folding, FoldLine, Zone
from patterns.laying.hanging import QUARTER_DEG, gives_two, hangs_by_its_fold, turn_of
from patterns.laying.lay import PieceOnCloth, Terms
from patterns.laying.matching import match_point_of
from patterns.laying.profile import Profile
from patterns.planning.clashes import Outlines

_HAIR_IN: Final = 1e-9


@dataclass(frozen=True, slots=True, kw_only=True)
class Hang:
    """How a piece lies by its grain: turned over, its top to the near end, its grain across the cloth."""

    mirrored: bool = False
    upside_down: bool = False
    crosswise: bool = False


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Part:
    """An outline taken from the flat cloth: with the piece at x it lies at `at_in` + `sign` x."""

    profile: Profile
    at_in: float = 0.0
    sign: int = 1


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Option:
    """A laying of a piece, all but its place: x from `low_in` to `high_in`, y from its `bottom_in` up.

    `match_in` (2,) is where its match point lies from its origin.
    """

    laid: PieceOnCloth
    parts: tuple[Part, ...]
    low_in: float
    high_in: float
    bottom_in: float
    top_in: float
    match_in: Array

    @property
    def upside_down(self) -> bool:
        """Whether its top is towards the near end."""
        return abs(self.laid.placement.turn_deg) > QUARTER_DEG

    def at(self, x_in: float, y_in: float) -> PieceOnCloth:
        """The laying with its piece's origin there."""
        return replace(self.laid, placement=replace(self.laid.placement, x_in=x_in, y_in=y_in))


Laying = tuple[Option, ...]
Way = tuple[Laying, ...]


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Job:
    """One piece or a pair that is to be cut."""

    piece: DraftedPiece
    ways: tuple[Way, ...]

    @property
    def area_in2(self) -> float:
        """Square inches of one of it as drawn, by which the larger is known."""
        return self.piece.area_in2


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Ways:
    """The ways that one folding has for pieces."""

    folding: Folding
    terms: Terms
    outlines: Outlines

    @property
    def cloth(self) -> Cloth:
        """The cloth on it."""
        return self.folding.cloth

    def jobs(self, piece: DraftedPiece) -> tuple[Job, ...]:
        """What is to be cut of the piece; jobs without ways where this folding has none for it."""
        cut = piece.cut
        pairs, rest = divmod(cut.count, 2)
        if not gives_two(piece):
            pairs, rest = 0, cut.count
        one = Job(piece=piece, ways=_ways((self._alone(piece),)))
        return (self._pair(piece),) * pairs + (one,) * rest

    def _pair(self, piece: DraftedPiece) -> Job:
        through = tuple(self._through_two(piece))
        other = tuple(self._single(piece, mirrored=True)) if piece.cut.mirrored else self._alone(piece)
        return Job(piece=piece, ways=_ways((through,), (self._alone(piece), other)))

    def _alone(self, piece: DraftedPiece) -> Laying:
        on_fold = self._on_fold(piece) if hangs_by_its_fold(piece) else ()
        return (*on_fold, *self._single(piece))

    def _on_fold(self, piece: DraftedPiece) -> Iterator[Option]:
        """The half with its fold edge on a fold of the cloth."""
        for zone, line in self._double_zones(Direction.LENGTHWISE):
            for upside_down in self._ways_up():
                hang = Hang(mirrored=(line.below < 0) != upside_down, upside_down=upside_down)
                laid = _lying(piece, hang, opened=False)
                laid = replace(laid, placement=replace(laid.placement, x_in=line.at_in), fold_line=line)
                if np.ptp(laid.outline_in[:, 0]) <= zone.width_in + _HAIR_IN:
                    yield self._option(laid, (self._part(piece, hang),), line.at_in, line.at_in)

    def _through_two(self, piece: DraftedPiece) -> Iterator[Option]:
        """All of the piece through both layers."""
        hands = (False, True) if piece.cut.mirrored else (False,)
        for zone, line in self._double_zones(*Direction):
            for upside_down, mirrored in product(self._ways_up(), hands):
                hang = Hang(mirrored=mirrored, upside_down=upside_down)
                laid = replace(_lying(piece, hang), fold_line=line)
                parts = [self._part(piece, hang)]
                low, high = _room(laid.outline_in, zone)
                if line.direction is Direction.LENGTHWISE:
                    over = self._part(piece, replace(hang, mirrored=not mirrored))
                    parts.append(replace(over, at_in=2 * line.at_in, sign=-1))
                    inset = self.terms.gap_in / 2
                    low, high = (low + inset, high) if line.below > 0 else (low, high - inset)
                yield from self._fitting(laid, tuple(parts), low, high)

    def _single(self, piece: DraftedPiece, *, mirrored: bool = False) -> Iterator[Option]:
        """All of the piece through one layer; turned a quarter where it is too wide and that is agreed."""
        for zone in self._single_zones():
            found = tuple(self._single_in(zone, piece, Hang(mirrored=mirrored)))
            if not found and self.terms.crosswise_grain:
                found = tuple(self._single_in(zone, piece, Hang(mirrored=mirrored, crosswise=True)))
            yield from found

    def _single_in(self, zone: Zone, piece: DraftedPiece, upright: Hang) -> Iterator[Option]:
        for upside_down in self._ways_up():
            hang = replace(upright, upside_down=upside_down)
            laid = replace(_lying(piece, hang), stage=self._stage)
            yield from self._fitting(laid, (self._part(piece, hang),), *_room(laid.outline_in, zone))

    def _part(self, piece: DraftedPiece, hang: Hang) -> Part:
        """All of the piece: the mirror image of how it hangs upright, so that it is reckoned once."""
        upright = _upright(piece, hang.crosswise)
        is_its_own = hangs_by_its_fold(piece) and not hang.crosswise
        across = hang.mirrored != hang.upside_down and not is_its_own
        return Part(profile=self.outlines.profile(upright, across=across, along=hang.upside_down))

    def _fitting(
        self, laid: PieceOnCloth, parts: tuple[Part, ...], low_in: float, high_in: float
    ) -> Iterator[Option]:
        if low_in <= high_in + _HAIR_IN:
            yield self._option(laid, parts, low_in, max(low_in, high_in))

    def _option(self, laid: PieceOnCloth, parts: tuple[Part, ...], low_in: float, high_in: float) -> Option:
        outline = laid.outline_in[:, 1]
        origin = laid.placement.placed(np.zeros((1, 2)))[0]
        match = laid.placement.placed(np.array([match_point_of(laid.piece, self.terms)]))[0] - origin
        return Option(
            laid=laid,
            parts=parts,
            low_in=low_in,
            high_in=high_in,
            bottom_in=float(outline.min()),
            top_in=float(outline.max()),
            match_in=match,
        )

    def _double_zones(self, *directions: Direction) -> Iterator[tuple[Zone, FoldLine]]:
        for zone in self.folding.zones:
            if zone.fold_line is not None and zone.fold_line.direction in directions:
                yield zone, zone.fold_line

    def _single_zones(self) -> tuple[Zone, ...]:
        if self.folding.fold is Fold.REFOLDED:
            low, high = self.cloth.usable_in
            return (Zone(left_in=low, right_in=high),)
        return tuple(zone for zone in self.folding.zones if zone.fold_line is None)

    @property
    def _stage(self) -> int:
        return 2 if self.folding.fold is Fold.REFOLDED else 1

    def _ways_up(self) -> tuple[bool, ...]:
        return (False,) if self.cloth.is_one_way else (False, True)


def _lying(piece: DraftedPiece, hang: Hang, *, opened: bool = True) -> PieceOnCloth:
    """The piece about the origin, opened where it is drawn as half."""
    turn = turn_of(piece, mirrored=hang.mirrored, upside_down=hang.upside_down, crosswise=hang.crosswise)
    lies = Placement(turn_deg=turn, mirrored=hang.mirrored, opened=opened and piece.fold is not None)
    return PieceOnCloth(piece=piece, placement=lies)


@lru_cache(maxsize=512)
def _upright(piece: DraftedPiece, crosswise: bool) -> Array:
    """(n, 2) all of the piece about its origin, neither turned over nor upside down."""
    return _lying(piece, Hang(crosswise=crosswise)).outline_in


def _room(outline: Array, zone: Zone) -> tuple[float, float]:
    """From where to where the outline's origin may lie across the zone."""
    return zone.left_in - float(outline[:, 0].min()), zone.right_in - float(outline[:, 0].max())


def _ways(*ways: Way) -> tuple[Way, ...]:
    """Those ways of whose layings each has an option."""
    return tuple(way for way in ways if all(way))
