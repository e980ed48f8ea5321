"""A pattern file changed in its own text: what differs is put in, and every other byte stays as it is.

Comments, the order of entries, spellings, line ends and a byte-order mark are the author's, and no value of a
`Pattern` holds them; so the old and the new pattern are compared, and only what differs is spliced in.
"""

import re
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, field
from difflib import SequenceMatcher
from pathlib import Path
from typing import Final

import yaml

from patterns.errors import PatternError
from patterns.files.document import Value, document
from patterns.files.reader import pattern_in
from patterns.files.writer import write_whole
from patterns.files.yaml_text import flow, lines, scalar
from patterns.files.yaml_tree import MARK, QUICK, read_text
from patterns.pattern import Pattern

_COMMA_BEFORE: Final = re.compile(r"[ \t]*,[ \t]*\Z")
_COMMA_AFTER: Final = re.compile(r"\s*,[ \t]*")
_BREAK: Final = re.compile(r"\r\n|\n|\r|\Z")


def change_pattern(path: str | Path, change: Callable[[Pattern], Pattern]) -> Pattern:
    """Change the pattern in a file as it is there now, and give the new one.

    The file is written whole or not at all. Raises PatternError where it cannot be read or written, or where
    it is laid out so that the change cannot be put in.
    """
    file = Path(path)
    text = read_text(file)
    old = pattern_in(text, file)
    new = change(old)
    write_whole(file, respelled(text, file, old, new).encode("utf-8"))
    return new


def respelled(text: str, file: Path, old: Pattern, new: Pattern) -> str:
    """The text of a file that says `old`, made to say `new`.

    Raises PatternError where it is laid out so that the change cannot be put in.
    """
    edited = spliced(text, document(old), document(new))
    try:
        kept = pattern_in(edited, file) == new
    except PatternError:
        kept = False
    if not kept:
        raise PatternError(
            f"{file}: laid out in a way that the change cannot be put into; write it as the examples are "
            "written, or choose another file"
        )
    return edited


def spliced(text: str, old: dict[str, Value], new: dict[str, Value]) -> str:
    """The text of a file that says `old`, made to say `new`."""
    mark, body = text[: len(MARK)] if text.startswith(MARK) else "", text.removeprefix(MARK)
    splices = _Splices(text=body)
    node = yaml.compose(body, Loader=QUICK)
    assert node is not None  # a file that says something
    splices.between(node, old, new)
    return mark + splices.done()


