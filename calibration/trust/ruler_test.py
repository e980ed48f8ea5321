"""Two lengths and two diagonals of light, held against a tape: the only check that knows what an inch is.

Limits are what the trade asks of a table (common practice): the alignment to 1/32 in across it, and the
diagonals of a 36 by 24 in rectangle equal within 1/16 in.
"""

from dataclasses import dataclass
from datetime import datetime
from fractions import Fraction
from typing import Final

import numpy as np

from calibration.errors import AlignmentError

LENGTH_OFF_IN: Final = 1 / 32
DIAGONALS_APART_IN: Final = 1 / 16
DIAGONAL_OFF_IN: Final = 1 / 16
MISREAD_SHARE: Final = 0.05  # no alignment is so far out: a tape read at the wrong end, or a slip of the keys
_ROUNDING_IN: Final = 1e-6

Taped = tuple[float, float]


@dataclass(frozen=True, slots=True, kw_only=True)
class RulerTest:
    """`lengths` and the two `diagonals` of a square, each (shown inches, inches by the tape).

    Raises AlignmentError where the tape can only have been misread.
    """

    tested_on: datetime
    lengths: tuple[Taped, ...]
    diagonals: tuple[Taped, ...]

    def __post_init__(self) -> None:
        if not self.lengths or len(self.diagonals) != 2:
            raise ValueError(f"a ruler test has lengths and two diagonals, found {self}")
        for number, taped in enumerate((*self.lengths, *self.diagonals), start=1):
            if is_misread(taped):
                shown_in, taped_in = taped
                raise AlignmentError(
                    f"line {number} is {shown_in:g} in of light, but the tape is said to read {taped_in:g} in; "
                    "measure again from tick to tick, and mind the unit"
                )

    @property
    def worst_in(self) -> float:
        """The most by which a line differs from the tape, in inches."""
        return max(abs(taped_in - shown_in) for shown_in, taped_in in (*self.lengths, *self.diagonals))

    @property
    def diagonals_apart_in(self) -> float:
        """By how much the tape finds the two diagonals unequal, in inches."""
        (_, one_in), (_, other_in) = self.diagonals
        return abs(one_in - other_in)

    @property
    def passed(self) -> bool:
        """Whether light and tape agree."""
        return self._square and self._agrees(share=0.0)

    @property
    def words(self) -> str:
        """The result as a person is told it, and what to do."""
        if self.passed:
            return (
                f"Ruler test passed: the tape agrees with every line to {in_64ths(self.worst_in)}, "
                f"and the diagonals with each other to {in_64ths(self.diagonals_apart_in)}."
            )
        if not self._square:
            return (
                f"Ruler test FAILED: the diagonals differ by {in_64ths(self.diagonals_apart_in)}, so the shape is "
                "off. Something has moved, or the sheets did not lie flat: align again."
            )
        share = self._share
        if self._agrees(share=share):
            way = "long" if share > 0 else "short"
            longest_in = max(shown_in for shown_in, _ in self.lengths)
            return (
                f"Ruler test FAILED: every line is {100 * abs(share):.1f} % too {way}, "
                f"{in_64ths(abs(share) * longest_in)} on {longest_in:g} in. The shape is right and the size is off: "
                "try another tape; if it says the same, measure the printed ruler or the mat and align again."
            )
        return (
            f"Ruler test FAILED: lines are up to {in_64ths(self.worst_in)} off, each by another share, so the "
            "shape is off. Measure again from tick to tick; if it stays so, align again."
        )

    @property
    def _square(self) -> bool:
        return self.diagonals_apart_in <= DIAGONALS_APART_IN + _ROUNDING_IN

    @property
    def _share(self) -> float:
        """The one share by which all lines are too long, by least squares."""
        shown, taped = np.array((*self.lengths, *self.diagonals)).T
        return float(shown @ taped / (shown @ shown)) - 1

    def _agrees(self, share: float) -> bool:
        """Whether the tape agrees once every line is taken to be so much longer."""
        return all(
            abs(taped_in - (1 + share) * shown_in) <= limit_in + _ROUNDING_IN
            for lines, limit_in in ((self.lengths, LENGTH_OFF_IN), (self.diagonals, DIAGONAL_OFF_IN))
            for shown_in, taped_in in lines
        )


def is_misread(taped: Taped) -> bool:
    """Whether the tape cannot have said that."""
    shown_in, taped_in = taped
    return not abs(taped_in - shown_in) <= MISREAD_SHARE * shown_in


def in_64ths(length_in: float) -> str:
    """Inches to the nearest 64th, and one of them at least: no tape says less.

    >>> in_64ths(0.0), in_64ths(0.08), in_64ths(1.25)
    ('1/64 in', '5/64 in', '1 1/4 in')
    """
    whole, rest = divmod(Fraction(max(1, round(length_in * 64)), 64), 1)
    return " ".join(str(part) for part in (whole, rest) if part) + " in"
