"""A whole pattern as its author wrote it: pieces, joins, changes and versions."""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from functools import lru_cache
from typing import TYPE_CHECKING, Final

from patterns.alterations.necks import NECK
from patterns.changes import Change, Draft, EdgeRef, Join
from patterns.changes.steps import after_changes
from patterns.cutting.finish import Finish, gauge
from patterns.errors import Complaint, PatternError
from patterns.measures import Unit
from patterns.parts import Allowance, Kind, check_name
from patterns.piece import Piece
from patterns.saying import lengths_said_in
from patterns.shape import REMEMBERED, Shape

if TYPE_CHECKING:
    from patterns.cutting.drafted import DraftedPattern

MOST_PIECES: Final = 100


@dataclass(frozen=True, slots=True, kw_only=True)
class KindAllowance:
    """The allowance of every edge of one kind that has none of its own."""

    kind: Kind
    allowance: Allowance

    def __post_init__(self) -> None:
        if self.kind is Kind.FOLD and any(self.allowance.inches):
            raise _complaint(
                f"an allowance of {self.allowance} for folds", "none: cloth is not cut at its fold"
            )
        if self.kind is not Kind.HEM and len(self.allowance.parts) == 2:
            raise _complaint(
                f'"{self.allowance}" for a {self.kind.value}', "one length; only a hem is folded twice"
            )


@dataclass(frozen=True, slots=True, kw_only=True)
class Version:
    """A named version of the pattern: all changes but those whose numbers are in `without`."""

    name: str
    without: tuple[int, ...] = ()

    def __post_init__(self) -> None:
        check_name(self.name)


@dataclass(frozen=True, slots=True, kw_only=True)
class Pattern:
    """What a pattern file says. Raises PatternError with a complaint for each rule that is broken."""

    name: str
    unit: Unit = Unit.IN
    finish: Finish | None = None
    allowances: tuple[KindAllowance, ...] = ()
    pieces: tuple[Piece, ...]
    joins: tuple[Join, ...] = ()
    changes: tuple[Change, ...] = ()
    versions: tuple[Version, ...] = ()

    def __post_init__(self) -> None:
        check_name(self.name)
        complaints = self._piece_complaints()
        edges = tuple((piece.name, tuple([edge.name for edge in piece.edges])) for piece in self.pieces)
        complaints += _references_looked_up(edges, self.changes, self.joins, self.versions)
        if complaints:
            raise PatternError.listing(complaints)

    def version(self, name: str | None) -> Version | None:
        """The version so named, None for None; PatternError if there is none."""
        for version in self.versions:
            if version.name == name:
                return version
        if name is None:
            return None
        names = ", ".join(version.name for version in self.versions)
        has = f"its versions are {names}" if names else "it has no versions"
        raise PatternError(f'{self.name} has no version "{name}"; {has}')

    def changes_in(self, version: str | None = None) -> tuple[Change, ...]:
        """The changes of that version that are not switched off; PatternError if there is no such version."""
        chosen = self.version(version)
        without = chosen.without if chosen else ()
        return tuple(
            change for number, change in enumerate(self.changes) if number not in without and not change.off
        )

    def draft(self, version: str | None = None) -> Draft:
        """The pieces on their seam lines, with the changes of `version` applied in order.

        Raises PatternError if there is no such version or a change cannot be made.
        """
        given = _given(self.allowances, self.finish, self.unit)
        shapes = tuple(_shape(piece, given) for piece in self.pieces)
        changes = self.changes_in(version)
        late = sorted((change for change in changes if change.turn), key=lambda change: change.turn)
        with lengths_said_in(self.unit):
            draft = Draft(shapes=shapes, joins=self.joins)
            draft = after_changes(draft, (change for change in changes if not change.turn))
            for change in late:
                draft = change.apply(draft)
        return self._to_cut(draft, given)

    def drafted(self, version: str | None = None) -> "DraftedPattern":
        """The pieces with seam line, cut line, notches and grain, in inches.

        Raises PatternError if there is no such version, a change cannot be made or an allowance cannot fit.
        """
        from patterns.cutting.drafted import DraftedPattern

        return DraftedPattern.of(self.name, self.draft(version), self.unit)

    def _to_cut(self, draft: Draft, given: "_Given") -> Draft:
        """The draft without the pieces that are there to be compared alone.

        Raw edges of pieces that changes have made get their allowance, as on all others.
        """
        aside = {name for change in self.changes for name in change.aside}
        strips = (strip for strip in draft.unmeasured if aside.isdisjoint(ref.piece for ref in strip.edges))
        authored, raw = {piece.name for piece in self.pieces}, given.by_kind.get(Kind.EDGE)
        shapes = (
            shape if raw is None or shape.name in authored else _with_raw_edges(shape, raw.inches)
            for shape in draft.shapes
            if shape.name not in aside
        )
        return Draft(shapes=tuple(shapes), joins=draft.joins, unmeasured=tuple(strips), notes=draft.notes)

    def _piece_complaints(self) -> list[Complaint]:
        found: list[Complaint] = []
        if not 1 <= len(self.pieces) <= MOST_PIECES:
            found.append(
                Complaint(
                    found=f"{len(self.pieces)} pieces", wanted=f"1 to {MOST_PIECES} pieces", at=("pieces",)
                )
            )
        names = [piece.name for piece in self.pieces]
        found += [
            Complaint(found=f'a second piece named "{name}"', wanted="a name of its own", at=("pieces", name))
            for i, name in enumerate(names)
            if name in names[:i]
        ]
        return found


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class _Given:
    """What edges get that have no allowance of their own: by their kinds, and what a neck gets in place of that."""

    by_kind: Mapping[Kind, Allowance]
    neck_in: float | None


