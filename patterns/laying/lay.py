"""A lay: pieces at their places on folded cloth. It says where everything lies; `rules.py` says whether it may."""

import math
from collections.abc import Mapping
from dataclasses import dataclass, field
from enum import Enum
from types import MappingProxyType
from typing import Final

import numpy as np

from patterns.curves import Array
from patterns.cutting.drafted import DraftedPiece
from patterns.cutting.placement import Placement
from patterns.errors import PatternError
from patterns.laying.cloth import Cloth
from patterns.laying.folding import Folding, FoldLine
from patterns.measures import Unit

_UPRIGHT: Final = 1e-6  # the sine of what rounding may turn a piece by
GAP_IN: Final = 1 / 2  # common practice: room for the shears, and for a line that is cut a little wide


class Layer(Enum):
    """Cut through one layer of the cloth, or through two."""

    SINGLE = "single"
    DOUBLE = "double"


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Terms:
    """What is agreed for a lay.

    Between any two pieces `gap_in` stays. A piece that is too wide may be turned a quarter where the
    `crosswise_grain` is consented to. `match_points` are the points, in piece inches, that lie at one place of the
    stripe's or check's repeat; a piece without one has its own rule (`matching.py`). Cloth is `sold_by` parts of a
    yard, or of a metre.
    """

    gap_in: float = GAP_IN
    crosswise_grain: bool = False
    match_points: Mapping[str, tuple[float, float]] = field(default_factory=lambda: MappingProxyType({}))
    sold_by: Unit = Unit.IN

    def __post_init__(self) -> None:
        if not (math.isfinite(self.gap_in) and self.gap_in >= 0):
            raise PatternError(f"found a gap of {self.gap_in} in between pieces; give one of nothing or more")


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class PieceOnCloth:
    """One laying of a piece: `placement` takes piece inches to the cloth, as it lies below.

    With a `fold_line` it is cut through both layers. A piece drawn as half then lies with its fold edge on that line
    and gives one whole piece; one that is opened, or has no fold, gives two, mirrored to one another. `stage`
    counts how often the cloth was folded before: 2 is what is cut after the rest was opened and folded anew.
    """

    piece: DraftedPiece
    placement: Placement
    fold_line: FoldLine | None = None
    stage: int = 1

    @property
    def layer(self) -> Layer:
        """How many layers it is cut through."""
        return Layer.SINGLE if self.fold_line is None else Layer.DOUBLE

    @property
    def on_fold(self) -> bool:
        """Whether it is drawn as half and lies with its own fold edge on the fold of the cloth."""
        return self.fold_line is not None and self.piece.fold is not None and not self.placement.opened

    @property
    def own_fold_in(self) -> float | None:
        """x of the centre line of a piece that lies opened with it along the cloth, where it may be folded too."""
        along = abs(math.sin(math.radians(self.placement.turn_deg))) < _UPRIGHT
        return self.placement.x_in if self.placement.opened and along else None

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
    """All that is cut from one cloth, in the order of cutting; `pieces` are those that it is for."""

    folding: Folding
    placed: tuple[PieceOnCloth, ...]
    terms: Terms = Terms()
    pieces: tuple[DraftedPiece, ...] = ()

    @property
    def cloth(self) -> Cloth:
        """The cloth that it is cut from."""
        return self.folding.cloth

    @property
    def used_in(self) -> float:
        """Inches of the cloth's length up to the last cut."""
        return max(float(part[:, 1].max()) for placed in self.placed for part in placed.parts_in)
