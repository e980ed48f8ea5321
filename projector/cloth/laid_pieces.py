"""Pieces as they lie on the table, one of them lit: moved, turned, mirrored, opened."""

from dataclasses import dataclass, replace
from functools import lru_cache
from typing import Final

import numpy as np

from calibration.frames import Array
from patterns.cutting.drafted import DraftedPiece
from patterns.cutting.placement import Placement
from patterns.measures import said_in
from projector.actions import (
    Action,
    ChangeSide,
    ChangeStep,
    Drag,
    Flip,
    Home,
    Mirror,
    Move,
    Open,
    OpenAll,
    Show,
    Turn,
)
from projector.cloth.ground import Ground
from projector.lighting.lit_area import LitArea
from projector.person import SIDES, Person

COARSE_IN: Final = 1 / 2
FINE_IN: Final = 1 / 32  # the alignment's own tolerance: finer would promise too much
COARSE_DEG: Final = 5.0
FINE_DEG: Final = 0.1  # 1/32 in at 18 in from the middle
STRIP_ROOM_IN: Final = 3.0  # kept free at the near edge when a piece is first laid


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class LaidPieces:
    """Each piece has its own placement; `shown` is the place in the list of the one that is lit."""

    ground: Ground
    placements: tuple[Placement, ...]
    shown: int = 0
    side: int = 0
    fine: bool = False
    notice: str = ""

    @classmethod
    def begun(cls, ground: Ground) -> "LaidPieces":
        """Every piece in the middle of the light above the strip, upright for the person."""
        person = ground.person(0)
        placements = tuple(in_the_middle(piece, Placement(), ground.lit, person) for piece in ground.pieces)
        return cls(ground=ground, placements=placements)

    @property
    def piece(self) -> DraftedPiece:
        """The piece that is lit."""
        return self.ground.pieces[self.shown]

    @property
    def placement(self) -> Placement:
        """How it lies."""
        return self.placements[self.shown]

    @property
    def person(self) -> Person:
        """The person at the table."""
        return self.ground.person(self.side)

    @property
    def outline_in(self) -> Array:
        """(n, 2) table inches: the cut line of the piece as it lies."""
        return outline_in(self.piece, self.placement)

    @property
    def step_words(self) -> str:
        """How far a step of the keys goes."""
        step, angle = self._step(other=False)
        return f"steps {said_in(step, self.ground.unit, 32)}, {angle:g}°"

    def placed(self, placement: Placement) -> "LaidPieces":
        """The same with the lit piece placed so."""
        placements = (*self.placements[: self.shown], placement, *self.placements[self.shown + 1 :])
        return replace(self, placements=placements, notice="")

    def kept_in_place(self, placement: Placement) -> Placement:
        """The placement moved so that the middle of the lit piece stays where it is."""
        shift = middle(self.outline_in) - middle(outline_in(self.piece, placement))
        return shifted(placement, shift)

    def after(self, action: Action) -> "LaidPieces":
        """The pieces after the action; the same after one that has no meaning for them."""
        match action:
            case Move():
                return self.placed(self._moved(action))
            case Turn():
                return self.placed(self._turned(action))
            case Drag():
                return self.placed(self._dragged(action))
            case Mirror():
                return self._changed(replace(self.placement, mirrored=not self.placement.mirrored))
            case Open():
                return self._opened()
            case OpenAll():
                return self._all_opened()
            case Home():
                return self.placed(in_the_middle(self.piece, self.placement, self.ground.lit, self.person))
            case Flip(by=by):
                return replace(self, shown=(self.shown + by) % len(self.placements), notice="")
            case Show(number=number):
                return self._showing(number)
            case ChangeStep():
                return replace(self, fine=not self.fine, notice="")
            case ChangeSide():
                return replace(self, side=(self.side + 1) % SIDES, notice="")
            case _:
                return self

    def _step(self, *, other: bool) -> tuple[float, float]:
        return (FINE_IN, FINE_DEG) if self.fine != other else (COARSE_IN, COARSE_DEG)

    def _moved(self, move: Move) -> Placement:
        step, _ = self._step(other=move.other_step)
        return shifted(self.placement, self.person.on_table(step * np.array([[move.right, move.away]]))[0])

    def _turned(self, turn: Turn) -> Placement:
        _, angle = self._step(other=turn.other_step)
        turned = replace(
            self.placement, turn_deg=wrapped(self.placement.turn_deg + turn.anticlockwise * angle)
        )
        return self.kept_in_place(turned)

    def _dragged(self, drag: Drag) -> Placement:
        ends = self.ground.lit.projector_map.table_from_screen([drag.from_px, drag.to_px])
        return shifted(self.placement, ends[1] - ends[0])

    def _opened(self) -> "LaidPieces":
        if self.piece.fold is None:
            return replace(self, notice=f"{self.piece.name} has no fold to open")
        return self._changed(replace(self.placement, opened=not self.placement.opened))

    def _all_opened(self) -> "LaidPieces":
        """All halves full, unless they all are: then half again."""
        folded = [piece.fold is not None for piece in self.ground.pieces]
        if not any(folded):
            return replace(self, notice="no piece has a fold to open")
        all_full = all(
            placement.opened for placement, folds in zip(self.placements, folded, strict=True) if folds
        )
        placements = tuple(
            replace(placement, opened=folds and not all_full)
            for placement, folds in zip(self.placements, folded, strict=True)
        )
        return replace(self, placements=placements, notice="")

    def _changed(self, placement: Placement) -> "LaidPieces":
        """Mirrored or opened with the fold, or else the middle, where it was."""
        if self.piece.fold is not None:
            return self.placed(placement)
        return self.placed(self.kept_in_place(placement))

    def _showing(self, number: int) -> "LaidPieces":
        if number > len(self.placements):
            return replace(self, notice=f"there is no piece {number}")
        return replace(self, shown=number - 1, notice="")


