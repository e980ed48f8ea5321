"""What a person says of a drawing that the drawing does not: its scale, names, folds, allowances."""

from collections.abc import Mapping
from dataclasses import dataclass, field
from types import MappingProxyType


@dataclass(frozen=True, slots=True, kw_only=True)
class Asked:
    """`names` of the pieces as they come; `edges` and the side of the fold by piece, "" for any.

    `allowance_in` is what the outlines have outside their seam lines, None where they are seam lines or say so
    themselves. `scale_in` is how long one unit of the file is, `across_in` how wide all its outlines are together.
    """

    names: tuple[str, ...] = ()
    edges: Mapping[str, tuple[str, ...]] = field(default_factory=lambda: MappingProxyType({}))
    folds: Mapping[str, str] = field(default_factory=lambda: MappingProxyType({}))
    allowance_in: float | None = None
    scale_in: float | None = None
    across_in: float | None = None

    def edges_of(self, piece: str) -> tuple[str, ...] | None:
        """The names of a piece's edges, None where they are left to the drawing."""
        return self.edges.get(piece, self.edges.get(""))

    def fold_of(self, piece: str) -> str | None:
        """The side at which a piece has its fold, None where that is left to the drawing."""
        return self.folds.get(piece, self.folds.get(""))
