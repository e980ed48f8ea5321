"""A lay at the table that is on disk before it is shown: the lay beside its pattern, its cloth with the table."""

from dataclasses import dataclass
from pathlib import Path

from patterns.measures import Unit
from projector.actions import Action
from projector.cloth.cloth_place import ClothPlace
from projector.errors import ProjectorError
from projector.laying.for_cutting import with_lay
from projector.laying.lay_file import write_lay
from projector.laying.work import LayWork
from projector.places import read_work, write_work
from projector.session import Session
from projector.stations.lay import LayStation


@dataclass(frozen=True, slots=True, kw_only=True)
class KeptLay:
    """Where the lay of one version of a pattern is kept, and where its cloth lies in one set-up."""

    lay_path: Path
    version: str | None
    unit: Unit
    places_path: Path
    setup: str
    pattern: str

    @property
    def cloth(self) -> ClothPlace | None:
        """Where the cloth of a lay last lay on the table; None where nobody has said."""
        work = read_work(self.places_path, self.setup, self.pattern)
        return work.cloth if work is not None and work.is_lay else None

    def keep(self, work: LayWork, before: LayWork) -> None:
        """Keep what has changed; ProjectorError where it cannot be written."""
        if work.lay is not before.lay:
            write_lay(self.lay_path, self.version, work.lay, self.unit)
        kept = read_work(self.places_path, self.setup, self.pattern)
        write_work(self.places_path, self.setup, self.pattern, with_lay(kept, work.lay, work.cloth))


class LaySession(Session[LayStation]):
    """A session whose every change is kept before its light is seen; else it is not made."""

    def __init__(self, station: LayStation, kept: KeptLay, *, preview: bool = False) -> None:
        super().__init__(station, preview=preview)
        self._kept = kept

    def take(self, action: Action) -> None:
        before = self.station
        super().take(action)
        if self.station.work is before.work:
            return
        try:
            self._kept.keep(self.station.work, before.work)
        except ProjectorError as error:
            self.station = before.refusing(str(error))
