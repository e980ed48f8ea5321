"""A change said on one line, as `changes.spelled` says it: "neck v, piece front, depth 8 in"."""

from collections.abc import Iterable

from patterns.changes import KINDS, Change, Key, keys_of
from patterns.errors import PatternError
from patterns.files.change_reading import ChangeReading
from patterns.files.yaml_tree import Entries, Items, Text, Tree
from patterns.measures import Unit


def said_change(text: str, unit: Unit) -> Change:
    """The change that a line says, a bare number in `unit`; names keep their capitals.

    Raises PatternError, a sentence for each fault, where it says none.
    """
    first, *others = (part.strip() for part in text.split(","))
    opening = _key(first, {kind.opens for kind in KINDS})
    if opening is None:
        raise PatternError(f'no change begins with "{first}"; begin as one of those offered')
    kinds = [kind for kind in KINDS if kind.opens == opening]
    rest = first[len(opening) :].casefold()
    if rest.strip() in {kind.says for kind in kinds}:
        first = opening + rest
    keys = {key.name: key for kind in kinds for key in keys_of(kind)}
    entries = [_entry(opening, first, keys)]
    for part in others:
        key = _key(part, keys)
        if key is None:
            raise PatternError(f'{opening} has no "{part}"; it may have {", ".join(list(keys)[1:])}')
        entries.append(_entry(key, part, keys))
    reading = ChangeReading("")
    reading.unit = unit
    change = reading.change(Entries(line=0, entries=tuple(entries)))
    if change is None:
        raise PatternError.listing(reading.complaints)
    return change


def _key(part: str, keys: Iterable[str]) -> str | None:
    """The longest of the keys that the part begins with, in capitals or not."""
    begun = (key for key in keys if f"{part.casefold()} ".startswith(f"{key} "))
    return max(begun, key=len, default=None)


def _entry(name: str, part: str, keys: dict[str, Key]) -> tuple[Text, Tree]:
    said = part[len(name) :].strip()
    if not keys[name].several:
        return Text(line=0, value=name), Text(line=0, value=said)
    items = tuple(Text(line=0, value=one.strip()) for one in said.split(" and "))
    return Text(line=0, value=name), Items(line=0, items=items)
