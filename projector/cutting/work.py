"""What is known of the job on the cloth: where everything lies, and what is done of it."""

import zlib
from collections.abc import Iterable, Sequence
from dataclasses import dataclass, field, replace
from typing import Final

import numpy as np

from calibration.frames import Array
from patterns.cutting.drafted import DraftedPiece
from patterns.cutting.placement import Placement
from projector.cloth.cloth_marks import Marks
from projector.cloth.cloth_place import ClothPlace
from projector.cloth.reaches import Reaches
from projector.cutting.steps import is_slide
from projector.lighting.seeing import Seeing

REALIGNED: Final = "THE TABLE WAS ALIGNED ANEW"
REDRAWN: Final = "THE PATTERN HAS CHANGED"
LAID_ANEW: Final = "THE LAY OR ITS PATTERN HAS CHANGED"


@dataclass(frozen=True, slots=True, kw_only=True)
class Lies:
    """Where the cloth lies on the table, and each copy on the cloth."""

    cloth: ClothPlace
    places: tuple[Placement, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class CopyWork:
    """One copy of a piece, counted from 1: its place on the cloth, and the steps that are ticked off.

    `reaches` are None where it is cut in one; `gives` is how many come of it at once, where the cloth lies double;
    none of one that comes with another.
    """

    piece: str
    number: int
    place: Placement
    ticked: tuple[str, ...] = ()
    reaches: Reaches | None = None
    gives: int = 1

    def __post_init__(self) -> None:
        if self.gives < 0:
            raise ValueError(f"{self.gives} copies cannot come of one")

    @property
    def reach(self) -> int:
        """The reach at hand, counted from 0: as often as the cloth has been slid."""
        return sum(is_slide(step) for step in self.ticked)


@dataclass(frozen=True, slots=True, kw_only=True)
class CutWork:
    """All copies in the order they are cut. `at` is the place in it of the one at work; `begun` once cutting is.

    `drawn` stands for all the cut lines: another says that the pattern has changed, or the lay. `aligned` is when the
    table was that it lies on: aligned anew, its inches are others. By `crosses_in`, in cloth inches, the cloth is
    found again. In a lay the copies keep their places on the cloth, and go with it.
    """

    copies: tuple[CopyWork, ...]
    drawn: str = ""
    aligned: str = ""
    cloth: ClothPlace = field(default_factory=ClothPlace)
    begun: bool = False
    at: int = 0
    crosses_in: Marks | None = None
    is_lay: bool = False
    seeing: Seeing = field(default_factory=Seeing)

    def __post_init__(self) -> None:
        if self.copies and not any(copy.gives for copy in self.copies):
            raise ValueError("no copy is cut by itself")

    @property
    def lies(self) -> Lies:
        """Where it all lies."""
        return Lies(cloth=self.cloth, places=tuple(copy.place for copy in self.copies))

    @property
    def placements(self) -> tuple[Placement, ...]:
        """Where each copy lies on the table."""
        return tuple(self.cloth.laid(copy.place) for copy in self.copies)

    def lying(self, lies: Lies) -> "CutWork":
        """The same work where it lies otherwise; reaches that were planned from where a copy lay are given up."""
        copies = []
        for copy, place in zip(self.copies, lies.places, strict=True):
            stays = copy.ticked or lies.cloth.laid(place) == self.cloth.laid(copy.place)
            copies.append(replace(copy, place=place, reaches=copy.reaches if stays else None))
        return replace(self, cloth=lies.cloth, copies=tuple(copies))

    def placed(self, placements: Sequence[Placement]) -> "CutWork":
        """With each copy where it is placed on the table; those that lay so keep their places to the last digit."""
        places = tuple(
            copy.place if placement == before else self.cloth.lifted(placement)
            for copy, before, placement in zip(self.copies, self.placements, placements, strict=True)
        )
        return self.lying(Lies(cloth=self.cloth, places=places))

    def ticked(self, number: int, steps: tuple[str, ...]) -> "CutWork":
        """With those steps of a copy ticked off, and no others."""
        return self._with(number, replace(self.copies[number], ticked=steps))

    def reaching(self, number: int, reaches: Reaches | None) -> "CutWork":
        """With a copy cut in those reaches, or in one."""
        return self._with(number, replace(self.copies[number], reaches=reaches))

    def _with(self, number: int, copy: CopyWork) -> "CutWork":
        return replace(self, copies=(*self.copies[:number], copy, *self.copies[number + 1 :]))

    def afresh(self) -> "CutWork":
        """Everything where it lies, and nothing done."""
        copies = tuple(replace(copy, ticked=(), reaches=None) for copy in self.copies)
        return replace(self, copies=copies, begun=False, at=0, crosses_in=None)


def changes(kept: CutWork, now: CutWork) -> str:
    """What has changed since cutting began, in words; nothing where it has not begun."""
    if not kept.begun:
        return ""
    happened = [REALIGNED] if kept.aligned != now.aligned else []
    if kept.drawn != now.drawn:
        happened.append(LAID_ANEW if now.is_lay else REDRAWN)
    return ", ".join(happened)


def fitted(kept: CutWork, fresh: CutWork, pieces: Sequence[DraftedPiece]) -> CutWork:
    """Work that was kept, as the copies of `fresh`, whose `pieces` these are: a pattern may have changed meanwhile.

    A copy that was not there lies on the table as in `fresh`; one that has no fold any more is not opened.
    """
    known = {(copy.piece, copy.number): copy for copy in kept.copies}
    names = [(copy.piece, copy.number) for copy in fresh.copies]
    copies = tuple(
        _fitted(known[name], piece)
        if name in known
        else replace(copy, place=kept.cloth.lifted(fresh.cloth.laid(copy.place)))
        for name, copy, piece in zip(names, fresh.copies, pieces, strict=True)
    )
    at = next((names.index(name) for name in list(known)[kept.at : kept.at + 1] if name in names), 0)
    return replace(kept, copies=copies, drawn=fresh.drawn, aligned=fresh.aligned, at=at)


def _fitted(copy: CopyWork, piece: DraftedPiece) -> CopyWork:
    opened = copy.place.opened and piece.fold is not None
    return replace(copy, place=replace(copy.place, opened=opened))


def drawn_words(cut_lines: Iterable[Array]) -> str:
    """A few letters that are others once any of (n, 2) cut lines is: a checksum of all of them to 1/1000 in."""
    lines = [np.rint(1000 * line).astype(np.int64).tobytes() for line in cut_lines]
    return f"{zlib.crc32(b''.join(lines)):08x}"
