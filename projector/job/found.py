"""What a folder holds of the job: the table's set-up, the pattern, and what has been made of them."""

from dataclasses import dataclass
from pathlib import Path
from typing import Final

from calibration.errors import AlignmentError
from calibration.table.setups import ScreenSize, Setup
from calibration.table.table_file import load_table
from patterns.cutting.drafted import DraftedPattern
from patterns.errors import PatternError
from patterns.files.reader import read_pattern
from patterns.pattern import Pattern
from projector.cutting.work import CutWork
from projector.errors import ProjectorError
from projector.job.left import TABLE, Left
from projector.places import known_as, places_path, read_work

PRACTICE: Final = "practice-pocket.yaml"
SHEETS: Final = "alignment-sheets.pdf"


@dataclass(frozen=True, slots=True, kw_only=True)
class Found:
    """`unread` says why the table file or the pattern, though there, cannot be used: one sentence for each."""

    left: Left
    setup: Setup | None
    pattern: Pattern | None
    patterns: tuple[str, ...]
    unread: tuple[str, ...]

    @classmethod
    def of(cls, left: Left, screen_px: ScreenSize, screen_name: str = "") -> "Found":
        """What is there now, for that screen."""
        unread: list[str] = []
        setup = None
        if left.table_path.exists():
            try:
                setup = load_table(left.table_path).setup(None, screen_px, screen_name)
            except AlignmentError as error:
                unread.append(_first_line(error))
        patterns = _patterns_in(Path(left.folder))
        path = left.pattern_path
        pattern = None
        if path is not None and path.exists():
            try:
                pattern = read_pattern(path)
            except PatternError as error:
                unread.append(_first_line(error))
        return cls(left=left, setup=setup, pattern=pattern, patterns=patterns, unread=tuple(unread))

    @property
    def drafted(self) -> DraftedPattern | None:
        """The pattern in the version at work; None where it cannot be drafted."""
        try:
            return None if self.pattern is None else self.pattern.drafted(self.left.pattern_version)
        except PatternError:
            return None

    def work(self, pattern: str) -> CutWork | None:
        """What was cut of the pattern so named; None where nothing is known of it."""
        if self.setup is None:
            return None
        try:
            name = known_as(pattern, self.left.pattern_version)
            return read_work(places_path(self.left.table_path), self.setup.name, name)
        except ProjectorError:
            return None

    def has(self, name: str) -> bool:
        """Whether the folder has a file of that name."""
        return (Path(self.left.folder) / name).exists()

    def path(self, name: str) -> str:
        """A file in the folder, as a command takes it."""
        return str(Path(self.left.folder) / name)


def _patterns_in(folder: Path) -> tuple[str, ...]:
    """The names of files that may be patterns; which of them are is told when one is chosen."""
    return tuple(
        path.name
        for path in sorted(folder.glob("*.yaml"))
        if path.name not in (TABLE, PRACTICE) and path.is_file()
    )


def _first_line(error: Exception) -> str:
    return str(error).splitlines()[0]
