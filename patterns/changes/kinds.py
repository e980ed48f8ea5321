"""Every kind of change that a pattern file may have: a new one is a class, and a name in this list."""

from typing import Final

from patterns.changes.averages import Average
from patterns.changes.change import Change
from patterns.changes.facings import Binding, Facing
from patterns.changes.lengths import HemBand, Lengthen, LengthenSleeve, Shorten, ShortenSleeve
from patterns.changes.neck_places import LowerNeck, NarrowNeck, RaiseNeck, WidenNeck
from patterns.changes.neck_shapes import RoundNeck, ScoopNeck, SquareNeck, VNeck
from patterns.changes.notchings import NotchAll, NotchSeam
from patterns.changes.shoulders import ShoulderForward
from patterns.changes.truings import Truing
from patterns.changes.widths import Narrow, SlantHem, SleeveOpening, Widen

KINDS: Final[tuple[type[Change], ...]] = (
    VNeck,
    RoundNeck,
    ScoopNeck,
    SquareNeck,
    RaiseNeck,
    LowerNeck,
    WidenNeck,
    NarrowNeck,
    Lengthen,
    Shorten,
    LengthenSleeve,
    ShortenSleeve,
    SleeveOpening,
    Widen,
    Narrow,
    SlantHem,
    HemBand,
    Facing,
    Binding,
    ShoulderForward,
    Truing,
    NotchSeam,
    NotchAll,
    Average,
)
