"""Work that is on disk before it is shown."""

from dataclasses import dataclass
from pathlib import Path

from projector.actions import Action
from projector.cutting.words import NOT_DONE
from projector.cutting.work import CutWork
from projector.errors import ProjectorError
from projector.places import read_work, write_work
from projector.session import Session
from projector.stations.cut import CutStation


@dataclass(frozen=True, slots=True, kw_only=True)
class KeptWork:
    """Where the work of one pattern in one set-up is kept."""

    path: Path
    setup: str
    pattern: str

    @property
    def work(self) -> CutWork | None:
        """The work as it was left; None where nothing is kept of it."""
        return read_work(self.path, self.setup, self.pattern)

    def resumed(self, station: CutStation) -> CutStation:
        """The station as it was left; as it is where nothing is kept of it."""
        kept = self.work
        return station if kept is None else station.resumed(kept)

    def keep(self, work: CutWork) -> None:
        """Keep it; ProjectorError where it cannot be written."""
        write_work(self.path, self.setup, self.pattern, work)


class CutSession(Session[CutStation]):
    """A session whose every change is kept before its light is seen; else it is not made.

    What another window has kept of the same work meanwhile is not written over.
    """

    def __init__(self, station: CutStation, kept: KeptWork, *, preview: bool = False) -> None:
        super().__init__(station, preview=preview)
        self._kept = kept
        self._left = kept.work

    def take(self, action: Action) -> None:
        before = self.station
        super().take(action)
        if self.station.work == before.work:
            return
        why_not = self._keep(self.station.work)
        if why_not:
            self.station = before.refusing(f"{NOT_DONE}{why_not}")

    def _keep(self, work: CutWork) -> str:
        """Keep it; or why it cannot be."""
        try:
            if self._kept.work not in (None, self._left):
                return "this work went on in another window; q leaves this one"
            self._kept.keep(work)
        except ProjectorError as error:
            why = f" ({error.__cause__.strerror})" if isinstance(error.__cause__, OSError) else ""
            return f"{self._kept.path.name} cannot be written{why}"
        self._left = work
        return ""
