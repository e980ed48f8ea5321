"""How far the work is: what is still to be done to each copy, and which comes next."""

from bisect import bisect_right
from collections.abc import Sequence
from dataclasses import dataclass, replace

from patterns.cutting.drafted import DraftedPiece
from patterns.cutting.placement import Placement
from projector.cloth.laid_pieces import in_the_middle
from projector.cutting.steps import Step, steps_of
from projector.cutting.work import CopyWork, CutWork, drawn_words
from projector.lighting.lit_area import LitArea
from projector.person import Person


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Copies:
    """The work with the piece of each copy, in the order they are cut. Copies are known by their place in it."""

    pieces: tuple[DraftedPiece, ...]
    work: CutWork

    def steps_left(self, number: int) -> tuple[Step, ...]:
        """What is still to be done to a copy."""
        copy = self.work.copies[number]
        steps = steps_of(self.pieces[number], copy.reaches) if copy.gives else ()
        return tuple(step for step in steps if step.name not in copy.ticked)

    @property
    def order(self) -> tuple[int, ...]:
        """Those that are cut by themselves, in order; others come with one of them, through two layers."""
        return tuple(number for number, copy in enumerate(self.work.copies) if copy.gives)

    def beside(self, number: int, by: int) -> int:
        """The copy so many on in the order, or back, and round it; one that comes with another counts as that one."""
        place = bisect_right(self.order, number) - 1
        return self.order[(place + by) % len(self.order)]

    def still_to_cut(self, shown: int) -> tuple[int, ...]:
        """The copies at which something is still to be done: those after the lit one first, that one last."""
        count = len(self.pieces)
        order = [(shown + by) % count for by in range(1, count + 1)]
        return tuple(number for number in order if self.steps_left(number))

    def standing(self, shown: int) -> int:
        """The copy at work, or the next at which something is to be done; the lit one where all is done."""
        if self.steps_left(self.work.at):
            return self.work.at
        return next(iter(self.still_to_cut(shown)), shown)

    def of_piece(self, number: int) -> int | None:
        """The first copy with something to do, or else the first, of the piece with that number, counted from 1.

        None where there is no such piece.
        """
        names = list(dict.fromkeys(copy.piece for copy in self.work.copies))
        if number > len(names):
            return None
        copies = [i for i, copy in enumerate(self.work.copies) if copy.piece == names[number - 1]]
        return next((i for i in copies if self.steps_left(i)), copies[0])

    def at(self, number: int) -> CutWork:
        """The work at that copy, if there is any to do."""
        return replace(self.work, at=number) if self.steps_left(number) else self.work


def laid_out(pieces: Sequence[DraftedPiece], lit: LitArea, person: Person) -> Copies:
    """As many copies of each piece as are cut, all in the middle of the light; nothing is done yet."""
    copies = [
        CopyWork(
            piece=piece.name,
            number=number,
            place=in_the_middle(piece, Placement(mirrored=is_mirrored(piece, number)), lit, person),
        )
        for piece in pieces
        for number in range(1, piece.cut.count + 1)
    ]
    copied = tuple(piece for piece in pieces for _ in range(piece.cut.count))
    return Copies(
        pieces=copied,
        work=CutWork(copies=tuple(copies), drawn=drawn_words(piece.cut_line for piece in pieces)),
    )


def is_mirrored(piece: DraftedPiece, number: int) -> bool:
    """Whether that copy, counted from 1, is the other hand of a pair: all of one hand come before all of the other."""
    return piece.cut.mirrored and 2 * number > piece.cut.count
