"""The keys of the cut station: while pieces are laid, while they are cut, and when cutting is come back to.

A presenter remote or a foot pedal sends page keys, and mostly the keys that blank and that start: these are enough.
"""

from dataclasses import replace
from typing import Final

from projector.actions import (
    Back,
    ChangeLayers,
    ChangeTool,
    CutInReaches,
    FindCloth,
    Flip,
    LayOn,
    Next,
    OpenAll,
    Redo,
    Show,
    Stand,
    Undo,
    Untick,
)
from projector.bindings import BLANK, CUT_BINDINGS, FREEZE, HELP, QUIT, SEEING_BINDINGS, SIDE, Binding

_PIECES: Final = Binding(
    shown="n, p", says="next piece; the one before", keys=("n", "p"), actions=(Flip(by=1), Flip(by=-1))
)
_NUMBERS: Final = Binding(
    shown="1 to 9",
    says="that piece",
    keys=tuple(str(number) for number in range(1, 10)),
    actions=tuple(Show(number=number) for number in range(1, 10)),
)
_BACK: Final = (
    Binding(shown="backspace, u", says="undo a move", keys=("backspace", "u"), actions=(Undo(),)),
    Binding(shown="y", says="redo it", keys=("y",), actions=(Redo(),)),
)
_TOOL: Final = Binding(
    shown="tab", says="on to the cloth; other tools", keys=("tab",), actions=(ChangeTool(),)
)
_DARK: Final = replace(BLANK, says="light off before you lean in; on")
_LEAVE: Final = replace(QUIT, says="leave; everything is kept")


def _pages(down: str, up: str) -> Binding:
    return Binding(
        shown="page down, up",
        says=f"{down}; {up}",
        keys=("page down", "page up"),
        actions=(Next(), Back()),
    )


BESIDE_TOOL: Final = (
    _TOOL,
    _pages("next, begin cutting", "before"),
    _PIECES,
    _NUMBERS,
    replace(FREEZE, says="freeze the light and cut"),
    *_BACK,
    *SEEING_BINDINGS,
    SIDE,
    _DARK,
    HELP,
    _LEAVE,
)
LAYING: Final = (
    *CUT_BINDINGS[4:9],
    Binding(shown="a", says="all half, or all opened", keys=("a",), actions=(OpenAll(),)),
    Binding(
        shown="d",
        says="two layers at once, or one",
        keys=("d",),
        actions=(ChangeLayers(),),
    ),
    CUT_BINDINGS[9],
    Binding(
        shown="g",
        says="cut a long piece in reaches",
        keys=("g",),
        actions=(CutInReaches(),),
    ),
    *BESIDE_TOOL,
)
_FREE: Final = replace(FREEZE, says="free the light, to lay pieces anew")
CUTTING: Final = (
    _pages("that is done, on to the next", "the piece before, as it stands"),
    _DARK,
    _PIECES,
    _NUMBERS,
    Binding(shown="home", says="back to where the work stands", keys=("home", "w"), actions=(Stand(),)),
    Binding(
        shown="x, delete",
        says="that was not done: take the last tick back",
        keys=("x", "delete"),
        actions=(Untick(),),
    ),
    replace(_TOOL, says="the tape measure, the seam gauge"),
    *SEEING_BINDINGS,
    _FREE,
    _LEAVE,
)
BESIDE_FROZEN_TOOL: Final = (
    Binding(
        shown="tab, page keys",
        says="on with cutting",
        keys=("tab", "page down", "page up"),
        actions=(ChangeTool(),),
    ),
    _BACK[0],
    _PIECES,
    _NUMBERS,
    *SEEING_BINDINGS,
    _FREE,
    _DARK,
    _LEAVE,
)
ASKING: Final = (
    _pages("it lies where it lay", "the piece before"),
    Binding(shown="m", says="it has moved: find it by its crosses", keys=("m",), actions=(FindCloth(),)),
    Binding(shown="l", says="it has moved: mark its fold", keys=("l",), actions=(LayOn(),)),
    replace(FREEZE, says="it has moved: lay the pieces anew"),
    _PIECES,
    SIDE,
    _DARK,
    HELP,
    _LEAVE,
)
