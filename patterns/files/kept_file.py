"""A pattern file that is kept up with every change of the pattern, its text the author's own."""

from collections.abc import Mapping
from dataclasses import dataclass, field, replace
from pathlib import Path
from types import MappingProxyType

from patterns.errors import PatternError
from patterns.files.editing import respelled
from patterns.files.reader import pattern_in
from patterns.files.writer import write_whole
from patterns.files.yaml_tree import read_text
from patterns.pattern import Pattern


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class KeptFile:
    """A file as it was last read or written. `texts` are those it had, by the pattern that each said.

    A pattern come back to, as by undoing, gets its very text again, with the comments that a change taken out
    took along.
    """

    path: Path
    text: str
    pattern: Pattern
    texts: Mapping[Pattern, str] = field(default_factory=lambda: MappingProxyType({}))

    @classmethod
    def of(cls, path: Path) -> "KeptFile":
        """The file as it is now; PatternError where there is no pattern in it."""
        text = read_text(path)
        pattern = pattern_in(text, path)
        return cls(path=path, text=text, pattern=pattern, texts=MappingProxyType({pattern: text}))

    def keep(self, new: Pattern) -> "KeptFile":
        """The file written anew, whole or not at all, with what differs put into its text.

        Raises PatternError, with nothing written, where another program has changed it meanwhile, where the
        change cannot be put into its text, or where it cannot be written.
        """
        if read_text(self.path) != self.text:
            raise PatternError(
                f"{self.path.name} was changed by another program meanwhile, so it is not written over; leave, and "
                "begin again with what is in it now"
            )
        if new == self.pattern:
            return self
        text = self.texts.get(new) or respelled(self.text, self.path, self.pattern, new)
        write_whole(self.path, text.encode("utf-8"))
        return replace(self, text=text, pattern=new, texts=MappingProxyType({**self.texts, new: text}))
