"""What is to be done to a piece before it is lifted off the cloth, step by step: cut it, then mark it."""

from collections.abc import Iterator
from dataclasses import dataclass, replace
from functools import lru_cache
from typing import Final

import numpy as np

from calibration.frames import Array
from patterns.cutting.drafted import DraftedPiece
from projector.cloth.reaches import Reaches


@dataclass(frozen=True, slots=True, kw_only=True)
class Step:
    """`name` is kept in the file; `does` says what to do, `done` that it is done."""

    name: str
    does: str
    done: str

    @property
    def cuts(self) -> bool:
        """Whether it is done with the blade."""
        return self.name.split()[0] == "cut"

    @property
    def marks(self) -> bool:
        """Whether crosses are marked on the cloth."""
        return self.name.split()[0] == CROSSES


CUT = Step(name="cut", does="cut along the solid line", done="it is cut")


CLIPS: Final = {1: "single", 2: "double", 3: "triple"}
BLADE: Final = "close the blade"
LIGHT_OUT: Final = "b puts the light out before you lean in"
CROSSES: Final = "crosses"
SLIDE: Final = "slide"


def is_slide(name: str) -> bool:
    """Whether the step of that name is that the cloth is slid."""
    return name.startswith(f"{SLIDE} ")


@lru_cache(maxsize=256)
def steps_of(piece: DraftedPiece, reaches: Reaches | None = None) -> tuple[Step, ...]:
    """The steps in order; cutting is the first. In reaches, each has its own, and then the cloth is slid."""
    return (CUT, *_marks(piece)) if reaches is None else tuple(_in_reaches(piece, reaches))


def _in_reaches(piece: DraftedPiece, reaches: Reaches) -> Iterator[Step]:
    count = len(reaches.reaches)
    for number, reach in enumerate(reaches.reaches, start=1):
        to = "to the end" if number == count else "up to the end sign"
        yield Step(name=f"cut {number}", does=f"cut {to}", done=f"reach {number} is cut")
        for step in _marks(_part(piece, reaches, number - 1)):
            yield replace(step, name=f"{step.name} {number}")
        if reach.crosses is not None:
            both = "mark both crosses: chalk or pins"
            yield Step(name=f"{CROSSES} {number}", does=both, done="both are marked")
            yield Step(name=f"{SLIDE} {number}", does="slide the cloth on", done="slide it")


def _part(piece: DraftedPiece, reaches: Reaches, number: int) -> DraftedPiece:
    """The piece with the marks that are made in a reach, counted from 0."""
    block = reaches.block(number)

    def within(clip: Array) -> bool:
        ways = np.array([[1.0, 1.0], [-1.0, 1.0]])[: 1 if piece.fold is None else 2]  # opened, both halves
        return bool(block.holds(clip[0] * ways).any())

    notches = tuple(notch for notch in piece.notches if within(notch.clips[0]))
    return replace(piece, notches=notches, clips=tuple(clip for clip in piece.clips if within(clip)))


def _marks(piece: DraftedPiece) -> Iterator[Step]:
    if piece.notches:
        yield Step(name="notches", does=f"clip the notches: {_said(piece)}", done="notches are clipped")
    at_fold = [clip for clip in piece.clips if not clip[:, 0].any()]
    if at_fold:
        yield Step(name="V point", does="tack the V point", done="the V point is tacked")
    corners = len(piece.clips) - len(at_fold)
    if corners:
        many = f"{corners} inner corners" if corners > 1 else "the inner corner"
        yield Step(name="corners", does=f"tack {many}", done=f"{many} tacked")


def _said(piece: DraftedPiece) -> str:
    """Where the notches are, edge by edge, and which they are where they are not one single one."""
    edges: dict[str, list[str]] = {}
    for notch in piece.notches:
        edges.setdefault(notch.edge, []).append(CLIPS[notch.count])
    return ", ".join(
        edge if notches == [CLIPS[1]] else f"{edge} {' + '.join(notches)}" for edge, notches in edges.items()
    )
