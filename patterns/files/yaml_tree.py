"""A YAML file as a tree whose every value is text with its line, or complaints about what cannot be one.

Values stay text: YAML 1.1 would read `1:30` as 90 and `no` as False.
"""

from collections.abc import Iterable
from dataclasses import dataclass
from pathlib import Path
from typing import Final, TypeAlias

import yaml

from patterns.errors import Complaint, PatternError

MOST_BYTES: Final = 500_000  # some hundred pieces with traced edges
MOST_DEEP: Final = 12  # a pattern nests seven deep; more is a slip or an attack
MARK: Final = "\ufeff"  # the byte-order mark that some editors put first
QUICK: Final = getattr(yaml, "CSafeLoader", yaml.SafeLoader)  # where the library has it: ten times as fast
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


def tree_of(text: str, path: Path) -> Tree:
    """The tree of a file's text. Raises PatternError, naming the file, if it is no YAML or abuses it."""
    text = text.removeprefix(MARK)
    try:
        trees = _trees(text, path)
    except yaml.MarkedYAMLError as slip:
        mark = slip.problem_mark or slip.context_mark
        line = mark.line + 1 if mark else 0
        raise _refused(path, f"a slip of YAML: {slip.problem or slip.context}", _WELL_FORMED, line) from slip
    except yaml.reader.ReaderError as odd:
        line = text.count("\n", 0, odd.position) + 1
        raise _refused(path, "a letter that YAML does not allow", "plain text", line) from odd
    if not trees:
        raise _refused(path, "an empty file", "a pattern: its name, and its pieces")
    if len(trees) > 1:
        raise _refused(path, "a second document after ---", "one pattern a file", trees[1].line)
    return trees[0]


_WELL_FORMED: Final = "well-formed YAML; look at brackets, colons and indents on this line and the one above"


def read_text(path: Path) -> str:
    """The file's text, every line end as it is. Raises PatternError for a file that cannot be read."""
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
        return data.decode("utf-8")
    except UnicodeDecodeError as odd:
        line = data.count(b"\n", 0, odd.start) + 1
        raise _refused(path, "text that is not UTF-8", "a file saved as UTF-8", line) from odd


def _trees(text: str, path: Path) -> list[Tree]:
    """The trees of the file's documents, built without recursion, aliases and tags refused."""
    open_lists: list[tuple[yaml.CollectionStartEvent, list[Tree]]] = []
    top: list[Tree] = []
    for event in _events(text):
        line = event.start_mark.line + 1 if event.start_mark else 0
        if isinstance(event, yaml.AliasEvent):
            raise _refused(path, "an alias (*)", "the value itself, written out", line)
        if isinstance(event, (yaml.ScalarEvent, yaml.CollectionStartEvent)):
            _check_plain(event, path, line)
        if isinstance(event, yaml.CollectionStartEvent):
            open_lists.append((event, []))
            if len(open_lists) > MOST_DEEP:
                raise _refused(path, f"values nested more than {MOST_DEEP} deep", "a pattern file", line)
            continue
        made: Tree
        if isinstance(event, yaml.ScalarEvent):
            made = Text(line=line, value=event.value)
        elif isinstance(event, yaml.CollectionEndEvent):
            start, items = open_lists.pop()
            made = _collection(start, items, path)
        else:
            continue
        (open_lists[-1][1] if open_lists else top).append(made)
    return top


def _events(text: str) -> Iterable[yaml.Event]:
    """What the parser sees in turn; the slower one is asked where something is wrong, since it says so better."""
    try:
        return list(yaml.parse(text, Loader=QUICK))
    except yaml.YAMLError:
        return yaml.parse(text, Loader=yaml.SafeLoader)


def _check_plain(event: yaml.ScalarEvent | yaml.CollectionStartEvent, path: Path, line: int) -> None:
    if event.anchor is not None:
        raise _refused(path, f"an anchor (&{event.anchor})", "the value itself, written out", line)
    if event.tag is not None:
        raise _refused(path, f'a tag, "{event.tag}"', "a plain value", line)


def _collection(start: yaml.CollectionStartEvent, items: list[Tree], path: Path) -> Tree:
    line = start.start_mark.line + 1 if start.start_mark else 0
    if isinstance(start, yaml.SequenceStartEvent):
        return Items(line=line, items=tuple(items))
    entries = []
    for key, value in zip(items[0::2], items[1::2], strict=True):
        if not isinstance(key, Text):
            raise _refused(path, "a list as a key", "a key in plain words", key.line)
        entries.append((key, value))
    return Entries(line=line, entries=tuple(entries))


def _refused(path: Path, found: str, wanted: str, line: int = 0) -> PatternError:
    return PatternError.listing([Complaint(found=found, wanted=wanted, file=path.name, line=line)])
