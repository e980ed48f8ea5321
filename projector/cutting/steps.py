"""What is to be done to a piece before it is lifted off the cloth, step by step: cut it, then mark it."""

from collections.abc import Iterator
from dataclasses import dataclass
from functools import lru_cache

from patterns.cutting.drafted import DraftedPiece


@dataclass(frozen=True, slots=True, kw_only=True)
class Step:
    """`name` is kept in the file; `does` says what to do, `done` that it is done."""

    name: str
    does: str
    done: str


CUT = Step(name="cut", does="cut along the solid line", done="it is cut")


@lru_cache(maxsize=256)
def steps_of(piece: DraftedPiece) -> tuple[Step, ...]:
    """The steps in order; cutting is the first."""
    return (CUT, *_marks(piece))


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
    """Where the notches are, edge by edge, with how many clips where there is more than one."""
    return ", ".join(notch.edge + (f" {notch.count}" if notch.count > 1 else "") for notch in piece.notches)
