"""The keys of the tools that set marks on the cloth with the cross of light."""

from dataclasses import replace
from typing import Final

from projector.actions import (
    Accept,
    Back,
    ChangeEdge,
    ChangeOffset,
    FindCloth,
    Forget,
    LayGauge,
    LayOn,
    Next,
    OtherSide,
    Turn,
    Undo,
)
from projector.bindings import ARROWS, BLANK, FREEZE, HELP, POINTER, QUIT, SIDE, STEP, Binding

_SET: Final = ("return", "enter", "left button")
_MOVING: Final = (
    ARROWS,
    POINTER,
    STEP,
    Binding(shown="o", says="cross beside the pointer: off, up, left, right", keys=("o",),
            actions=(ChangeOffset(),)),
)  # fmt: skip
_FORGET: Final = Binding(shown="delete, x", says="marks anew", keys=("delete", "x"), actions=(Forget(),))

BY_EDGE: Final = (
    Binding(shown="enter, left button", says="a mark is here: two on the fold or selvedge, one more to slide",
            keys=_SET, actions=(Accept(),)),
    *_MOVING,
    Binding(shown="m", says="to the other side of that line", keys=("m",), actions=(OtherSide(),)),
    Binding(shown="c", says="marks on the selvedge, or on a thread", keys=("c",), actions=(ChangeEdge(),)),
    Binding(shown="l", says="lay this piece by the same marks", keys=("l",), actions=(LayOn(),)),
    _FORGET,
)  # fmt: skip
MEASURING: Final = (
    Binding(shown="enter, left button", says="measure from here; to here; anew", keys=_SET, actions=(Accept(),)),
    *_MOVING,
    Binding(shown="g", says="a seam gauge at the cross, or none", keys=("g",), actions=(LayGauge(),)),
    Binding(shown="l, r", says="turn the gauge left, right", keys=("l", "r"),
            actions=(Turn(anticlockwise=1), Turn(anticlockwise=-1))),
    _FORGET,
)  # fmt: skip
CROSSING: Final = (
    Binding(shown="enter, left button", says="a cross to find the cloth by is here: two, far apart",
            keys=_SET, actions=(Accept(),)),
    *_MOVING,
    Binding(shown="m", says="the cloth has moved: find it by the crosses", keys=("m",), actions=(FindCloth(),)),
    _FORGET,
)  # fmt: skip
FINDING: Final = (
    Binding(shown="enter, left button", says="the cross is on the mark: first 1, then 2", keys=_SET,
            actions=(Accept(),)),
    *_MOVING,
    Binding(shown="page down; page up", says="the marks lie on the crosses; not yet",
            keys=("page down", "page up"), actions=(Next(), Back())),
    Binding(shown="backspace, u", says="both marks anew", keys=("backspace", "u"), actions=(Undo(),)),
    replace(FREEZE, says="lay the pieces anew instead"),
    SIDE,
    BLANK,
    HELP,
    replace(QUIT, says="leave; everything is kept"),
)  # fmt: skip
