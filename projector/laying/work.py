"""A lay on the table: the lay itself, where the cloth lies, and the pages on which it is shown."""

from collections.abc import Sequence
from dataclasses import dataclass, replace
from functools import lru_cache
from typing import Final

import numpy as np

from calibration.frames import Array
from patterns.laying.buying import on_table_in
from patterns.laying.folded import Folded
from patterns.laying.folding import Direction, Fold, Folding
from patterns.laying.lay import Lay, PieceOnCloth
from patterns.laying.moving import with_moved
from patterns.measures import Unit
from projector.cloth.cloth_place import ClothPlace
from projector.cloth.laid_pieces import middle, wrapped
from projector.cutting.work import drawn_words
from projector.lighting.lit_area import LitArea
from projector.person import Person

ASIDE_DEG: Final = -90.0  # the far end of the cloth to the person's right
_CM_IN: Final = float(Unit.CM.inches)
STEPS_IN: Final = {Unit.IN: (1 / 2, 1 / 32), Unit.CM: (_CM_IN, _CM_IN / 10), Unit.MM: (_CM_IN, _CM_IN / 10)}
END_IN: Final = 4.5  # from the end of the light to cloth that is larger: the strip has room there


@dataclass(frozen=True, slots=True, kw_only=True)
class Page:
    """A stage's way of folding, or, where `piece` is its number in the lay, a piece of it."""

    stage: int
    piece: int | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class LayWork:
    """What is undone and redone, and kept."""

    lay: Lay
    cloth: ClothPlace

    def is_like(self, other: "LayWork") -> bool:
        """Whether all lies alike, and is the same still to be cut, though it was drafted anew."""
        return self._told == other._told

    @property
    def _told(self) -> tuple[object, ...]:
        placed = tuple((one.piece.name, one.placement, one.fold_line, one.stage) for one in self.lay.placed)
        return (
            self.cloth,
            self.lay.folding,
            placed,
            drawn_words(piece.cut_line for piece in self.lay.pieces),
        )

    @property
    def pages(self) -> tuple[Page, ...]:
        """How to fold, then piece by piece what is cut from it; then the same for what is folded anew."""
        return tuple(
            page
            for stage in sorted({one.stage for one in self.lay.placed})
            for page in (
                Page(stage=stage),
                *(Page(stage=stage, piece=number) for number in self.pieces_of(stage)),
            )
        )

    def pieces_of(self, stage: int) -> tuple[int, ...]:
        """The numbers of the pieces that are cut in a stage."""
        return tuple(number for number, one in enumerate(self.lay.placed) if one.stage == stage)

    def folded(self, stage: int) -> Folded:
        """The cloth as it lies in that stage."""
        return folded(self.lay, stage)

    def gone_in(self, stage: int) -> tuple[Array, ...]:
        """(n, 2) table inches of each hole that earlier stages left in the cloth, once it is opened."""
        before = [one for one in self.lay.placed if one.stage < stage]
        return tuple(self.cloth.on_table(part) for one in before for part in one.parts_in)

    def outline_in(self, number: int) -> Array:
        """(n, 2) table inches of a piece, closed."""
        return self.cloth.on_table(self.lay.placed[number].outline_in)

    def moved(self, number: int, one: PieceOnCloth) -> "LayWork":
        """With that piece lying otherwise on the cloth."""
        return replace(self, lay=with_moved(self.lay, number, one))

    def slid(self, by_in: Array) -> "LayWork":
        """With the cloth slid by (2,) table inches."""
        x, y = (float(part) for part in by_in)
        return replace(self, cloth=replace(self.cloth, x_in=self.cloth.x_in + x, y_in=self.cloth.y_in + y))

    def turned(self, by_deg: float, about_in: Array) -> "LayWork":
        """With the cloth turned about a point (2,) of the table."""
        still = self.cloth.on_cloth(about_in[None])
        turned = replace(self.cloth, turn_deg=wrapped(self.cloth.turn_deg + by_deg))
        return replace(self, cloth=turned).slid(about_in - turned.on_table(still)[0])

    def brought(self, points_in: Array, to_in: Array) -> "LayWork":
        """With the cloth slid until the middle of what is within (n, 2) table inches lies at a point (2,)."""
        return self.slid(to_in - middle(points_in))


def step_in(unit: Unit, *, fine: bool) -> float:
    """Inches of a step of the arrow keys: what a tape in that unit has."""
    return STEPS_IN[unit][fine]


@lru_cache(maxsize=8)
def folded(lay: Lay, stage: int) -> Folded:
    """The cloth as it lies: flat again once it was opened."""
    flat = Folding(fold=Fold.SINGLE, cloth=lay.cloth)
    length_in = max(on_table_in(lay.used_in, lay.cloth, lay.terms.sold_by), lay.used_in)
    return Folded(folding=lay.folding if stage == 1 else flat, length_in=length_in)


def in_the_light(lay: Lay, lit: LitArea, person: Person) -> ClothPlace:
    """The cloth with its length along the longer side of the light.

    Where not all of it is in the light, the squared end is, and of its width what is nearest to the person.
    """
    left, bottom, right, top = folded(lay, 1).box_in
    wide, deep = np.ptp(person.seen(lit.border_in), axis=0)
    aside = wide > deep and top - bottom > right - left
    turn_deg = wrapped(person.facing_deg + (ASIDE_DEG if aside else 0.0))
    place = ClothPlace(turn_deg=turn_deg)
    corners = place.on_table(np.array([(left, bottom), (right, bottom), (right, top), (left, top)]))
    seen, border = person.seen(corners), person.seen(lit.border_in)
    middle_in = (border.min(axis=0) + border.max(axis=0) - seen.min(axis=0) - seen.max(axis=0)) / 2
    nearest_in = border.min(axis=0) + END_IN - seen.min(axis=0)
    fits = np.ptp(seen, axis=0) + 2 * END_IN <= np.ptp(border, axis=0)
    x, y = person.on_table(np.where(fits, middle_in, nearest_in)[None])[0].tolist()
    return replace(place, x_in=x, y_in=y)


def by_marks(lay: Lay, stage: int, marks_in: Sequence[tuple[float, float]]) -> ClothPlace:
    """The cloth whose edge runs through two marks, the first at the squared end; table inches.

    The edge is the one that `edge_of` names.
    """
    at_in = edge_of(lay, stage)[0]
    start, far = (np.array(mark) for mark in marks_in)
    along = far - start
    turn_deg = wrapped(float(np.degrees(np.arctan2(along[1], along[0]))) - 90.0)
    turned = ClothPlace(turn_deg=turn_deg)
    x, y = (start - turned.on_table(np.array([[at_in, 0.0]]))[0]).tolist()
    return replace(turned, x_in=x, y_in=y)


def edge_of(lay: Lay, stage: int) -> tuple[float, str]:
    """x of the straight edge by which the cloth is placed, and its name: a fold, or else the left selvedge."""
    folds = [line for line in folded(lay, stage).folding.fold_lines if line.direction is Direction.LENGTHWISE]
    return (folds[-1].at_in, "the fold") if folds else (0.0, "the left selvedge")
