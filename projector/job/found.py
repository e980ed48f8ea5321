"""What a folder holds of the job: the table's set-up, the pattern, and what has been made of them."""

import os
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
YAML: Final = ".yaml"
TRACE: Final = ".trace.json"
LONGEST_WAY: Final = 40  # letters of a file's place, so that it is read in one line


@dataclass(frozen=True, slots=True, kw_only=True)
class Found:
    """`patterns` are the folder's pattern files, and those of which a first outline is begun.

    `unread` says why the folder cannot be written to, and the table file or the pattern, though there, cannot be
    used: one sentence for each.
    """

    left: Left
    setup: Setup | None
    pattern: Pattern | None
    patterns: tuple[str, ...]
    unread: tuple[str, ...]

    @classmethod
    def of(cls, left: Left, screen_px: ScreenSize, screen_name: str = "") -> "Found":
        """What is there now, for that screen."""
        folder = Path(left.folder)
        unread = [] if os.access(folder, os.W_OK) else [_not_ours(left.folder)]
        setup = None
        if left.table_path.exists():
            try:
                setup = load_table(left.table_path).setup(None, screen_px, screen_name)
            except AlignmentError as error:
                unread.append(_first_line(error, left))
        path = left.pattern_path
        pattern = None
        if path is not None and path.exists():
            try:
                pattern = read_pattern(path)
            except PatternError as error:
                unread.append(_first_line(error, left))
        patterns = tuple(sorted({*patterns_in(folder), *_begun_in(folder)}))
        if left.pattern is not None and pattern is None and left.pattern not in patterns:
            unread.append(
                f"There is no {left.pattern}: trace its first piece, 5, or choose another garment, left or right."
            )
        return cls(left=left, setup=setup, pattern=pattern, patterns=patterns, unread=tuple(unread))

    @property
    def name(self) -> str:
        """What the garment is called."""
        if self.pattern is not None:
            return self.pattern.name
        return "a new garment" if self.left.pattern is None else self.left.pattern.removesuffix(YAML)

    @property
    def versions(self) -> tuple[str | None, ...]:
        """The pattern as it is, then its named versions."""
        return (None, *(() if self.pattern is None else (one.name for one in self.pattern.versions)))

    @property
    def begun_traces(self) -> tuple[str, ...]:
        """The pieces whose outlines were begun and are not written yet."""
        if self.left.pattern is None:
            return ()
        written = {piece.name for piece in self.pattern.pieces} if self.pattern is not None else set()
        before = f"{self.left.pattern.removesuffix(YAML)}."
        kept = sorted(path.name for path in Path(self.left.folder).glob(f"*{TRACE}"))
        pieces = (name.removeprefix(before).removesuffix(TRACE) for name in kept if name.startswith(before))
        return tuple(piece for piece in pieces if piece not in written)

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

    def place_of(self, name: str) -> str:
        """Where a file of the folder is, for a person: of a long way there its end."""
        path = Path(self.left.folder) / name
        return str(path) if len(str(path)) <= LONGEST_WAY else str(Path("...", *path.parts[-2:]))

    def path(self, name: str) -> str:
        """A file in the folder, as a command takes it."""
        return str(Path(self.left.folder) / name)


def patterns_in(folder: Path) -> tuple[str, ...]:
    """The names of the pattern files there, by name; one that cannot be read is told when it is chosen."""
    return tuple(
        path.name
        for path in sorted(folder.glob(f"*{YAML}"))
        if path.name not in (TABLE, PRACTICE) and _is_pattern(path)
    )


def _begun_in(folder: Path) -> tuple[str, ...]:
    """The names of the pattern files that the outlines begun are for."""
    return tuple(
        f"{path.name.removesuffix(TRACE).rpartition('.')[0]}{YAML}" for path in folder.glob(f"*?.?*{TRACE}")
    )


def without_folder(said: str, left: Left) -> str:
    """What is said, with the folder's files by their names alone."""
    return said.replace(f"{Path(left.folder)}{os.sep}", "")


def _not_ours(folder: str) -> str:
    """What to do about a folder that nothing can be kept in."""
    found = "may not be written to" if Path(folder).is_dir() else "is gone"
    return f"The folder {folder} {found}, so nothing is kept: leave, q, and open another one, chalkbeam open FOLDER."


def _is_pattern(path: Path) -> bool:
    try:
        return any(line.startswith(b"pattern:") for line in path.read_bytes().splitlines())
    except OSError:
        return False


def _first_line(error: Exception, left: Left) -> str:
    return without_folder(str(error).splitlines()[0], left)
