"""The light follows the cloth: two marks on its fold, or on its selvedge, bring the piece there; one more slides it.

A piece is turned and slid for that, and never turned over: which of its sides is up stays as it was said.
"""

import math
from collections.abc import Callable
from dataclasses import dataclass, replace
from enum import Enum
from typing import Final

import numpy as np

from calibration.frames import Array
from patterns.cutting.drafted import DraftedPiece
from patterns.cutting.placement import Placement
from patterns.saying import LengthError, Say
from patterns.tracing.hand_trace import Place
from projector.cloth.cloth_place import ClothPlace
from projector.cloth.laid_pieces import outline_in, shifted, wrapped
from projector.errors import ProjectorError
from projector.person import Person

LEAST_APART_IN: Final = 4.0  # marks 1/64 in amiss so near each other turn a garment's fold by 3/16 in
MARK_IN: Final = 1 / 64  # what a careful hand is off with the cross
TURNED_IN: Final = 1 / 32  # the alignment's own tolerance; more than that along the piece is said
STRAIGHT_IN: Final = 1 / 16  # a fold's tolerance (common practice)
ON_LINE_IN: Final = 1.0  # a third mark nearer than that lies on the line itself
FINEST: Final = 64  # parts of an inch
UNSURE_DEG: Final = 60.0  # a turn beyond which the present side of the line may be the wrong one
LAID_IN: Final = 1e-3  # off the marks, over an inch: what rounding leaves is less
SELVEDGE_IN: Final = 1 / 2  # left free beside the selvedge (common practice)


class ClothEdge(Enum):
    """What of the cloth the marks lie on; in a lay, x = 0 of the cloth is its left selvedge."""

    FOLD = "the fold"
    THREAD = "a thread"
    SELVEDGE = "the selvedge"
    LAY_EDGE = "the left selvedge"


@dataclass(frozen=True, slots=True, kw_only=True)
class ClothLine:
    """A straight line of the cloth through two marks, in table inches.

    Raises ProjectorError or LengthError where they give no direction.
    """

    kind: ClothEdge
    marks_in: tuple[Place, Place]

    def __post_init__(self) -> None:
        if not self.apart_in:
            raise ProjectorError("both marks are at one place: set the second along the cloth's edge")
        if self.apart_in < LEAST_APART_IN:
            raise LengthError(
                lambda say: (
                    f"the marks are only {say(self.apart_in)} apart: set the second at least "
                    f"{say(LEAST_APART_IN)} away"
                )
            )

    @property
    def apart_in(self) -> float:
        """Inches between the marks."""
        return math.dist(*self.marks_in)

    @property
    def middle_in(self) -> Array:
        """(2,) table inches halfway."""
        middle: Array = np.mean(self.marks_in, axis=0)
        return middle

    @property
    def onward(self) -> Array:
        """(2,) unit direction from the first mark to the second."""
        onward: Array = np.subtract(*self.marks_in[::-1]) / self.apart_in
        return onward

    @property
    def leftward(self) -> Array:
        """(2,) unit direction to the left of it, seen along it."""
        leftward: Array = np.array([-self.onward[1], self.onward[0]])
        return leftward

    def left_of(self, points_in: Array) -> Array:
        """(n,) inches by which (n, 2) points lie to its left."""
        left: Array = (points_in - self.middle_in) @ self.leftward
        return left

    def off_over_in(self, length_in: float) -> float:
        """Inches by which the line's ends come apart over a length if both marks are 1/64 in amiss, one each way."""
        return 2 * MARK_IN * length_in / self.apart_in


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class PieceLine:
    """The straight line of a piece that belongs on the cloth's: its middle (2,) and direction (2,) in piece inches.

    The middle is halfway between the ends of the whole piece, seen along the line.
    """

    name: str
    middle_in: Array
    along: Array


def edges_for(piece: DraftedPiece, placement: Placement) -> tuple[ClothEdge, ...]:
    """What of the cloth the piece can be laid by, the usual one first."""
    return (ClothEdge.FOLD,) if is_half(piece, placement) else (ClothEdge.SELVEDGE, ClothEdge.THREAD)


