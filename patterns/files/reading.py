"""One pass over a YAML tree that notes every complaint on the way and goes on."""

import difflib
import re
from collections.abc import Callable, Iterable
from dataclasses import replace
from enum import Enum
from typing import TypeVar

from patterns.errors import Complaint, PatternError
from patterns.files.yaml_tree import Entries, Items, Text, Tree

_T = TypeVar("_T")
_E = TypeVar("_E", bound=Enum)
_YES = {"yes": True, "true": True, "no": False, "false": False}


class Reading:
    """Reads values out of trees. Each method gives the value, or None once it has noted what is wrong."""

    def __init__(self, file: str) -> None:
        self.file = file
        self.complaints: list[Complaint] = []

    def number(self, tree: Tree, wanted: str) -> int | None:
        """A whole number of nothing or more."""
        text = self.text(tree, wanted)
        if text is None:
            return None
        if not re.fullmatch("[0-9]{1,6}", text):
            self.complain(tree, str(tree), f"a whole number: {wanted}")
            return None
        return int(text)

    def yes(self, tree: Tree) -> bool | None:
        """True for yes or true, False for no or false."""
        text = self.text(tree, "yes or no")
        if text is not None and text.lower() not in _YES:
            self.complain(tree, str(tree), "yes or no")
            return None
        return None if text is None else _YES[text.lower()]

    def choice(self, tree: Tree, choices: type[_E], what: str) -> _E | None:
        """The one of `choices` whose value stands there."""
        text = self.text(tree, what)
        values = [choice.value for choice in choices]
        if text is not None and text not in values:
            self.complain(tree, str(tree), f"{what}: {either(values)}{_meant(text, values)}")
            return None
        return None if text is None else choices(text)

    def text(self, tree: Tree, wanted: str) -> str | None:
        """A scalar, without spaces round it; not an empty one."""
        if not isinstance(tree, Text) or not tree.value.strip():
            self.complain(tree, str(tree), wanted)
            return None
        return tree.value.strip()

    def each(
        self, tree: Tree | None, wanted: str, read: Callable[[Tree], _T | None]
    ) -> tuple[_T | None, ...]:
        """Each item of a list as read; none for a list that is not there."""
        if tree is None:
            return ()
        if not isinstance(tree, Items):
            self.complain(tree, str(tree), wanted)
            return ()
        return tuple(read(item) for item in tree.items)

    def named(
        self,
        tree: Tree | None,
        what: str,
        read: Callable[[str, Tree], _T | None],
        allowed: tuple[str, ...] | None = None,
    ) -> tuple[_T | None, ...]:
        """Each value of a mapping from names, as read."""
        if tree is None:
            return ()
        found = self.entries(tree, what, allowed, ())
        if found is not None and not found and what == "pieces":
            self.complain(tree, "no pieces", "at least one piece")
        return tuple(read(name, value) for name, value in (found or {}).items())

    def entries(
        self, tree: Tree, what: str, allowed: tuple[str, ...] | None, needed: tuple[str, ...]
    ) -> dict[str, Tree] | None:
        """The values of a mapping by key; doubled, unknown and missing keys are noted."""
        if not isinstance(tree, Entries):
            keys = either(allowed) if allowed else "names"
            self.complain(tree, f"{tree} for {what}", f"key: value, with {keys}")
            return None
        found: dict[str, Tree] = {}
        for key, value in tree.entries:
            if key.value in found:
                self.complain(key, f"{key} twice in {what}", "each key once")
            elif allowed is not None and key.value not in allowed:
                self.complain(
                    key, f"{key} in {what}", f"a key: {either(allowed)}{_meant(key.value, allowed)}"
                )
            else:
                found[key.value] = value
        missing = [key for key in needed if key not in found]
        if missing:
            self.complain(
                tree, f"{what} without {' and '.join(missing)}", f"{what} with {' and '.join(needed)}"
            )
        return found

    def made(self, tree: Tree, make: Callable[[], _T]) -> _T | None:
        """The value made, its own rules' complaints noted with the line they speak of."""
        try:
            return make()
        except PatternError as error:
            if not error.complaints:
                raise
            self.note(tree, error.complaints)
            return None

    def note(self, tree: Tree, complaints: Iterable[Complaint]) -> None:
        """Keep complaints of the values' own rules, with the lines of what they speak of."""
        self.complaints += [
            replace(complaint, file=self.file, line=line_of(tree, complaint.at)) for complaint in complaints
        ]

    def complain(self, tree: Tree, found: str, wanted: str) -> None:
        """Keep one complaint about this very tree."""
        self.complaints.append(Complaint(found=found, wanted=wanted, file=self.file, line=tree.line))


def all_of(values: Iterable[_T | None]) -> tuple[_T, ...]:
    """The values, none of which is None once nothing has been complained about."""
    return tuple(value for value in values if value is not None)


def value_of(tree: Tree, key: str) -> Tree | None:
    """What stands under `key`, None where it is not a mapping or has no such key."""
    entries = tree.entries if isinstance(tree, Entries) else ()
    return next((value for found, value in entries if found.value == key), None)


def line_of(tree: Tree, at: tuple[str | int, ...]) -> int:
    """The line of the value that `at` leads to, or of the last one on the way that is there."""
    for step in at:
        if isinstance(tree, Items) and isinstance(step, int) and step < len(tree.items):
            tree = tree.items[step]
        elif isinstance(tree, Entries) and (value := value_of(tree, str(step))) is not None:
            tree = value
        else:
            break
    return tree.line


def either(words: Iterable[str]) -> str:
    """The words as a choice.

    >>> either(["in", "cm", "mm"])
    'in, cm or mm'
    """
    *most, last = words
    return f"{', '.join(most)} or {last}" if most else last


def _meant(found: str, known: Iterable[str]) -> str:
    close = difflib.get_close_matches(found, list(known), n=1)
    return f'; did you mean "{close[0]}"?' if close else ""