@lru_cache(maxsize=REMEMBERED)
def _given(allowances: tuple[KindAllowance, ...], finish: Finish | None, unit: Unit) -> _Given:
    """What a pattern gives, or else what its finish needs; the very same each time, as what pieces are known by.

    The neck's, whatever finishes the other seams, is for the facing that covers it.
    """
    by_kind = {one.kind: one.allowance for one in allowances}
    neck_in = None if finish is None or Kind.SEAM in by_kind else gauge(unit).plain.inches
    return _Given(by_kind={**(finish.allowances(unit) if finish else {}), **by_kind}, neck_in=neck_in)


@lru_cache(maxsize=REMEMBERED)
def _shape(piece: Piece, given: _Given) -> Shape:
    """The piece as authored."""
    shape = Shape.of(piece, given.by_kind)
    own = any(edge.name == NECK and edge.allowance is not None for edge in piece.edges)
    if given.neck_in is None or own:
        return shape
    edges = (
        replace(edge, allowance_in=(given.neck_in,)) if edge.name == NECK else edge for edge in shape.edges
    )
    return replace(shape, edges=tuple(edges))


@lru_cache(maxsize=REMEMBERED)
def _with_raw_edges(shape: Shape, allowance_in: tuple[float, ...]) -> Shape:
    if all(edge.kind is not Kind.EDGE or edge.allowance_in == allowance_in for edge in shape.edges):
        return shape
    edges = (
        replace(edge, allowance_in=allowance_in) if edge.kind is Kind.EDGE else edge for edge in shape.edges
    )
    return replace(shape, edges=tuple(edges))


@lru_cache(maxsize=64)  # a pulled point changes no name
def _references_looked_up(
    edges: tuple[tuple[str, tuple[str, ...]], ...],
    changes: tuple[Change, ...],
    joins: tuple[Join, ...],
    versions: tuple[Version, ...],
) -> tuple[Complaint, ...]:
    """As `reference_complaints`, with the edge names beside those of their pieces."""
    return tuple(reference_complaints(dict(edges), changes, joins, versions))


def reference_complaints(
    edges: Mapping[str, tuple[str, ...]],
    changes: Sequence[Change | None],
    joins: Sequence[Join | None],
    versions: Sequence[Version | None],
) -> list[Complaint]:
    """References that lead nowhere, given edge names by piece, an empty tuple where they are not known.

    A change, join or version that could not be read is None and passed over.
    """
    known = dict(edges)
    complaints = list(_change_complaints(known, changes))
    complaints += _join_complaints(known, joins)
    complaints += _version_complaints(versions, len(changes))
    return complaints


def _change_complaints(
    known: dict[str, tuple[str, ...]], changes: Sequence[Change | None]
) -> Iterator[Complaint]:
    """Changes that speak of what is not there at their turn.

    `known` gains the pieces that they make and loses those that they set aside.
    """
    for number, change in enumerate(changes):
        if change is None:
            continue
        for key, ref in change.needs:
            if (wanted := _missing(ref, known)) is not None:
                yield Complaint(found=f'"{ref}"', wanted=wanted, at=("changes", number, key))
        made = change.makes(known)
        for name in made.keys() & known.keys():
            yield Complaint(
                found=f'a change that makes "{name}", which is already there',
                wanted="a name of its own for what it makes",
                at=("changes", number),
            )
        known |= made
        for name in change.aside:
            known.pop(name, None)


def _join_complaints(
    known: Mapping[str, tuple[str, ...]], joins: Sequence[Join | None]
) -> Iterator[Complaint]:
    seen: set[frozenset[EdgeRef]] = set()
    for number, join in enumerate(joins):
        if join is None:
            continue
        for side, ref in enumerate((join.first, join.second)):
            if (wanted := _missing(ref, known)) is not None:
                yield Complaint(found=f'"{ref}"', wanted=wanted, at=("joins", number, side))
        both = frozenset((join.first, join.second))
        if both in seen:
            yield Complaint(
                found=f'"{join.first}" joined to "{join.second}" again',
                wanted="each join once",
                at=("joins", number),
            )
        seen.add(both)


def _version_complaints(versions: Sequence[Version | None], changes: int) -> Iterator[Complaint]:
    seen: set[str] = set()
    for version in versions:
        if version is None:
            continue
        for place, number in enumerate(version.without):
            if not 0 <= number < changes:
                yield Complaint(
                    found=f"change {number} left out",
                    wanted=f"the number of a change, counted from 0; there are {changes}",
                    at=("versions", version.name, "without", place),
                )
        if version.name in seen:
            yield Complaint(
                found=f'two versions named "{version.name}"',
                wanted="a name of its own for each version",
                at=("versions", version.name),
            )
        seen.add(version.name)


def _missing(ref: EdgeRef, edges: Mapping[str, tuple[str, ...]]) -> str | None:
    """What is wanted in place of a reference that leads nowhere; None if it leads to an edge or piece."""
    if ref.piece not in edges:
        return f"a piece of this pattern: {', '.join(edges)}"
    if ref.edge and edges[ref.piece] and ref.edge not in edges[ref.piece]:
        return f"an edge of {ref.piece}: {', '.join(edges[ref.piece])}"
    return None


def _complaint(found: str, wanted: str) -> PatternError:
    return PatternError.listing([Complaint(found=found, wanted=wanted)])
