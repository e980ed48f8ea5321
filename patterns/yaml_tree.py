"""A YAML file as a tree whose every value is text with its line, or complaints about what cannot be one.

Values stay text: YAML 1.1 would read `1:30` as 90 and `no` as False.
"""

from dataclasses import dataclass
from pathlib import Path
from typing import Final, TypeAlias

import yaml

from patterns.errors import Complaint, PatternError

MOST_BYTES: Final = 1_000_000  # some hundred pieces with traced edges
MOST_DEEP: Final = 12  # a pattern nests seven deep; more is a slip or an attack
_MOST_QUOTED: Final = 60


@dataclass(frozen=True, slots=True, kw_only=True)
class Text:
    """A scalar as it is written."""

    line: int
    value: str

    def __str__(self) -> str:
        shown = self.value if len(self.value) <= _MOST_QUOTED else f"{self.value[:_MOST_QUOTED]}..."
        return f'"{shown}"' if shown else "nothing"


@dataclass(frozen=True, slots=True, kw_only=True)
class Items:
    """A sequence."""

    line: int
    items: "tuple[Tree, ...]"

    def __str__(self) -> str:
        return f"a list of {len(self.items)}"


@dataclass(frozen=True, slots=True, kw_only=True)
class Entries:
    """A mapping, as pairs of key and value in order, the keys as written (they may repeat)."""

    line: int
    entries: "tuple[tuple[Text, Tree], ...]"

    def __str__(self) -> str:
        return "a list of key: value"


Tree: TypeAlias = Text | Items | Entries


def read_tree(path: Path) -> Tree:
    """The file's tree. Raises PatternError for a file that cannot be read, is no YAML, or abuses it."""
    text = _read_text(path)
    try:
        _check_events(text, path)
        node = yaml.compose(text, Loader=yaml.SafeLoader)
    except yaml.MarkedYAMLError as slip:
        mark = slip.problem_mark or slip.context_mark
        line = mark.line + 1 if mark else 0
        raise _refused(path, f"a slip of YAML: {slip.problem or slip.context}", _WELL_FORMED, line) from slip
    except yaml.reader.ReaderError as odd:
        line = text.count("\n", 0, odd.position) + 1
        raise _refused(path, "a letter that YAML does not allow", "plain text", line) from odd
    if node is None:
        raise _refused(path, "an empty file", "a pattern: its name, and its pieces")
    return _tree(node, path)


_WELL_FORMED: Final = "well-formed YAML; look at brackets, colons and indents on this line and the one above"


def _read_text(path: Path) -> str:
    if path.is_dir():
        raise _refused(path, "a folder", "a pattern file")
    if not path.exists():
        raise _refused(path, "no such file", "the path of a pattern file")
    if not path.is_file():
        raise _refused(path, "something that is not a file", "a pattern file")
    try:
        with path.open("rb") as file:
            data = file.read(MOST_BYTES + 1)
    except OSError as closed:
        raise _refused(path, f"a file that cannot be read ({closed.strerror})", "a readable file") from closed
    if len(data) > MOST_BYTES:
        raise _refused(path, f"more than {MOST_BYTES // 1000} kB", "a pattern file, which is far smaller")
    if b"\0" in data:
        raise _refused(path, "a binary file", "a pattern file, which is text")
    try:
        return data.decode("utf-8-sig")
    except UnicodeDecodeError as odd:
        line = data.count(b"\n", 0, odd.start) + 1
        raise _refused(path, "text that is not UTF-8", "a file saved as UTF-8", line) from odd


def _check_events(text: str, path: Path) -> None:
    """Refuse aliases, tags and deep nesting before anything is built from them."""
    depth = 0
    for event in yaml.parse(text, Loader=yaml.SafeLoader):
        line = event.start_mark.line + 1
        if isinstance(event, yaml.AliasEvent) or getattr(event, "anchor", None):
            raise _refused(path, "an anchor or alias (& or *)", "the value itself, written out", line)
        if getattr(event, "tag", None):
            raise _refused(path, f'a tag, "{event.tag}"', "a plain value", line)
        if isinstance(event, yaml.CollectionStartEvent):
            depth += 1
            if depth > MOST_DEEP:
                raise _refused(path, f"values nested more than {MOST_DEEP} deep", "a pattern file", line)
        elif isinstance(event, yaml.CollectionEndEvent):
            depth -= 1


def _tree(node: yaml.Node, path: Path) -> Tree:
    line = node.start_mark.line + 1
    if isinstance(node, yaml.ScalarNode):
        return Text(line=line, value=node.value)
    if isinstance(node, yaml.SequenceNode):
        return Items(line=line, items=tuple(_tree(item, path) for item in node.value))
    entries = []
    for key, value in node.value:
        if not isinstance(key, yaml.ScalarNode):
            raise _refused(path, "a list as a key", "a key in plain words", key.start_mark.line + 1)
        entries.append((Text(line=key.start_mark.line + 1, value=key.value), _tree(value, path)))
    return Entries(line=line, entries=tuple(entries))


def _refused(path: Path, found: str, wanted: str, line: int = 0) -> PatternError:
    return PatternError.listing([Complaint(found=found, wanted=wanted, file=path.name, line=line)])
