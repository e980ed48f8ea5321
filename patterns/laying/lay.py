"""A lay: pieces at their places on folded cloth. It says where everything lies; `rules.py` says whether it may."""

from dataclasses import dataclass
from enum import Enum

import numpy as np

from patterns.curves import Array
from patterns.cutting.drafted import DraftedPiece
from patterns.cutting.placement import Placement
from patterns.laying.cloth import Cloth
from patterns.laying.folding import Folding, FoldLine


class Layer(Enum):
    """Cut through one layer of the cloth, or through two."""

    SINGLE = "single"
    DOUBLE = "double"


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class PieceOnCloth:
    """One laying of a piece: `placement` takes piece inches to the cloth, as it lies below.

    With a `fold_line` it is cut through both layers. A piece drawn as half then lies with its fold edge on that line
    and gives one whole piece; a piece without a fold gives two, mirrored to one another.
    """

    piece: DraftedPiece
    placement: Placement
    fold_line: FoldLine | None = None

    @property
    def layer(self) -> Layer:
        """How many layers it is cut through."""
        return Layer.SINGLE if self.fold_line is None else Layer.DOUBLE

    @property
    def on_fold(self) -> bool:
        """Whether it is drawn as half and lies with its own fold edge on the fold of the cloth."""
        return self.fold_line is not None and self.piece.fold is not None

    @property
    def outline_in(self) -> Array:
        """(n, 2) closed: the cut line as it lies on the cloth; all of a piece that is opened, else its half."""
        half = self.placement.placed(self.piece.cut_line)
        if not self.placement.opened or self.piece.fold is None:
            return half
        other = self.placement.placed(self.piece.cut_line[-2:0:-1] * (-1.0, 1.0))
        return np.concatenate([half, other])

    @property
    def parts_in(self) -> tuple[Array, ...]:
        """Closed outlines, each (n, 2), of what is taken from the flat cloth: what is cut, once it is opened."""
        below = self.outline_in
        if self.fold_line is None:
            return (below,)
        above = self.fold_line.mirrored(below)
        if self.on_fold:
            return (np.concatenate([below, above[-2:0:-1]]),)
        return (below, above)

    @property
    def gives(self) -> int:
        """How many pieces come of it."""
        return len(self.parts_in)


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Lay:
    """All that is cut from one cloth, in the order of cutting."""

    folding: Folding
    placed: tuple[PieceOnCloth, ...]

    @property
    def cloth(self) -> Cloth:
        """The cloth that it is cut from."""
        return self.folding.cloth

    @property
    def used_in(self) -> float:
        """Inches of the cloth's length up to the last cut."""
        return max(float(part[:, 1].max()) for placed in self.placed for part in placed.parts_in)
