"""Will it go over the head: the neck on the seam line against the wearer's head."""

import math
from collections.abc import Mapping
from dataclasses import dataclass
from typing import Final

from patterns.alterations.necks import LEAST_BODY_IN
from patterns.checks.truing import NECK, facings_of_necks
from patterns.cutting.drafted import DraftedPattern, DraftedPiece
from patterns.measures import Unit
from patterns.saying import Say

USUAL_HEAD_IN: Final = 57 / 2.54  # 57 cm, where the wearer's is not known (common practice)
EASE_IN: Final = 1.0  # beyond the head, in woven cloth without an opening (common practice)
STEPS_IN: Final = {Unit.IN: 1 / 8, Unit.CM: 0.5 / 2.54, Unit.MM: 5 / 25.4}  # that depths are rounded up to


@dataclass(frozen=True, slots=True, kw_only=True)
class HeadCheck:
    """A neck of `neck_in` inches round and a slit of `opening_in` against a head of `head_in`.

    `v_depth_in` is how deep a V in the front would do, on the seam line below the high shoulder point, in whole
    steps of a tape; None where the front is no half with a neck, or none so deep would leave a body below it. `unit`
    is the one that is said.
    """

    neck_in: float
    head_in: float
    opening_in: float = 0.0
    v_depth_in: float | None = None
    unit: Unit = Unit.IN

    @property
    def needed_in(self) -> float:
        """The head and its ease."""
        return self.head_in + EASE_IN

    @property
    def ease_in(self) -> float:
        """Inches by which neck and slit, which opens to both its sides, are larger than the head."""
        return self.neck_in + 2 * self.opening_in - self.head_in

    @property
    def passed(self) -> bool:
        """Whether it goes over the head with ease."""
        return self.ease_in >= EASE_IN

    @property
    def warning(self) -> str:
        """What is wrong and what depth would do; empty where the neck is large enough."""
        if self.passed:
            return ""
        say = Say(self.unit)
        slit = f" with its {say(self.opening_in)} opening" if self.opening_in else ""
        verdict = "it may not go" if self.ease_in > 0 else "it does not go"
        deeper = "; make it wider, or give it an opening"
        if self.v_depth_in is not None:
            deeper = f"; a V in front {say(self.v_depth_in)} deep would do, or an opening"
        return (
            f"the neck is {say(self.neck_in)} round{slit} and {verdict} over a head of "
            f"{say(self.head_in)}: {say(self.needed_in)} are needed{deeper}"
        )


def head_check(
    pattern: DraftedPattern, head_in: float = USUAL_HEAD_IN, opening_in: float = 0.0
) -> HeadCheck | None:
    """The check of the garment's neck; None where no piece has one."""
    necks = garment_necks(pattern)
    if not necks:
        return None
    neck_in = sum(_whole_in(piece) for piece in necks.values())
    return HeadCheck(
        neck_in=neck_in,
        head_in=head_in,
        opening_in=opening_in,
        v_depth_in=_v_depth_in(necks, neck_in, head_in + EASE_IN - 2 * opening_in, STEPS_IN[pattern.unit]),
        unit=pattern.unit,
    )


def garment_necks(pattern: DraftedPattern) -> Mapping[str, DraftedPiece]:
    """The pieces whose neck is the garment's, by name.

    A facing's is sewn on to one and does not count, nor does that of a collar which is sewn to nothing where other
    pieces are sewn together.
    """
    faced_on = facings_of_necks(report.join for report in pattern.joins)
    necks = {
        name: piece for name, piece in pattern.pieces.items() if NECK in piece.edges and name not in faced_on
    }
    ends = ({report.join.first.piece, report.join.second.piece} for report in pattern.joins)
    sewn = {name for pair in ends if not pair & faced_on for name in pair}
    return {name: piece for name, piece in necks.items() if name in sewn} or necks


def _whole_in(piece: DraftedPiece) -> float:
    return piece.edges[NECK].length_in * (2 if piece.cut.on_fold else piece.cut.count)


def _v_depth_in(
    necks: Mapping[str, DraftedPiece], neck_in: float, needed_in: float, step_in: float
) -> float | None:
    front = necks.get("front")
    if front is None or front.fold is None:
        return None
    half_in = (needed_in - neck_in + _whole_in(front)) / 2
    neck = front.edges[NECK].points
    width_in, below_in = neck[neck[:, 0].argmax()].tolist()
    if half_in <= width_in:
        return None
    depth = below_in + math.sqrt(half_in**2 - width_in**2)
    depth_in = math.ceil(depth / step_in - 1e-9) * step_in
    return depth_in if depth_in <= front.fold.points[:, 1].max() - LEAST_BODY_IN else None
