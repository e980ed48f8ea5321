"""What moves, turns or takes hold of what the light shows."""

from dataclasses import dataclass


@dataclass(frozen=True, slots=True, kw_only=True)
class Move:
    """One step to the right (+1) or left (-1), or away from the person (+1) or nearer (-1)."""

    right: int = 0
    away: int = 0
    other_step: bool = False  # the step size that is not in force


@dataclass(frozen=True, slots=True, kw_only=True)
class Turn:
    """One step anticlockwise (+1) or clockwise (-1), seen from above."""

    anticlockwise: int
    other_step: bool = False


@dataclass(frozen=True, slots=True, kw_only=True)
class Grab:
    """The mouse button goes down: the drag that follows is one thing to undo."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Drag:
    """The mouse moved with its button down; projector pixels."""

    from_px: tuple[float, float]
    to_px: tuple[float, float]


@dataclass(frozen=True, slots=True, kw_only=True)
class Aim:
    """The pointer is there now, whether a button is down or not; projector pixels."""

    at_px: tuple[float, float]


@dataclass(frozen=True, slots=True, kw_only=True)
class ChangeOffset:
    """The cross at the next usual place beside the pointer."""


@dataclass(frozen=True, slots=True, kw_only=True)
class ChangeStep:
    """From coarse steps to fine ones, or back."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Mirror:
    """Turn the piece over."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Home:
    """Back to the middle of the light, upright."""


@dataclass(frozen=True, slots=True, kw_only=True)
class TakeUp:
    """Take up the cross that disagrees with the others, or the point nearest to the cross, to place it again."""


@dataclass(frozen=True, slots=True, kw_only=True)
class PutDown:
    """Leave what is in hand where it is."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Stand:
    """Back to where the work stands."""
