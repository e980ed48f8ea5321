"""An entry of the list of changes, before it is laid."""

from dataclasses import dataclass


@dataclass(frozen=True, slots=True, kw_only=True)
class ListRow:
    """One entry, as long as it likes; `small` is said below the entry before it, `chosen` is the one at hand."""

    text: str
    light: float
    small: bool = False
    indented: bool = True
    chosen: bool = False
