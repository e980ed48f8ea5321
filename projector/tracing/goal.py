"""The piece that a trace is to become, checked before anything takes time."""

from argparse import Namespace
from collections.abc import Sequence
from dataclasses import dataclass, replace
from pathlib import Path

from patterns.changes import ShoulderForward
from patterns.checks.half_measures import OPPOSITE
from patterns.measures import Length, Unit
from patterns.parts import Kind, check_name
from patterns.pattern import Pattern, Version
from patterns.piece import Piece
from patterns.tracing.edge_names import NAMES
from patterns.tracing.retracing import retraced
from projector.errors import ProjectorError
from projector.tracing.traced_file import pattern_with, pattern_without, piece_of, write_piece


@dataclass(frozen=True, slots=True, kw_only=True)
class Goal:
    """A file and the name of a piece in it. `old` is the piece that is taken anew; `forward` the shoulder's move."""

    file: Path
    pattern: Pattern | None
    old: Piece | None
    forward: Length | None

    @staticmethod
    def of(arguments: Namespace) -> "Goal":
        """As it was typed; raises ProjectorError where the file cannot take it, PatternError for what is no name."""
        out, piece = arguments.out, arguments.piece
        check_name(piece)
        pattern = pattern_with(out, piece) if arguments.again else pattern_without(out, piece)
        old = piece_of(pattern, piece, out) if pattern is not None and arguments.again else None
        return Goal(file=out, pattern=pattern, old=old, forward=shoulder_asked(arguments, pattern))

    @property
    def unit(self) -> Unit:
        """The file's unit, inches for a new one."""
        return self.pattern.unit if self.pattern is not None else Unit.IN

    def names(self, given: Sequence[str] | None) -> Sequence[str] | None:
        """Names for the edges: those given, or else those that the piece has in place of the usual ones."""
        if given is not None or self.old is None:
            return given
        folds = [i for i, edge in enumerate(self.old.edges) if edge.kind is Kind.FOLD]
        after = folds[0] + 1 if folds else 0
        names = tuple(edge.name for edge in (*self.old.edges[after:], *self.old.edges[:after]))
        return None if names[:-1] == tuple(NAMES) else names

    def finished(self, piece: Piece) -> Piece:
        """The piece as it goes into the file."""
        return piece if self.old is None else retraced(self.old, piece)

    def write(self, piece: Piece) -> None:
        """Put it there; raises PatternError, with nothing written, where the pattern could not be cut from."""
        forward = self.forward
        write_piece(
            self.file, piece, lambda now: now if forward is None else with_shoulder_forward(now, forward)
        )


def shoulder_asked(arguments: Namespace, pattern: Pattern | None) -> Length | None:
    """How far the shoulder is brought forward, None where it is not; ProjectorError where it cannot be."""
    if arguments.shoulder_forward is None:
        return None
    piece = arguments.piece
    if piece not in OPPOSITE:
        raise ProjectorError(f"--shoulder-forward is between a front and a back, and this piece is {piece}")
    if pattern is None or OPPOSITE[piece] not in [one.name for one in pattern.pieces]:
        raise ProjectorError(
            f"--shoulder-forward takes from the front what it gives to the back, and {arguments.out} has no "
            f"{OPPOSITE[piece]} yet; trace that first, and say it with the second of the two"
        )
    for change in pattern.changes:
        if isinstance(change, ShoulderForward):
            raise ProjectorError(
                f"{arguments.out} brings the shoulder forward by {change.by.words} already; change it there"
            )
    return Length(spelling=arguments.shoulder_forward, unit=pattern.unit)


def with_shoulder_forward(pattern: Pattern, by: Length) -> Pattern:
    """The pattern with that change made before all others, as facings and necks come after it."""
    versions = tuple(
        Version(name=one.name, without=tuple(number + 1 for number in one.without))
        for one in pattern.versions
    )
    return replace(pattern, changes=(ShoulderForward(by=by), *pattern.changes), versions=versions)
