"""The keys of tracing: while the outline grows, while it is pulled, and while something is asked for."""

from dataclasses import replace
from string import ascii_letters, digits
from typing import Final

from projector.actions import (
    Accept,
    Cancel,
    ChangeOffset,
    Finish,
    Insert,
    MoveEdge,
    NameEdge,
    Offer,
    PutDown,
    Redo,
    Remove,
    SetCurve,
    Smooth,
    Straighten,
    TakeUp,
    TurnPoint,
    Undo,
)
from projector.bindings import ARROWS, BLANK, FREEZE, HELP, POINTER, QUIT, RULER_BINDINGS, SIDE, STEP, Binding

ENTER: Final = ("return", "enter")
_MOVING: Final = (
    ARROWS,
    STEP,
    POINTER,
    Binding(
        shown="o",
        says="cross beside the pointer: off, up, left, right",
        keys=("o",),
        actions=(ChangeOffset(),),
    ),
)
_IN_HAND: Final = (
    Binding(shown="p", says="pick up the nearest point, or put it down", keys=("p",), actions=(TakeUp(),)),
    Binding(shown="i", says="insert a point in the nearest edge", keys=("i",), actions=(Insert(),)),
    Binding(shown="x, delete", says="take away the point in hand", keys=("x", "delete"), actions=(Remove(),)),
)
_NAME: Final = Binding(shown="n", says="name the nearest edge", keys=("n",), actions=(NameEdge(),))
_BACK: Final = (
    Binding(shown="backspace, u", says="undo; with a point in hand, put it back", keys=("backspace", "u"),
            actions=(Undo(),)),
    Binding(shown="y", says="redo", keys=("y",), actions=(Redo(),)),
)  # fmt: skip
_LIGHT: Final = (
    SIDE,
    replace(FREEZE, says="hold the light still, or free"),
    BLANK,
    HELP,
    replace(QUIT, says="leave; all is kept for the next time"),
)

GROWING: Final = (
    Binding(
        shown="enter, left button",
        says="a corner is here; the fold's top and bottom first",
        keys=(*ENTER, "left button"),
        actions=(Accept(),),
    ),
    Binding(
        shown="c, right button",
        says="a curve point is here",
        keys=("c", "right button"),
        actions=(SetCurve(),),
    ),
    *_MOVING,
    *_IN_HAND,
    Binding(shown="k", says="corner or curve: turn the point in hand", keys=("k",), actions=(TurnPoint(),)),
    _NAME,
    *_BACK,
    Binding(shown="d", says="done: close the outline; then write it", keys=("d",), actions=(Finish(),)),
    *_LIGHT,
)

PULLING: Final = (
    Binding(
        shown="left button, enter",
        says="take the nearest point, and leave it here",
        keys=("left button", "left button let go", *ENTER),
        actions=(TakeUp(), PutDown(), TakeUp(), TakeUp()),
    ),
    *_MOVING,
    *_IN_HAND,
    Binding(shown="m", says="smooth the nearest edge", keys=("m",), actions=(Smooth(),)),
    Binding(shown="r", says="straighten it, as with a ruler", keys=("r",), actions=(Straighten(),)),
    Binding(shown="e", says="move it out or in: folded away, left off", keys=("e",), actions=(MoveEdge(),)),
    _NAME,
    *_BACK,
    Binding(shown="d", says="done", keys=("d",), actions=(Finish(),)),
    *_LIGHT,
)

_ANSWERING: Final = (
    Binding(shown="enter", says="that is it", keys=ENTER, actions=(Accept(),)),
    Binding(shown="backspace", says="erase", keys=("backspace",), actions=(Undo(),)),
    Binding(shown="escape", says="leave it as it was", keys=("escape",), actions=(Cancel(),)),
)
_FIXED: Final = (replace(FREEZE, shown="F5", keys=("f5",)), replace(HELP, shown="F1", keys=("f1",)))

NAMING: Final = (
    Binding(shown="letters, space", says="the edge's name", signs=ascii_letters + digits + " '-"),
    Binding(shown="tab", says="one of the usual names", keys=("tab",), actions=(Offer(),)),
    *_ANSWERING,
    replace(BLANK, shown=".", keys=(".",)),
    *_FIXED,
)

ASKING_LENGTH: Final = (
    replace(RULER_BINDINGS[0], says="out by so much; with - before it, in"),
    *_ANSWERING,
    replace(BLANK, shown="b", keys=("b",)),
    *_FIXED,
)
