"""The part of a long list that is lit: the entries about the chosen one, with words for those that are not."""

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass
from itertools import chain
from typing import Final

from projector.drafting.list_rows import ListRow

MORE_LIGHT: Final = 0.22
BEGINNINGS: Final = 1  # the title is always there, with what is said below it


def window(rows: Sequence[ListRow], fits: Callable[[Sequence[ListRow]], bool]) -> tuple[ListRow, ...]:
    """As many of the rows about the chosen one as fit, the title above them; the chosen one in any case."""
    entries = tuple(_entries(rows))
    chosen = next((i for i, entry in enumerate(entries) if entry[0].chosen), BEGINNINGS)
    part = _Part(entries=entries, first=chosen, end=min(chosen + 1, len(entries)))
    while (wider := next((one for one in part.wider() if fits(one.rows)), None)) is not None:
        part = wider
    return part.rows


@dataclass(frozen=True, slots=True, kw_only=True)
class _Part:
    """The entries from `first` up to `end`."""

    entries: tuple[tuple[ListRow, ...], ...]
    first: int
    end: int

    @property
    def rows(self) -> tuple[ListRow, ...]:
        above, below = self.first - BEGINNINGS, len(self.entries) - self.end
        shown = chain(*self.entries[:BEGINNINGS], _more(above, "above"))
        return (*shown, *chain(*self.entries[self.first : self.end]), *_more(below, "below"))

    def wider(self) -> Iterator["_Part"]:
        """With one entry more, on the side where fewer are shown first."""
        chosen = next((i for i, entry in enumerate(self.entries) if entry[0].chosen), self.first)
        ways = [(-1, 0), (0, 1)] if chosen - self.first < self.end - chosen - 1 else [(0, 1), (-1, 0)]
        for before, after in ways:
            first, end = self.first + before, self.end + after
            if first >= BEGINNINGS and end <= len(self.entries):
                yield _Part(entries=self.entries, first=first, end=end)


def _entries(rows: Sequence[ListRow]) -> Iterator[tuple[ListRow, ...]]:
    """Each row with the small ones below it."""
    entry: tuple[ListRow, ...] = ()
    for row in rows:
        if entry and not row.small:
            yield entry
            entry = ()
        entry = (*entry, row)
    yield entry


def _more(count: int, where: str) -> Iterator[ListRow]:
    if count > 0:
        yield ListRow(text=f"{count} more {where}", light=MORE_LIGHT)
