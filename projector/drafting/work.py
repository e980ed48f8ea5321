"""What is at hand on the drafting table: the pattern, its pieces as they lie, and the number that is chosen."""

from collections.abc import Callable
from dataclasses import dataclass, replace
from functools import cached_property
from typing import Any, Final

import numpy as np
import shapely

from calibration.frames import Array
from patterns.changes import Change, keys_of
from patterns.changes.change_list import with_change
from patterns.cutting.drafted import DraftedPattern, DraftedPiece
from patterns.cutting.labels import LETTER_PART, Label, labels_of
from patterns.cutting.placement import Placement
from patterns.errors import PatternError
from patterns.measures import Length
from patterns.paper.joined import Joined, views_from
from patterns.pattern import Pattern
from patterns.piece import Piece
from patterns.tracing.laid_piece import LaidPiece
from projector.cloth.ground import Ground
from projector.cloth.laid_pieces import LaidPieces, in_the_middle, outline_in

BOX: Final = np.array([(-1, -1), (1, -1), (1, 1), (-1, 1)])


@dataclass(frozen=True, slots=True, kw_only=True)
class Stop:
    """Where the choice may stop in the list: a length of a change, or the change where it has none."""

    number: int
    field: str = ""


@dataclass(frozen=True, kw_only=True, eq=False)
class DraftWork:
    """A pattern in one of its versions, drafted. `laid` shows its pieces; `chosen` counts its stops.

    `worded` is the piece in whose room the words of the shown one were laid; `placing` says that only a piece was
    moved to come here; `before` is the work as it was until its chosen number began to change, None unless it has.
    """

    pattern: Pattern
    version: str | None
    drafted: DraftedPattern
    laid: LaidPieces
    worded: DraftedPiece
    chosen: int = 0
    placing: bool = False
    before: "DraftWork | None" = None

    @classmethod
    def begun(
        cls, pattern: Pattern, version: str | None, ground: Callable[[DraftedPattern], Ground]
    ) -> "DraftWork":
        """With every piece in the middle of the light; PatternError where the pattern cannot be drafted."""
        drafted = pattern.drafted(version)
        laid = LaidPieces.begun(ground(drafted))
        return cls(pattern=pattern, version=version, drafted=drafted, laid=laid, worded=laid.piece)

    @property
    def piece(self) -> DraftedPiece:
        """The piece that is lit."""
        return self.laid.piece

    @cached_property
    def stops(self) -> tuple[Stop, ...]:
        """Every place where the choice may stop, in the list's order."""
        return tuple(stop for i, change in enumerate(self.pattern.changes) for stop in _stops(i, change))

    @property
    def stop(self) -> Stop:
        """Where it stops now; PatternError where there is no change."""
        if not self.stops:
            raise PatternError("there is no change yet: a adds one")
        return self.stops[self.chosen]

    @property
    def change(self) -> Change:
        """The chosen change; PatternError where there is none."""
        return self.pattern.changes[self.stop.number]

    @property
    def length(self) -> Length:
        """The chosen number; PatternError where there is none."""
        if not self.stop.field:
            raise PatternError("that change has no number: e writes it anew")
        found = getattr(self.change, self.stop.field)
        assert isinstance(found, Length)
        return found

    @cached_property
    def traced(self) -> Piece | None:
        """The shown piece as it was traced; None where a change has made it."""
        return next((one for one in self.pattern.pieces if one.name == self.piece.name), None)

    @cached_property
    def points(self) -> LaidPiece:
        """The traced points where the shown piece lies; PatternError where a change has made it."""
        if self.traced is None:
            raise PatternError(f"{self.piece.name} is made by a change; pull its garment piece instead")
        return LaidPiece(piece=self.traced, placement=self.laid.placement)

    @cached_property
    def joined(self) -> tuple[Joined, ...]:
        """What is sewn to the shown piece, at both ends of each seam."""
        return views_from(self.pattern.draft(self.version), self.piece.name)

    def joined_at(self, number: int) -> Joined | None:
        """The one with that number, counted from 1; None where there is none."""
        return self.joined[number - 1] if number and number <= len(self.joined) else None

    def stepped(self, by: int) -> "DraftWork":
        """The choice so many stops on, round the list, and a piece lit that the chosen change works on.

        The words are laid anew in the room that they have by now.
        """
        if not self.stops:
            return self
        chosen = (self.chosen + by) % len(self.stops)
        return replace(self, chosen=chosen, before=None, worded=self.piece).showing_change()

    def showing_change(self) -> "DraftWork":
        """With a piece lit that the chosen change makes, or else works on; the same where one is already."""
        edges = {name: tuple(piece.edges) for name, piece in self.drafted.pieces.items()}
        made = [name for name in self.change.makes(edges) if name in edges]
        meant = made or [ref.piece for _, ref in self.change.needs if ref.piece in edges]
        if not meant or self.piece.name in meant:
            return self
        return self.showing(list(edges).index(meant[0]))

    def with_pattern(self, pattern: Pattern, number: int | None = None) -> "DraftWork":
        """With another pattern, drafted; the choice on the change with that number where one is given.

        Raises PatternError where it cannot be drafted.
        """
        return self._drafted(pattern, self.version, number)

    def in_next_version(self) -> "DraftWork":
        """In the version after this one, all changes following the last; PatternError where it cannot be drafted."""
        names = (None, *(version.name for version in self.pattern.versions))
        if len(names) == 1:
            raise PatternError(
                "the pattern has no versions; its file names them, each without some of the changes"
            )
        following = names[(names.index(self.version) + 1) % len(names)]
        return self._drafted(self.pattern, following, None)

    def _drafted(self, pattern: Pattern, version: str | None, number: int | None) -> "DraftWork":
        drafted = pattern.drafted(version)
        laid = _laid(self.laid, tuple(drafted.pieces.values()))
        worded = self.worded if _is_alike(laid.piece, self.worded) else laid.piece
        new = replace(
            self,
            pattern=pattern,
            version=version,
            drafted=drafted,
            laid=laid,
            worded=worded,
            placing=False,
            before=None,
        )
        if number is None and pattern.changes is self.pattern.changes:
            return new
        stops = [i for i, stop in enumerate(new.stops) if stop.number == number]
        last = max(len(new.stops) - 1, 0)
        return replace(new, chosen=stops[0] if stops else min(self.chosen, last))

    def settled(self) -> "DraftWork":
        """With the words laid anew where they no longer fit: till then they would run about with the piece."""
        fits = _has_room(self.piece, self.worded, self.laid.placement)
        return self if fits else replace(self, worded=self.piece)

    def with_length(self, length: Length) -> "DraftWork":
        """With another number in the place of the chosen one; PatternError where it cannot be."""
        number: dict[str, Any] = {self.stop.field: length}
        change = replace(self.change, **number)
        new = self.with_pattern(with_change(self.pattern, self.stop.number, change))
        return replace(new, before=self.before or self)

    def with_traced(self, piece: Piece) -> "DraftWork":
        """With another outline of the piece of that name; PatternError where it cannot be drafted."""
        pieces = tuple(piece if one.name == piece.name else one for one in self.pattern.pieces)
        return self.with_pattern(replace(self.pattern, pieces=pieces))

    def showing(self, number: int) -> "DraftWork":
        """With the piece of that number lit."""
        return self.with_laid(replace(self.laid, shown=number))

    def with_laid(self, laid: LaidPieces) -> "DraftWork":
        """With pieces shown or lying otherwise."""
        worded = self.worded if laid.piece is self.laid.piece else laid.piece
        return replace(self, laid=laid, worded=worded, before=None)


