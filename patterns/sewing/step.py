"""One step of a sewing card."""

from collections.abc import Iterable
from dataclasses import dataclass


@dataclass(frozen=True, slots=True, kw_only=True)
class Step:
    """What is done, the drafted lengths of what is sewn there, and how it is done, a sentence each."""

    title: str
    lengths: tuple[str, ...] = ()
    says: tuple[str, ...] = ()

    @property
    def sentences(self) -> tuple[str, ...]:
        """All that follows the title."""
        return self.lengths + self.says


def edge_of(piece: str, edge: str) -> str:
    """An edge and whose it is.

    >>> edge_of("front", "hem"), edge_of("sleeve", "sleeve hem")
    ('front hem', 'sleeve hem')
    """
    return edge if edge.startswith(f"{piece} ") else f"{piece} {edge}"


def listed(names: Iterable[str]) -> str:
    """Names in one phrase.

    >>> listed(["front", "back", "yoke"]), listed(["yoke"])
    ('front, back and yoke', 'yoke')
    """
    *most, last = names
    return f"{', '.join(most)} and {last}" if most else last
