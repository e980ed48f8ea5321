"""The keys at the lay station: while a piece is moved on the cloth, and while the cloth is placed on the table."""

from dataclasses import replace
from typing import Final

from projector.actions import Accept, ChangeTool, Flip, Forget, Home, Mirror, Open, Redo, Show, Turn, Undo
from projector.bindings import ARROWS, BLANK, FREEZE, HELP, POINTER, QUIT, SIDE, STEP, Binding
from projector.tracing.bindings import ENTER

_PAGES: Final = (
    Binding(
        shown="page down, n; page up, p",
        says="the next step; the one before",
        keys=("page down", "n", "page up", "p"),
        actions=(Flip(by=1), Flip(by=1), Flip(by=-1), Flip(by=-1)),
    ),
    Binding(
        shown="1 to 9",
        says="that piece",
        keys=tuple(str(number) for number in range(1, 10)),
        actions=tuple(Show(number=number) for number in range(1, 10)),
    ),
)
_HOME: Final = Binding(
    shown="home, c", says="slide the cloth until this is in the light", keys=("home", "c"), actions=(Home(),)
)
_TOOL: Final = Binding(
    shown="tab",
    says="arrows and mouse for: the piece, the cloth, marks on it",
    keys=("tab",),
    actions=(ChangeTool(),),
)
_REST: Final = (
    Binding(
        shown="backspace, u", says="undo, as far as you like", keys=("backspace", "u"), actions=(Undo(),)
    ),
    Binding(shown="y", says="redo", keys=("y",), actions=(Redo(),)),
    SIDE,
    replace(FREEZE, says="hold the light still, or free"),
    BLANK,
    HELP,
    replace(QUIT, says="leave; the lay is kept"),
)

MOVING: Final = (
    *_PAGES,
    replace(ARROWS, shown="arrows, mouse", says="move the piece on the cloth; with shift, the other step"),
    STEP,
    Binding(
        shown="r",
        says="turn it about, its top where its bottom was",
        keys=("r",),
        actions=(Turn(anticlockwise=1),),
    ),
    Binding(shown="m", says="turn it over", keys=("m",), actions=(Mirror(),)),
    Binding(shown="o", says="on another fold, or opened full", keys=("o",), actions=(Open(),)),
    _TOOL,
    _HOME,
    *_REST,
)
SLIDING: Final = (
    *_PAGES,
    replace(ARROWS, shown="arrows, mouse", says="slide the cloth's light; with shift, the other step"),
    STEP,
    Binding(
        shown="l, r",
        says="turn it left, right",
        keys=("l", "r"),
        actions=(Turn(anticlockwise=1), Turn(anticlockwise=-1)),
    ),
    _TOOL,
    _HOME,
    *_REST,
)
MARKING: Final = (
    *_PAGES,
    replace(ARROWS, says="move the cross; with shift, the other step"),
    STEP,
    POINTER,
    Binding(
        shown="enter, left button",
        says="a mark on the edge of the cloth: first at the squared end",
        keys=(*ENTER, "left button"),
        actions=(Accept(),),
    ),
    Binding(shown="x, delete", says="forget the mark", keys=("x", "delete"), actions=(Forget(),)),
    _TOOL,
    *_REST,
)