@dataclass(kw_only=True)
class _Splices:
    """What to put into a text: new words in place of those from one index to another."""

    text: str
    found: list[tuple[int, int, str]] = field(default_factory=list)

    def done(self) -> str:
        """The text with all of them made."""
        parts, at = [], 0
        for start, end, words in sorted(self.found, key=lambda one: one[:2]):
            parts += [self.text[at:start], words]
            at = max(at, end)
        return "".join(parts) + self.text[at:]

    def between(self, node: yaml.Node, old: Value, new: Value) -> None:
        """Note what makes the node, which says `old`, say `new`."""
        if old == new:
            return
        if isinstance(node, yaml.MappingNode) and isinstance(old, dict) and isinstance(new, dict):
            self._entries(node, old, new)
        elif isinstance(node, yaml.SequenceNode) and isinstance(old, list) and isinstance(new, list):
            self._items(node, old, new)
        else:
            self.found.append((node.start_mark.index, self._end(node), flow(new)))

    def _entries(self, node: yaml.MappingNode, old: dict[str, Value], new: dict[str, Value]) -> None:
        number = {key.value: i for i, (key, _) in enumerate(node.value)}
        before = None  # the entry that a new one follows
        for key, value in new.items():
            if key in number:
                before = number[key]
                self.between(node.value[before][1], old.get(key, ""), value)
            elif key not in old or old[key] != value:
                words = list(lines({key: value}))
                self._put(node, before, f"{scalar(key)}: {flow(value)}", words)
        for key in old.keys() - new.keys():
            self._take(node, number[key])

    def _items(self, node: yaml.SequenceNode, old: list[Value], new: list[Value]) -> None:
        steps = SequenceMatcher(None, [flow(one) for one in old], [flow(one) for one in new], autojunk=False)
        opcodes = steps.get_opcodes()
        moved = self._taken_away(node, old, opcodes)
        for _, first, last, start, end in opcodes:
            both = min(last - first, end - start)
            for i in range(both):
                self.between(node.value[first + i], old[first + i], new[start + i])
            for one in new[start + both : end]:
                block = moved.get(flow(one), [f"- {flow(one)}"])
                if node.value and not first + both:
                    self._put_first(node, flow(one), block)
                else:
                    self._put(node, first + both - 1, flow(one), block)
            for i in range(first + both, last):
                self._take(node, i)

    def _taken_away(
        self, node: yaml.SequenceNode, old: list[Value], opcodes: Sequence[tuple[str, int, int, int, int]]
    ) -> Mapping[str, list[str]]:
        """The items that go, as they stand, with the comment on their line: one that only moves keeps it."""
        if node.flow_style:
            return {}
        gone = (
            i
            for _, first, last, start, end in opcodes
            for i in range(first + min(last - first, end - start), last)
        )
        return {flow(old[i]): self._as_it_stands(node, i) for i in gone}

    def _as_it_stands(self, node: yaml.SequenceNode, number: int) -> list[str]:
        """The lines of an item, from its dash on, as they are indented against it."""
        item, indent = node.value[number], node.start_mark.column
        start, end = (
            self.text.rfind("-", 0, item.start_mark.index),
            self._break_after(self._end(item)).start(),
        )
        first, *others = self.text[start:end].splitlines()
        return [first, *(line[indent:] for line in others)]

    def _put_first(self, node: yaml.SequenceNode, inline: str, block: list[str]) -> None:
        """One item more before the first."""
        at, indent = node.start_mark.index, node.start_mark.column
        if node.flow_style:
            self.found.append((at + 1, at + 1, f"{inline}, "))
        else:
            line_end = _line_end(self.text) or "\n"
            self.found.append((at, at, "".join(f"{line}{line_end}{' ' * indent}" for line in block)))

    def _put(self, node: yaml.CollectionNode, before: int | None, inline: str, block: list[str]) -> None:
        """One entry more after that numbered `before`; where that is None, after the last."""
        last = len(node.value) - 1
        after = last if before is None else before
        if node.flow_style:
            at = node.start_mark.index + 1 if after < 0 else self._end(_parts(node)[after][-1])
            words = inline if after < 0 else f", {inline}"
        else:
            indent = node.start_mark.column
            at = self._past_comments(
                self._end(_parts(node)[after][-1]), max(indent, 1) if after == last else indent + 1
            )
            line_end = _line_end(self.text) or "\n"
            words = "".join(f"{line_end}{' ' * indent}{line}" for line in block)
        self.found.append((at, at, words))

    def _take(self, node: yaml.CollectionNode, number: int) -> None:
        """Take the entry so numbered away, the comment on its line with it."""
        parts = _parts(node)
        start, end = parts[number][0].start_mark.index, self._end(parts[number][-1])
        if node.flow_style:
            comma = _COMMA_AFTER.match(self.text, end)
            before = _COMMA_BEFORE.search(self.text, 0, start)
            if comma:
                end = comma.end()
            elif before:
                start = before.start()
        else:
            start = self.text.rfind("\n", 0, start) + 1
            end = self._break_after(end).end()
        self.found.append((start, end, ""))

    def _end(self, node: yaml.Node) -> int:
        """Where the node's last word ends; the parser's own mark stands before the next word."""
        if isinstance(node, yaml.CollectionNode) and not node.flow_style and node.value:
            return self._end(_parts(node)[-1][-1])
        return len(self.text[: node.end_mark.index].rstrip())

    def _break_after(self, at: int) -> re.Match[str]:
        found = _BREAK.search(self.text, at)
        assert found is not None  # the end of the text is one
        return found

    def _past_comments(self, at: int, least_indent: int) -> int:
        """The end of the line at `at`, and of the comments below it that are indented so far."""
        ended = self._break_after(at)
        past = ended.start()
        while ended.end() < len(self.text):
            start, ended = ended.end(), self._break_after(ended.end())
            line = self.text[start : ended.start()]
            words = line.lstrip(" ")
            if words.startswith("#") and len(line) - len(words) >= least_indent:
                past = ended.start()
            elif words:
                break
        return past


def _parts(node: yaml.CollectionNode) -> list[tuple[yaml.Node, ...]]:
    """Key and value of each entry, or each item alone."""
    return list(node.value) if isinstance(node, yaml.MappingNode) else [(item,) for item in node.value]


def _line_end(text: str) -> str:
    """How the text's first line ends; nothing where it has but one."""
    found = _BREAK.search(text)
    return found[0] if found else ""