def is_half(piece: DraftedPiece, placement: Placement) -> bool:
    """Whether it is laid with its fold on a fold of the cloth."""
    return piece.fold is not None and not placement.opened


def piece_line(piece: DraftedPiece, placement: Placement) -> PieceLine:
    """Its fold where it lies as a half, else its grainline, else its centre line; ProjectorError if it has none."""
    if piece.fold is not None and (piece.grain is None or not placement.opened):
        name = "centre line" if placement.opened else "fold"
        at, along = piece.cut_line[0], np.array([0.0, 1.0])
    elif piece.grain is not None:
        name, at = "grainline", piece.grain[0]
        along = (piece.grain[1] - at) / np.hypot(*(piece.grain[1] - at))
    else:
        raise ProjectorError(
            f"{piece.name} has neither a fold nor a grainline: draw its grain in the pattern file, "
            "or lay it by the arrow keys"
        )
    reach = (outline_in(piece, Placement(opened=placement.opened)) * (1.0, -1.0) - at) @ along
    return PieceLine(name=name, middle_in=at + along * (reach.min() + reach.max()) / 2, along=along)


def lay_edge(piece: DraftedPiece, place: Placement) -> PieceLine:
    """The left selvedge of a lay in the inches of a piece that has its place there."""
    reach = outline_in(piece, place)[:, 1]
    foot = np.array([[0.0, (reach.min() + reach.max()) / 2]])
    at, on = place.lifted(np.vstack([foot, foot + (0.0, 1.0)]))
    return PieceLine(name="left selvedge", middle_in=at, along=on - at)


def laid_on(
    piece: DraftedPiece, placement: Placement, line: ClothLine, own: PieceLine, side_in: Place | None = None
) -> Placement:
    """The piece turned and slid until its own line lies on the cloth's; along it, its middle stays where it was.

    It lies on the side of the line where `side_in` is, or else on its present side. Beside a selvedge it keeps clear
    of that. Raises ProjectorError where the side is not sure or cannot be chosen.
    """
    near, far = sorted(
        (_brought(placement, own, line, way) for way in (1.0, -1.0)), key=_turn_from(placement)
    )
    wanted = None if side_in is None else _wanted_side(line, own, side_in)
    match line.kind:
        case ClothEdge.THREAD:
            return near
        case ClothEdge.SELVEDGE:
            return _clear(piece, near, line, _side(piece, placement, line) if wanted is None else wanted)
        case ClothEdge.FOLD | ClothEdge.LAY_EDGE if wanted is not None:
            return near if _side(piece, near, line) * wanted > 0 else far
    if _turn_from(placement)(near) > UNSURE_DEG:
        raise ProjectorError(
            f"the marks run across the piece's {own.name}: set a third mark on the cloth, "
            "on the side where the piece belongs"
        )
    return near


def lies_on(placement: Placement, line: ClothLine, own: PieceLine) -> bool:
    """Whether the piece's line lies on the cloth's; beside a selvedge, along it."""
    off = line.left_of(placement.placed(own.middle_in + np.outer([0.0, 1.0], own.along)))
    beside = off - off[0] if line.kind is ClothEdge.SELVEDGE else off
    return bool(np.abs(beside).max() < LAID_IN)


def on_other_side(piece: DraftedPiece, placement: Placement, line: ClothLine, own: PieceLine) -> Placement:
    """The piece turned by half about its middle on the line, or beside the selvedge's other side: never turned over."""
    if line.kind is ClothEdge.SELVEDGE:
        return _clear(piece, placement, line, -_side(piece, placement, line))
    return _turned_about(placement, own.middle_in, 180.0)


