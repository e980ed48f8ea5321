"""Whether each piece hangs as it should: by its grain, with the nap, in step with a repeat; and how many there are."""

from collections.abc import Iterator
from typing import Final

import numpy as np

from patterns.curves import Array
from patterns.cutting.drafted import DraftedPiece
from patterns.laying.folding import Fold
from patterns.laying.hanging import GRAIN_IN, grain_of, is_symmetrical
from patterns.laying.lay import Lay, PieceOnCloth
from patterns.laying.matching import match_point_of
from patterns.laying.violation import Rule, Violation
from patterns.saying import Say

IN_STEP_IN: Final = 1 / 16  # a stripe that is farther off is seen to be; common practice


def along_its_grain(lay: Lay, number: int) -> Iterator[Violation]:
    """A grainline whose ends are not equally far from the selvedge."""
    placed = lay.placed[number]
    rise = np.abs(_grain_on_cloth(placed))
    off = float(rise.min() if lay.terms.crosswise_grain else rise[0])
    if off > GRAIN_IN:
        say = Say(lay.terms.sold_by)
        yield Violation(
            rule=Rule.GRAIN,
            numbers=(number,),
            sentence=f"{placed.piece.name} is off its grain: one end of the grainline lies {say(off)} nearer to the "
            f"selvedge than the other, {say(GRAIN_IN)} is allowed",
        )


def with_the_nap(lay: Lay, number: int) -> Iterator[Violation]:
    """A piece that is turned against the nap or the stripes, as the first of the lay has them."""
    if not lay.cloth.is_one_way or _is_up(lay.placed[number]) == _is_up(lay.placed[0]):
        return
    name, first = lay.placed[number].piece.name, lay.placed[0].piece.name
    rule, against = (Rule.NAP, "nap") if lay.cloth.has_nap else (Rule.REPEAT, "stripes")
    said = f"{name} is turned against the {against}: its top points the other way from that of {first}"
    yield Violation(rule=rule, numbers=(number,), sentence=said)


def nap_of_fold(lay: Lay) -> Iterator[Violation]:
    """A crosswise fold, in which the nap or the stripes of the two layers run opposite ways."""
    if lay.cloth.is_one_way and lay.folding.fold is Fold.CROSSWISE:
        rule, turned = (Rule.NAP, "nap") if lay.cloth.has_nap else (Rule.REPEAT, "stripes")
        said = f"a crosswise fold turns the {turned} of one layer upside down; fold the cloth lengthwise"
        yield Violation(rule=rule, numbers=tuple(range(len(lay.placed))), sentence=said)


def in_step(lay: Lay, number: int) -> Iterator[Violation]:
    """A piece whose match point is not at the place of the repeat at which the first one's is."""
    repeat = lay.cloth.repeat
    here, first = (_match_on_cloth(lay, lay.placed[i]) for i in (number, 0))
    for axis, length, way in ((0, repeat.across_in, "across"), (1, repeat.along_in, "along")):
        if length is None:
            continue
        off = float(here[axis] - first[axis] + length / 2) % length - length / 2
        if abs(off) > IN_STEP_IN:
            say = Say(lay.terms.sold_by)
            name, beside = lay.placed[number].piece.name, lay.placed[0].piece.name
            said = f"{name} is {say(abs(off))} out of step with {beside} {way} the cloth, of a repeat of {say(length)}"
            yield Violation(rule=Rule.REPEAT, numbers=(number,), sentence=said)


def all_cut(lay: Lay) -> Iterator[Violation]:
    """Pieces of which too few or too many are cut, or not of the hand that is wanted."""
    pieces = dict.fromkeys([*lay.pieces, *(placed.piece for placed in lay.placed)])
    for piece in pieces:
        numbers = tuple(i for i, placed in enumerate(lay.placed) if placed.piece is piece)
        layings = [lay.placed[i] for i in numbers]
        given = sum(placed.gives for placed in layings)
        if given != piece.cut.count:
            said = f"{piece.name} is cut {_times(given)}; {piece.cut.count} is wanted"
            yield Violation(rule=Rule.COUNT, numbers=numbers, sentence=said)
        elif (wrong := _wrong_hand(piece, layings)) is not None:
            yield Violation(rule=Rule.COUNT, numbers=numbers, sentence=wrong)


def _wrong_hand(piece: DraftedPiece, layings: list[PieceOnCloth]) -> str | None:
    """What is wrong with left and right pieces; None where nothing is."""
    if is_symmetrical(piece):
        return None
    over = sum(1 if placed.gives == 2 else int(placed.placement.mirrored) for placed in layings)
    if piece.cut.mirrored and over != piece.cut.count // 2:
        half = piece.cut.count // 2
        return (
            f"{piece.name}: {over} of {piece.cut.count} are turned over; {half} must be, for left and right"
        )
    if not piece.cut.mirrored and over:
        return (
            f"{piece.name} is cut turned over, which it may not be; lay it right side up, in a single layer"
        )
    return None


def _times(count: int) -> str:
    return {0: "not at all", 1: "once", 2: "twice"}.get(count, f"{count} times")


def _grain_on_cloth(placed: PieceOnCloth) -> Array:
    """(2,) inches on the cloth from the lower end of the grainline to its top."""
    low, high = placed.placement.placed(grain_of(placed.piece))
    return np.asarray(high - low)


def _is_up(placed: PieceOnCloth) -> bool:
    return bool(_grain_on_cloth(placed)[1] > 0)


def _match_on_cloth(lay: Lay, placed: PieceOnCloth) -> Array:
    return np.asarray(placed.placement.placed(np.array([match_point_of(placed.piece, lay.terms)]))[0])
