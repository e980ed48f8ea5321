"""The side of the table at which the person stands, kept from one station to the next."""

from collections.abc import Callable
from dataclasses import replace
from typing import Any, ClassVar, Protocol, TypeVar, runtime_checkable

S = TypeVar("S")


@runtime_checkable
class HasSide(Protocol):
    """A station, a dataclass, whose words are turned to one of the four sides, counted from the near one."""

    __dataclass_fields__: ClassVar[dict[str, Any]]

    @property
    def side(self) -> int:
        """The side."""


class Standing:
    """Where the person stands now; `told` is called with each side they have gone to."""

    def __init__(self, side: int = 0, told: Callable[[int], None] = lambda _: None) -> None:
        self._side = side
        self._told = told

    def turned(self, station: S) -> S:
        """The station with its words to that side."""
        return replace(station, side=self._side) if isinstance(station, HasSide) else station

    def see(self, station: object) -> None:
        """The person stands where the station's words are turned to."""
        if isinstance(station, HasSide) and station.side != self._side:
            self._side = station.side
            self._told(station.side)

    def heeding(self, keep: Callable[[S], None]) -> Callable[[S], None]:
        """The same as `keep`, with the side seen first."""

        def kept(station: S) -> None:
            self.see(station)
            keep(station)

        return kept
