"""The one object that changes: what is on the table, what came before it, and how the light is held."""

from typing import Generic, Protocol, Self, TypeVar, runtime_checkable

from projector.actions import Action, Aim, Blank, Drag, Freeze, Grab, Help, Quit, Undo
from projector.bindings import Binding
from projector.scene import Controls, Scene

MOST_UNDONE = 1000


class Station(Protocol):
    """A frozen value: what one part of the job shows, and what it becomes after an action."""

    @property
    def bindings(self) -> tuple[Binding, ...]:
        """The keys that have a meaning here."""

    @property
    def finished(self) -> bool:
        """Whether its job is done."""

    def after(self, action: Action) -> Self:
        """The station after the action."""

    def can_undo(self, action: Action) -> bool:
        """Whether `Undo` comes back to the value from before this action."""

    def scene(self, controls: Controls) -> Scene:
        """What it shows."""


@runtime_checkable
class HoldsLight(Protocol):
    """A station that is frozen and freed by rules of its own: it takes `Freeze` itself."""

    @property
    def frozen(self) -> bool:
        """Whether the light must stay where it is."""

    @property
    def lies(self) -> object:
        """Where the light is: while it is frozen no action is taken that would change this."""


S = TypeVar("S", bound=Station)


class Session(Generic[S]):
    """Takes actions one by one; knows no keys and no window."""

    def __init__(self, station: S, *, preview: bool = False) -> None:
        self.station = station
        self.preview = preview
        self.blank = False
        self._held = False
        self.helping = False
        self.left = False
        self._grabbed = False
        self._before: list[S] = []

    @property
    def finished(self) -> bool:
        """Whether the window should close."""
        return self.left or self.station.finished

    @property
    def frozen(self) -> bool:
        """Whether the light is held still."""
        return self.station.frozen if isinstance(self.station, HoldsLight) else self._held

    def take(self, action: Action) -> None:
        """Do what was asked. A blank light can only be lit again; a frozen one stays where it is till it is freed."""
        match action:
            case Quit():
                self.left = True
            case Blank():
                self.blank = not self.blank
            case _ if self.blank:
                return
            case Freeze():
                self.helping = False
                self._freeze()
            case _ if self.frozen:
                self._work_on(action)
            case Help():
                self.helping = not self.helping
            case Aim() if self.helping:
                return  # a mouse that is touched asks for nothing
            case _:
                self.helping = False
                self._change(action)

    def scene(self) -> Scene:
        """The layers to be lit now; none when blank."""
        if self.blank:
            return ()
        return self.station.scene(Controls(frozen=self.frozen, helping=self.helping, preview=self.preview))

    def _freeze(self) -> None:
        if isinstance(self.station, HoldsLight):
            self.station = self.station.after(Freeze())
        else:
            self._held = not self._held

    def _work_on(self, action: Action) -> None:
        """What can be done in a frozen light: whatever leaves it where it is."""
        if isinstance(self.station, HoldsLight):
            changed = self.station.after(action)
            if changed.lies == self.station.lies:
                self.station = changed

    def _change(self, action: Action) -> None:
        if isinstance(action, Undo) and self._before:
            self.station = self._before.pop()
            return
        changed = self.station.after(action)
        # A drag is many small moves; only the first after the button went down is gone back to.
        goes_on = isinstance(action, Drag) and not self._grabbed
        self._grabbed = isinstance(action, Grab)
        if self.station.can_undo(action) and not goes_on and changed is not self.station:
            self._before = [*self._before[-MOST_UNDONE:], self.station]
        self.station = changed
