"""How far a neck's end at the shoulder lies from the high shoulder point, which all depths count from.

The high shoulder point is the top of the shoulder as it was traced, y = 0, where a tape on the worn garment begins.
It stays, whatever is changed or pulled. A neck-shoulder point may leave it: that of a wider neck slides down the slope
of the shoulder, that of a seam brought forward lies in front of the top, one that is pulled lies where it was pulled
to. Were depths to follow it, a V would hang lower drawn after the neck was widened than before, a level at which a body
is lengthened would no longer meet itself across the side seam, and a shoulder point pulled outwards would do something
else than the change that widens the neck. So they do not; what a tape begun at the neck's end would have less is told.
"""

from typing import Final

from patterns.checks.truing import NECK
from patterns.cutting.drafted import DraftedPiece
from patterns.saying import Say

TOLD_IN: Final = 1 / 16  # less is no difference on a tape


def below_high_point_in(piece: DraftedPiece) -> float:
    """Inches that the end of the piece's neck away from the fold lies below the high shoulder point."""
    neck = piece.edges[NECK].curve
    return float((neck.end if neck.end[0] > neck.start[0] else neck.start)[1])


def high_point_words(piece: DraftedPiece, say: Say) -> str:
    """Where the neck ends, if that is not at the high shoulder point; empty where the piece has no neck."""
    if NECK not in piece.edges or abs(below_high_point_in(piece)) < TOLD_IN:
        return ""
    below_in = below_high_point_in(piece)
    where = "below" if below_in > 0 else "above"
    return f"neck ends {say(abs(below_in))} {where} the high shoulder point"
