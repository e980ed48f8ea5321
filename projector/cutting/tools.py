"""What the arrow keys and the mouse work on while pieces are laid."""

from dataclasses import dataclass
from typing import TYPE_CHECKING, Final, Protocol

from patterns.tracing.hand_trace import Place
from projector.actions import (
    Action,
    ChangeLayers,
    ChangeStep,
    CutInReaches,
    Drag,
    Grab,
    Home,
    Mirror,
    Move,
    Open,
    OpenAll,
    Turn,
)
from projector.bindings import Binding
from projector.cutting.bindings import LAYING
from projector.cutting.in_reaches import in_reaches_if_larger, reaches_words
from projector.cutting.layers import layers_changed
from projector.scene import Scene

if TYPE_CHECKING:
    from projector.stations.cut import CutStation


HELD_BY_LAY: Final = "the lay says how it lies on the cloth: chalkbeam lay changes that"


class CutTool(Protocol):
    """A frozen value that the station holds while it is in use; it may keep what it has so far."""

    @property
    def name(self) -> str:
        """What the strip calls it."""

    @property
    def bindings(self) -> tuple[Binding, ...]:
        """The keys that have a meaning with it."""

    @property
    def set_in(self) -> tuple[Place, ...]:
        """The marks that are set with it, in table inches: words keep off them."""

    def taken_up(self, station: "CutStation") -> "CutTool":
        """The tool as it begins."""

    def after(self, station: "CutStation", action: Action) -> "CutStation":
        """The station after an action; for one that is not the tool's own, what the station makes of it."""

    def heading(self, station: "CutStation") -> tuple[str, ...]:
        """What it says first, in large letters; nothing where the piece itself is at hand."""

    def words(self, station: "CutStation") -> tuple[str, ...]:
        """What the strip says of it besides."""

    def layers(self, station: "CutStation") -> Scene:
        """What is lit besides the piece."""


@dataclass(frozen=True, slots=True, kw_only=True)
class PieceTool:
    """The arrows and the mouse move the piece that is lit."""

    @property
    def name(self) -> str:
        """What the strip calls it."""
        return "the piece"

    @property
    def bindings(self) -> tuple[Binding, ...]:
        """Moving, turning, mirroring, opening, and what the station has besides."""
        return LAYING

    @property
    def set_in(self) -> tuple[Place, ...]:
        """None."""
        return ()

    def taken_up(self, station: "CutStation") -> "PieceTool":
        """It has nothing to keep."""
        return self

    def after(self, station: "CutStation", action: Action) -> "CutStation":
        """The piece moved; a drag is one thing to undo, from where it was grabbed."""
        match action:
            case Mirror() | Open() | OpenAll() | Home() | ChangeLayers() if station.work.is_lay:
                return station.refusing(HELD_BY_LAY)
            case Move() | Turn() | Mirror() | Open() | OpenAll() | Home() | ChangeStep():
                return station.with_laid(station.laid.after(action))
            case ChangeLayers():
                return layers_changed(station)
            case CutInReaches():
                return in_reaches_if_larger(station)
            case Grab():
                return station.grabbed()
            case Drag():
                return station.dragged(station.laid.after(action))
            case _:
                return station.besides(action)

    def heading(self, station: "CutStation") -> tuple[str, ...]:
        """Nothing: the piece is at hand."""
        return ()

    def words(self, station: "CutStation") -> tuple[str, ...]:
        """How far its steps go; and that a piece may be cut in reaches which is larger than the light."""
        return (station.laid.step_words, *reaches_words(station))

    def layers(self, station: "CutStation") -> Scene:
        """Nothing."""
        return ()
