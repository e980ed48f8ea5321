"""What changes a traced outline: its points, curves and edges."""

from dataclasses import dataclass


@dataclass(frozen=True, slots=True, kw_only=True)
class SetCurve:
    """A point of a curve is where the cross is."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Insert:
    """One point more, between those that are there."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Remove:
    """One point fewer."""


@dataclass(frozen=True, slots=True, kw_only=True)
class TurnPoint:
    """From a corner to a curve point, or back."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Smooth:
    """Run the edge through few points."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Straighten:
    """Run the edge straight from end to end."""


@dataclass(frozen=True, slots=True, kw_only=True)
class MoveEdge:
    """Move the edge out or in, by a length that is asked for."""


@dataclass(frozen=True, slots=True, kw_only=True)
class NameEdge:
    """Ask for the edge's name."""
