"""The changes that turn traced pieces into the garment wanted, each a small value with `apply`.

A change never touches the outline that was traced: it makes a new draft from the draft before it.
"""

from patterns.changes.averages import Average
from patterns.changes.change import Change
from patterns.changes.draft import Draft, EdgeRef, Join, Strip
from patterns.changes.facings import Binding, Facing
from patterns.changes.keys import Key, entries_of, keys_of, spelled, told
from patterns.changes.kinds import KINDS
from patterns.changes.lengths import HemBand, Lengthen, LengthenSleeve, Shorten, ShortenSleeve
from patterns.changes.neck_places import LowerNeck, NarrowNeck, RaiseNeck, WidenNeck
from patterns.changes.neck_shapes import RoundNeck, ScoopNeck, SquareNeck, VNeck
from patterns.changes.notchings import NotchAll, NotchSeam, Walk
from patterns.changes.shoulders import ShoulderForward
from patterns.changes.widths import Narrow, Place, SlantHem, SleeveOpening, Widen

__all__ = [
    "KINDS",
    "Average",
    "Binding",
    "Change",
    "Draft",
    "EdgeRef",
    "Facing",
    "HemBand",
    "Join",
    "Key",
    "Lengthen",
    "LengthenSleeve",
    "LowerNeck",
    "Narrow",
    "NarrowNeck",
    "NotchAll",
    "NotchSeam",
    "Place",
    "RaiseNeck",
    "RoundNeck",
    "ScoopNeck",
    "Shorten",
    "ShortenSleeve",
    "ShoulderForward",
    "SlantHem",
    "SleeveOpening",
    "SquareNeck",
    "Strip",
    "VNeck",
    "Walk",
    "Widen",
    "WidenNeck",
    "entries_of",
    "keys_of",
    "spelled",
    "told",
]
