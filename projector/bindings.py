"""Which key asks for what, by the keys' names; the same table works the keys and writes the help."""

from collections.abc import Iterator
from dataclasses import dataclass, replace
from typing import Final

from projector.actions import (
    Accept,
    Action,
    Blank,
    ChangeLine,
    ChangeLook,
    ChangeSide,
    ChangeStep,
    ChangeText,
    Finish,
    Flip,
    Freeze,
    Help,
    Home,
    Mirror,
    Move,
    Open,
    Quit,
    Show,
    ShowGrid,
    ShowRepeats,
    TakeUp,
    Turn,
    Type,
    Undo,
)


@dataclass(frozen=True, slots=True, kw_only=True)
class Binding:
    """`keys` are names as the keyboard reports them, or the mouse's buttons; each goes with the action of its place.

    `signs` are taken as text, before any key that types them is looked for.
    """

    shown: str
    says: str
    keys: tuple[str, ...] = ()
    actions: tuple[Action, ...] = ()
    signs: str = ""

    def pairs(self) -> Iterator[tuple[str, Action]]:
        """Each key with its action."""
        if len(self.actions) == 1:
            return ((key, self.actions[0]) for key in self.keys)
        return zip(self.keys, self.actions, strict=True)


ARROWS: Final = Binding(
    shown="arrows",
    says="move; with shift, the other step",
    keys=("left", "right", "up", "down"),
    actions=(Move(right=-1), Move(right=1), Move(away=1), Move(away=-1)),
)
POINTER: Final = Binding(shown="mouse", says="moves the cross")  # where it stands, the pointer is followed
STEP: Final = Binding(shown="s", says="coarse or fine steps", keys=("s",), actions=(ChangeStep(),))
SIDE: Final = Binding(shown="t", says="turn the words to my side", keys=("t",), actions=(ChangeSide(),))
ON_MARK: Final = Binding(
    shown="enter",
    says="the cross lies on the mark",
    keys=("return", "enter", "page down"),
    actions=(Accept(),),
)
UNDO: Final = Binding(shown="backspace, u", says="undo", keys=("backspace", "u"), actions=(Undo(),))
# Presenter remotes send "." or "b" for a black screen, F5 and escape in turn for their start button.
BLANK: Final = Binding(
    shown="space, b, .", says="light off or on", keys=("space", "b", "."), actions=(Blank(),)
)
FREEZE: Final = Binding(
    shown="f, F5", says="freeze for cutting, or free", keys=("f", "f5", "escape"), actions=(Freeze(),)
)
HELP: Final = Binding(shown="h", says="these keys", keys=("h", "f1", "?"), actions=(Help(),))
QUIT: Final = Binding(shown="q", says="leave; places are kept", keys=("q",), actions=(Quit(),))

CUT_BINDINGS: Final = (
    Binding(
        shown="page down, n; page up, p",
        says="next piece; the one before",
        keys=("page down", "n", "page up", "p"),
        actions=(Flip(by=1), Flip(by=1), Flip(by=-1), Flip(by=-1)),
    ),
    Binding(
        shown="1 to 9",
        says="that piece",
        keys=tuple(str(number) for number in range(1, 10)),
        actions=tuple(Show(number=number) for number in range(1, 10)),
    ),
    FREEZE,
    BLANK,
    replace(ARROWS, shown="arrows, mouse"),
    Binding(
        shown="l, r",
        says="turn left, right",
        keys=("l", "r"),
        actions=(Turn(anticlockwise=1), Turn(anticlockwise=-1)),
    ),
    STEP,
    Binding(shown="m", says="mirror", keys=("m",), actions=(Mirror(),)),
    Binding(shown="o", says="half or opened full", keys=("o",), actions=(Open(),)),
    Binding(shown="home", says="back to the middle", keys=("home", "c"), actions=(Home(),)),
    UNDO,
    SIDE,
    HELP,
    QUIT,
)

SEEING_BINDINGS: Final = (
    Binding(shown="k", says="look for another kind of cloth", keys=("k",), actions=(ChangeLook(),)),
    Binding(
        shown="[, ]",
        says="cut line narrower, wider",
        keys=("[", "]"),
        actions=(ChangeLine(by=-1), ChangeLine(by=1)),
    ),
    Binding(
        shown="-, =",
        says="words smaller, larger",
        keys=("-", "=", "+"),
        actions=(ChangeText(by=-1), ChangeText(by=1), ChangeText(by=1)),
    ),
    Binding(shown="i", says="the cut line repeated beside it", keys=("i",), actions=(ShowRepeats(),)),
    Binding(shown="#", says="grid: inches, centimetres, none", keys=("#",), actions=(ShowGrid(),)),
)

ALIGN_BINDINGS: Final = (
    replace(ARROWS, shown="arrows, mouse"),
    STEP,
    ON_MARK,
    Binding(shown="r", says="redo the mark that disagrees", keys=("r",), actions=(TakeUp(),)),
    UNDO,
    Binding(shown="d", says="done: save and leave", keys=("d",), actions=(Finish(),)),
    SIDE,
    BLANK,
    HELP,
    replace(QUIT, says="leave; the crosses are kept"),
)


RULER_BINDINGS: Final = (
    Binding(
        shown="digits, space, /, ., in, cm, mm",
        says="what the tape says",
        signs='0123456789 /.,-incm"¼½¾⅛⅜⅝⅞',
    ),
    Binding(shown="enter", says="that is it; the next line", keys=("return", "enter"), actions=(Accept(),)),
    Binding(
        shown="backspace", says="erase; at the start, the line before", keys=("backspace",), actions=(Undo(),)
    ),
    SIDE,
    replace(BLANK, shown="b", keys=("b",)),
    HELP,
    replace(QUIT, says="leave; before the end nothing is kept"),
)


def typed_by(bindings: tuple[Binding, ...], sign: str) -> Type | None:
    """The sign as text where text is taken and it may stand in it, else None.

    A capital counts as small where capitals have no place.
    """
    signs = "".join(binding.signs for binding in bindings)
    return next((Type(text=one) for one in (sign, sign.lower()) if len(one) == 1 and one in signs), None)


def action_of(bindings: tuple[Binding, ...], key: str, *, shift: bool) -> Action | None:
    """What the key asks for, or None for a key that has no meaning here."""
    for binding in bindings:
        for name, action in binding.pairs():
            if name == key:
                if shift and isinstance(action, Move | Turn):
                    return replace(action, other_step=True)
                return action
    return None
