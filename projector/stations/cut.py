"""Cutting: one piece at a time on the table, moved, turned, mirrored or opened, and words on how it lies."""

from dataclasses import dataclass, replace
from functools import lru_cache
from typing import Final

import numpy as np

from calibration.frames import Array
from calibration.table.saved import Alignment
from patterns.cutting.drafted import DraftedPiece
from patterns.cutting.placement import Placement
from patterns.measures import in_words
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
    Show,
    Turn,
    Undo,
)
from projector.bindings import CUT_BINDINGS, Binding
from projector.lighting.lit_area import LitArea
from projector.lighting.piece_light import piece_light
from projector.lighting.reach import overhang_words
from projector.person import QUARTER, SIDES, Person
from projector.scene import Controls, Layer, Scene
from projector.trust import trust_words
from projector.words.help_page import help_light
from projector.words.strip import StripWords, lay_strip, strip_light

COARSE_IN: Final = 1 / 2
FINE_IN: Final = 1 / 32  # the alignment's own tolerance: finer would promise too much
COARSE_DEG: Final = 5.0
FINE_DEG: Final = 0.1  # 1/32 in at 18 in from the middle
STRIP_ROOM_IN: Final = 3.0  # kept free at the near edge when a piece is first laid


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Ground:
    """What stays the same while cutting. `warnings` say why not to trust the light, the gravest first."""

    pieces: tuple[DraftedPiece, ...]
    alignment: Alignment
    lit: LitArea
    warnings: tuple[str, ...] = ()

    def person(self, side: int) -> Person:
        """The person at one of the four sides, counted anticlockwise from the near one."""
        return Person(facing_deg=self.alignment.turn_deg + QUARTER * side)


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class CutStation:
    """Each piece has its own placement; `shown` is the place in the list of the one that is lit."""

    ground: Ground
    placements: tuple[Placement, ...]
    shown: int = 0
    side: int = 0
    fine: bool = False
    notice: str = ""

    @classmethod
    def begun(cls, ground: Ground) -> "CutStation":
        """Every piece in the middle of the light above the strip, upright for the person."""
        person = ground.person(0)
        return cls(
            ground=ground,
            placements=tuple(
                in_the_middle(piece, Placement(), ground.lit, person) for piece in ground.pieces
            ),
        )

    @property
    def bindings(self) -> tuple[Binding, ...]:
        """The keys that have a meaning here."""
        return CUT_BINDINGS

    @property
    def finished(self) -> bool:
        """Cutting ends when the person leaves."""
        return False

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

    def placed(self, placement: Placement) -> "CutStation":
        """The same with the lit piece placed so."""
        placements = (*self.placements[: self.shown], placement, *self.placements[self.shown + 1 :])
        return replace(self, placements=placements, notice="")

    def after(self, action: Action) -> "CutStation":
        """The station after the action."""
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
            case Undo():
                return replace(self, notice="nothing to undo")
            case _:
                return self

    def can_undo(self, action: Action) -> bool:
        """Changes of a piece's place can be undone; a drag as one, from where it was grabbed."""
        return isinstance(action, Move | Turn | Drag | Mirror | Open | Home)

    def scene(self, controls: Controls) -> Scene:
        """The piece and the strip; the keys instead of the piece while help is asked for."""
        ground, person = self.ground, self.person
        strip = lay_strip(
            self.strip_words(controls), ground.lit, person, None if controls.helping else self.outline_in
        )
        words = Layer(name="strip", key=(strip, person), draw=lambda: strip_light(strip, ground.lit, person))
        if controls.helping:
            page = Layer(
                name="main",
                key=("help", person),
                draw=lambda: help_light(self.bindings, ground.lit, person),
            )
            return (page, words)
        piece, placement = self.piece, self.placement
        lines = Layer(
            name="main",
            key=(piece, placement, person),
            draw=lambda: piece_light(piece, placement, ground.lit, person),
        )
        return (lines, words)

    def strip_words(self, controls: Controls) -> StripWords:
        """Which piece, how many, how it lies; then where it leaves the light, how good that is, the keys."""
        first = [self.piece.name, *self._count_words(), *self._lie_words()]
        if controls.frozen:
            first.insert(0, "FROZEN")
        aside = []
        if controls.preview:
            aside.append("preview, not true to size")
        aside += [self.notice] if self.notice else []
        aside += self.ground.warnings[:1]  # one is enough to go and check; all are on standard error
        aside += overhang_words(self.outline_in, self.ground.lit, self.person)
        aside += trust_words(self.ground.alignment, self.outline_in)
        aside.append(f"piece {self.shown + 1} of {len(self.ground.pieces)}")
        if controls.frozen:
            aside.append("f frees it")
        else:
            aside += [self._step_words(), "h shows the keys"]
        return StripWords(first=tuple(first), aside=tuple(aside))

    def kept_in_place(self, placement: Placement) -> Placement:
        """The placement moved so that the middle of the lit piece stays where it is."""
        shift = middle(self.outline_in) - middle(outline_in(self.piece, placement))
        return shifted(placement, shift)

    def _count_words(self) -> list[str]:
        cut = self.piece.cut
        if not cut.mirrored:
            return [cut.words]
        half = cut.count // 2
        if half == 1:
            return [cut.words, f"now {2 if self.placement.mirrored else 1} of {cut.count}"]
        return [cut.words, f"{half} this way"]

    def _lie_words(self) -> list[str]:
        words = []
        if self.placement.opened:
            words.append("opened full")
        elif self.piece.fold is not None:
            words.append("half, on the fold")
        words.append("MIRRORED" if self.placement.mirrored else "not mirrored")
        return words

    def _step_words(self) -> str:
        step, angle = self._step(other=False)
        return f"steps {in_words(step, 32)}, {angle:g}°"

    def _step(self, *, other: bool) -> tuple[float, float]:
        return (FINE_IN, FINE_DEG) if self.fine != other else (COARSE_IN, COARSE_DEG)

    def _moved(self, move: Move) -> Placement:
        step, _ = self._step(other=move.other_step)
        return shifted(self.placement, self.person.on_table(step * np.array([[move.right, move.away]]))[0])

    def _turned(self, turn: Turn) -> Placement:
        _, angle = self._step(other=turn.other_step)
        turned = replace(
            self.placement, turn_deg=_wrapped(self.placement.turn_deg + turn.anticlockwise * angle)
        )
        return self.kept_in_place(turned)

    def _dragged(self, drag: Drag) -> Placement:
        ends = self.ground.lit.projector_map.table_from_screen([drag.from_px, drag.to_px])
        return shifted(self.placement, ends[1] - ends[0])

    def _opened(self) -> "CutStation":
        if self.piece.fold is None:
            return replace(self, notice=f"{self.piece.name} has no fold to open")
        return self._changed(replace(self.placement, opened=not self.placement.opened))

    def _changed(self, placement: Placement) -> "CutStation":
        """Mirrored or opened with the fold, or else the middle, where it was."""
        if self.piece.fold is not None:
            return self.placed(placement)
        return self.placed(self.kept_in_place(placement))

    def _showing(self, number: int) -> "CutStation":
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
    upright = replace(placement, x_in=0.0, y_in=0.0, turn_deg=_wrapped(person.facing_deg))
    seen = person.seen(outline_in(piece, upright))
    border = person.seen(lit.border_in)
    centre = person.seen(lit.centre_in[None])[0]
    low, high = border[:, 1].min() + STRIP_ROOM_IN, border[:, 1].max()
    wanted = np.array([centre[0], (low + high) / 2])
    shift = wanted - (seen.min(axis=0) + seen.max(axis=0)) / 2
    return shifted(upright, person.on_table(shift[None])[0])


def _wrapped(turn_deg: float) -> float:
    """The same turn from -180 (exclusive) to 180, without the dust of repeated sums."""
    turned = round(turn_deg, 6) % 360.0
    return turned - 360.0 if turned > 180.0 else turned