def slid_to(piece: DraftedPiece, placement: Placement, line: ClothLine, mark_in: Place) -> Placement:
    """The piece slid along the line until it ends at the mark, with whichever end is nearer to it."""
    along = outline_in(piece, placement) @ line.onward
    wanted = float(np.array(mark_in) @ line.onward)
    by = min((wanted - end for end in (float(along.min()), float(along.max()))), key=abs)
    return shifted(placement, by * line.onward)


def turn_words(piece: DraftedPiece, placement: Placement, line: ClothLine, say: Say) -> list[str]:
    """What marks 1/64 in amiss would do over the piece's length, where that is worth saying."""
    length_in = float(np.ptp(outline_in(piece, placement) @ line.onward))
    off_in = line.off_over_in(length_in)
    if off_in <= TURNED_IN:
        return []
    told_in = math.ceil(off_in * FINEST) / FINEST
    return [f"marks farther apart are better: {say(MARK_IN, FINEST)} amiss turns it {say(told_in, FINEST)}"]


def side_words(piece: DraftedPiece, placement: Placement, line: ClothLine, person: Person) -> str:
    """On which side of the line the piece lies, as the person sees it."""
    side = np.sign(_side(piece, placement, line)) * line.leftward
    right, away = person.seen(side[None])[0].tolist()
    if abs(right) > abs(away):
        return f"it lies to the {'right' if right > 0 else 'left'} of the marks"
    return f"it lies {'beyond' if away > 0 else 'on the near side of'} the marks"


def place_for(lying: Placement, placement: Placement) -> ClothPlace:
    """Where the cloth must be for a piece that lies so on it to be placed so; ValueError if one is mirrored only."""
    if lying.mirrored is not placement.mirrored:
        raise ValueError("cloth that is moved does not turn its pieces over")
    turned = ClothPlace(turn_deg=wrapped(placement.turn_deg - lying.turn_deg))
    at = turned.laid(lying)
    return replace(turned, x_in=placement.x_in - at.x_in, y_in=placement.y_in - at.y_in)


def _wanted_side(line: ClothLine, own: PieceLine, side_in: Place) -> float:
    if line.kind is ClothEdge.THREAD:
        raise ProjectorError(f"a thread has cloth on both sides: only the {own.name} comes on to it")
    wanted = float(line.left_of(np.array([side_in]))[0])
    if abs(wanted) < ON_LINE_IN:
        raise ProjectorError("that mark lies on the line itself: set it on the cloth beside it")
    return wanted


def _side(piece: DraftedPiece, placement: Placement, line: ClothLine) -> float:
    """Positive where the piece lies to the left of the line."""
    return float(line.left_of(outline_in(piece, placement)).mean())


def _turn_from(before: Placement) -> Callable[[Placement], float]:
    return lambda after: abs(wrapped(after.turn_deg - before.turn_deg))


def _brought(placement: Placement, own: PieceLine, line: ClothLine, way: float) -> Placement:
    """Turned about the middle of its line and slid square to the cloth's until both are one."""
    now, onward = placement.direction(own.along), way * line.onward
    turn = math.atan2(now[0] * onward[1] - now[1] * onward[0], float(now @ onward))
    turned = _turned_about(placement, own.middle_in, math.degrees(turn))
    off = line.left_of(turned.placed(own.middle_in[None]))[0]
    return shifted(turned, -off * line.leftward)


def _clear(piece: DraftedPiece, placement: Placement, line: ClothLine, side: float) -> Placement:
    """Slid square to the selvedge until its cut line keeps clear of it, to the left where `side` is positive."""
    left = line.left_of(outline_in(piece, placement))
    by = SELVEDGE_IN - left.min() if side > 0 else -SELVEDGE_IN - left.max()
    return shifted(placement, by * line.leftward)


def _turned_about(placement: Placement, middle_in: Array, turn_deg: float) -> Placement:
    """Turned about a point (2,) of the piece, which stays where it is."""
    turned = replace(placement, turn_deg=wrapped(placement.turn_deg + turn_deg))
    before, after = (one.placed(middle_in[None])[0] for one in (placement, turned))
    return shifted(turned, before - after)
