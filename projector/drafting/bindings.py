"""The keys of drafting: on the list of changes, on the traced points, on the piece as it lies, and while typing."""

from dataclasses import replace
from string import ascii_letters
from typing import Final

from projector.actions import (
    Accept,
    AddChange,
    ChangeHems,
    ChangeSeams,
    ChangeTool,
    ChangeVersion,
    Insert,
    Move,
    Next,
    PutDown,
    Redo,
    Remove,
    Rewrite,
    ShowJoined,
    Smooth,
    Straighten,
    SwitchChange,
    TakeUp,
    Undo,
)
from projector.bindings import (
    ARROWS,
    BLANK,
    CUT_BINDINGS,
    FREEZE,
    HELP,
    POINTER,
    QUIT,
    RULER_BINDINGS,
    SIDE,
    STEP,
    Binding,
)
from projector.tracing.bindings import ASKING_LENGTH, ENTER, NAMING

_PIECES: Final = CUT_BINDINGS[:2]
_PLACES: Final = CUT_BINDINGS[4:10]
_TOOL: Final = Binding(
    shown="tab", says="arrows for: the changes, the points, the piece", keys=("tab",), actions=(ChangeTool(),)
)
_VERSION: Final = Binding(
    shown="v", says="another version of the pattern", keys=("v",), actions=(ChangeVersion(),)
)
_JOINED: Final = Binding(
    shown="j", says="what is sewn to it beside it, seam by seam", keys=("j",), actions=(ShowJoined(),)
)
_POINT: Final = (
    POINTER,
    Binding(
        shown="left button",
        says="pull a point, or an edge away from its points",
        keys=("left button", "left button let go"),
        actions=(TakeUp(), PutDown()),
    ),
)
_BACK: Final = (
    Binding(
        shown="backspace, u", says="undo, as far as you like", keys=("backspace", "u"), actions=(Undo(),)
    ),
    Binding(shown="y", says="redo", keys=("y",), actions=(Redo(),)),
)
_LIGHT: Final = (
    SIDE,
    replace(FREEZE, says="hold the light still, or free"),
    BLANK,
    replace(HELP, says="these keys, and back"),
    replace(QUIT, says="leave; every change is in the file"),
)
_OUT: Final = ("x", "delete")

CHANGES: Final = (
    Binding(
        shown="up, down",
        says="another number; with shift, its change earlier or later",
        keys=("up", "down"),
        actions=(Move(away=1), Move(away=-1)),
    ),
    Binding(
        shown="left, right",
        says="less, more; with shift, the other step",
        keys=("left", "right"),
        actions=(Move(right=-1), Move(right=1)),
    ),
    STEP,
    Binding(shown="enter", says="type the number", keys=ENTER, actions=(Accept(),)),
    Binding(shown="o", says="switch the change off, or on", keys=("o",), actions=(SwitchChange(),)),
    Binding(shown="e", says="write the change anew", keys=("e",), actions=(Rewrite(),)),
    Binding(shown="a", says="add a change after it", keys=("a",), actions=(AddChange(),)),
    Binding(shown="x, delete", says="take the change out", keys=_OUT, actions=(Remove(),)),
    Binding(
        shown="w, m",
        says="seams finished another way; hems folded once, twice",
        keys=("w", "m"),
        actions=(ChangeSeams(), ChangeHems()),
    ),
    *_BACK,
    *_POINT,
    _TOOL,
    _VERSION,
    _JOINED,
    *_PIECES,
    *_LIGHT,
)

POINTS: Final = (
    ARROWS,
    STEP,
    Binding(
        shown="enter",
        says="take the point or the edge here, and leave it",
        keys=ENTER,
        actions=(TakeUp(),),
    ),
    Binding(shown="c", says="cross on to the next point round the piece", keys=("c",), actions=(Next(),)),
    Binding(shown="i", says="insert a point in the nearest edge", keys=("i",), actions=(Insert(),)),
    Binding(shown="x, delete", says="take away the point in hand", keys=_OUT, actions=(Remove(),)),
    Binding(
        shown="e, r",
        says="smooth the nearest edge; straighten it",
        keys=("e", "r"),
        actions=(Smooth(), Straighten()),
    ),
    *_BACK,
    *_POINT,
    _TOOL,
    _VERSION,
    _JOINED,
    *_PIECES,
    *_LIGHT,
)

PLACING: Final = (*_PLACES, *_BACK, _TOOL, _VERSION, _JOINED, *_PIECES, *_LIGHT)

TYPING_NUMBER: Final = (
    replace(RULER_BINDINGS[0], says="the number"),
    *ASKING_LENGTH[1:],
)
TYPING_CHANGE: Final = (
    Binding(
        shown="letters, digits, signs",
        says="what the change says",
        signs=ascii_letters + RULER_BINDINGS[0].signs + "'",
    ),
    replace(NAMING[1], says="another of the changes there are"),
    *ASKING_LENGTH[1:4],
    replace(BLANK, shown="F6", keys=("f6",)),  # every letter may be meant
    *ASKING_LENGTH[5:],
)