def _stops(number: int, change: Change) -> tuple[Stop, ...]:
    fields = [
        key.field
        for key in keys_of(type(change))
        if key.holds is Length and key.field and getattr(change, key.field) is not None
    ]
    return tuple(Stop(number=number, field=field) for field in fields) or (Stop(number=number),)


def _laid(old: LaidPieces, pieces: tuple[DraftedPiece, ...]) -> LaidPieces:
    """The pieces where those of their names lay, new ones in the middle; the shown one stays by its name."""
    lay = dict(zip((piece.name for piece in old.ground.pieces), old.placements, strict=True))
    names = [piece.name for piece in pieces]
    placements = tuple(
        _fitting(piece, lay[piece.name])
        if piece.name in lay
        else in_the_middle(piece, Placement(), old.ground.lit, old.person)
        for piece in pieces
    )
    shown = names.index(old.piece.name) if old.piece.name in names else min(old.shown, len(names) - 1)
    return replace(
        old, ground=replace(old.ground, pieces=pieces), placements=placements, shown=shown, notice=""
    )


def _fitting(piece: DraftedPiece, placement: Placement) -> Placement:
    return replace(placement, opened=False) if placement.opened and piece.fold is None else placement


def _is_alike(piece: DraftedPiece, worded: DraftedPiece) -> bool:
    return piece.name == worded.name and (piece.fold is None) is (worded.fold is None)


def _has_room(piece: DraftedPiece, worded: DraftedPiece, placement: Placement) -> bool:
    """Whether the words stay on the piece where they were laid on another."""
    lies = Placement(opened=placement.opened, turn_deg=placement.turn_deg)
    boxes = shapely.polygons([_corners(label) for label in labels_of(worded, lies)])
    return bool(shapely.contains(shapely.polygons(outline_in(piece, lies)), boxes).all())


def _corners(label: Label) -> Array:
    """(4, 2) inches: those of a box round the words."""
    along, up = label.along * LETTER_PART * len(label.text), label.along[::-1] * (-1.0, 1.0)
    return label.at + BOX @ np.stack([along, up]) * label.height_in / 2
