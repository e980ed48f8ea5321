"""The keys of a change in a pattern file, taken from its fields, for the reader and the writer alike."""

from collections.abc import Callable, Iterable, Iterator
from dataclasses import MISSING, dataclass, fields
from enum import Enum
from functools import cache
from types import NoneType
from typing import get_args, get_origin, get_type_hints

from patterns.changes.change import OPENING, Change
from patterns.measures import Length


@dataclass(frozen=True, slots=True, kw_only=True)
class Key:
    """A key: the field that it fills, the type of what stands there, whether several may.

    `default` is the field's; MISSING where the key is needed. The opening key of kinds that are told apart by
    what stands there fills no field.
    """

    name: str
    field: str = ""
    holds: type = str
    several: bool = False
    default: object

    @property
    def is_needed(self) -> bool:
        """Whether a change without it makes no sense."""
        return self.default is MISSING


@cache
def keys_of(kind: type[Change]) -> tuple[Key, ...]:
    """The keys of a kind of change, as they are written: the one that opens it first, `off` last."""
    hints = get_type_hints(kind)
    keys = [Key(name=kind.opens, default=MISSING)] if kind.says else []
    for field in fields(kind):
        hint = hints[field.name]
        opening = field.metadata == OPENING
        holds = next((one for one in get_args(hint) if one not in (NoneType, Ellipsis)), hint)
        key = Key(
            name=kind.opens if opening else field.name.replace("_", " "),
            field=field.name,
            holds=holds,
            several=get_origin(hint) is tuple,
            default=field.default,
        )
        keys.insert(0 if opening else len(keys), key)
    return tuple(sorted(keys, key=lambda key: key.name == "off"))


def entries_of(change: Change, spell: Callable[[Length], str] = str) -> Iterator[tuple[str, tuple[str, ...]]]:
    """Each key of the change with what stands there, one or several, spelled as authored.

    What has its default is left out; `spell` says a length.
    """
    for key in keys_of(type(change)):
        if not key.field:
            yield key.name, (change.says,)
        elif (value := getattr(change, key.field)) != key.default:
            yield key.name, tuple(_spelled(one, spell) for one in (value if key.several else (value,)))


def _spelled(value: object, spell: Callable[[Length], str]) -> str:
    if isinstance(value, Length):
        return spell(value)
    if isinstance(value, bool):
        return "yes" if value else "no"
    return str(value.value) if isinstance(value, Enum) else str(value)


def spelled(change: Change) -> str:
    """The change on one line, as it is authored but without braces: "neck v, piece front, depth 8"."""
    return _on_one_line(entries_of(change))


def told(change: Change) -> str:
    """The same to be read: with the unit also where its author left it out, "neck v, piece front, depth 8 in"."""
    return _on_one_line(entries_of(change, lambda length: length.words))


def _on_one_line(entries: Iterable[tuple[str, tuple[str, ...]]]) -> str:
    return ", ".join(f"{key} {' and '.join(values)}" for key, values in entries)
