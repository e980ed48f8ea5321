"""The one object that changes: the station that is on the table, and how the light is held."""

from typing import Generic, Protocol, Self, TypeVar, cast, runtime_checkable

from projector.actions import Action, Aim, Blank, Freeze, Help, Quit
from projector.bindings import Binding
from projector.scene import Controls, Scene


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


@runtime_checkable
class Remembers(Protocol):
    """A station whose undo outlives it, while the window stays open."""

    def remembering(self, left: Self) -> Self:
        """Itself with what could be undone when `left` was left, if it begins where that one ended."""


S = TypeVar("S", bound=Station)


class Session(Generic[S]):
    """Takes actions one by one; knows no keys and no window."""

    def __init__(self, station: S, *, preview: bool = False) -> None:
        self.station = station
        self._holds_light = isinstance(station, HoldsLight)  # asked once: a station stays of its kind
        self.preview = preview
        self.blank = False
        self._held = False
        self.helping = False
        self.left = False
        self.unheard = False

    @property
    def finished(self) -> bool:
        """Whether the window should close."""
        return self.left or self.station.finished

    @property
    def frozen(self) -> bool:
        """Whether the light is held still."""
        return cast(HoldsLight, self.station).frozen if self._holds_light else self._held

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
                self.station = self.station.after(action)

    def remember(self, left: Station | None) -> None:
        """Take over the undo of a station of the same kind that was left."""
        if isinstance(self.station, Remembers) and isinstance(left, type(self.station)):
            self.station = self.station.remembering(left)

    def scene(self) -> Scene:
        """The layers to be lit now; none when blank."""
        if self.blank:
            return ()
        return self.station.scene(
            Controls(frozen=self.frozen, helping=self.helping, preview=self.preview, unheard=self.unheard)
        )

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