@lru_cache(maxsize=16)
def outline_in(piece: DraftedPiece, placement: Placement) -> Array:
    """(n, 2) table inches of the placed cut line; of an opened piece, both halves' points."""
    half = placement.placed(piece.cut_line)
    if not placement.opened:
        return half
    other = placement.placed(piece.cut_line * (-1.0, 1.0))
    return np.vstack([half, other[::-1]])


def middle(points_in: Array) -> Array:
    """(2,) the middle of the area within closed (n, 2) points: it turns with them.

    The shoelace formula for the centroid of a polygon.
    """
    start = points_in[0]
    one, two = points_in - start, np.roll(points_in, -1, axis=0) - start
    weights = one[:, 0] * two[:, 1] - two[:, 0] * one[:, 1]
    centre: Array = start + ((one + two) * weights[:, None]).sum(axis=0) / (3 * weights.sum())
    return centre


def shifted(placement: Placement, by_in: Array) -> Placement:
    """The placement moved by (2,) table inches."""
    return replace(placement, x_in=placement.x_in + float(by_in[0]), y_in=placement.y_in + float(by_in[1]))


def in_the_middle(piece: DraftedPiece, placement: Placement, lit: LitArea, person: Person) -> Placement:
    """Upright for the person, in the middle of the light above the strip; opened and mirrored stay."""
    upright = replace(placement, x_in=0.0, y_in=0.0, turn_deg=wrapped(person.facing_deg))
    seen = person.seen(outline_in(piece, upright))
    border = person.seen(lit.border_in)
    centre = person.seen(lit.centre_in[None])[0]
    low, high = border[:, 1].min() + STRIP_ROOM_IN, border[:, 1].max()
    wanted = np.array([centre[0], (low + high) / 2])
    shift = wanted - (seen.min(axis=0) + seen.max(axis=0)) / 2
    return shifted(upright, person.on_table(shift[None])[0])


def wrapped(turn_deg: float) -> float:
    """The same turn from -180 (exclusive) to 180, without the dust of repeated sums."""
    turned = round(turn_deg, 6) % 360.0
    return turned - 360.0 if turned > 180.0 else turned
