"""Patterns on paper's terms: traced seam lines and changes in, cut lines and marks out, in inches.

This package needs no camera and no screen. A pattern file becomes a `Pattern` (`read_pattern`), which keeps
every length as its author spelled it; `Pattern.drafted` applies the changes and gives pieces with seam line,
cut line, notches and grain; a `Placement` lays a piece on a surface, and `marks_of` says what to show there.
What a person can mend is a `PatternError`.
"""

from patterns.checks.joins import JoinReport
from patterns.cutting.drafted import DraftedEdge, DraftedPattern, DraftedPiece
from patterns.cutting.labels import Label
from patterns.cutting.marks import Line, LineKind, Marks, marks_of
from patterns.cutting.notches import DraftedNotch
from patterns.cutting.placement import Placement
from patterns.errors import Complaint, PatternError
from patterns.files.reader import read_pattern
from patterns.files.writer import write_pattern
from patterns.measures import Length, Unit, in_words, inches
from patterns.parts import CutCount, Kind
from patterns.pattern import Pattern
from patterns.samples import example, example_names

__all__ = [
    "Complaint",
    "CutCount",
    "DraftedEdge",
    "DraftedNotch",
    "DraftedPattern",
    "DraftedPiece",
    "JoinReport",
    "Kind",
    "Label",
    "Length",
    "Line",
    "LineKind",
    "Marks",
    "Pattern",
    "PatternError",
    "Placement",
    "Unit",
    "example",
    "example_names",
    "in_words",
    "inches",
    "marks_of",
    "read_pattern",
    "write_pattern",
]
