"""A lay in words: how to fold the cloth, and what to cut in which order."""

from collections.abc import Iterator
from dataclasses import dataclass
from itertools import groupby
from typing import Final

from patterns.cutting.labels import state_words
from patterns.laying.folded import EVEN_IN
from patterns.laying.folding import Folding
from patterns.laying.lay import Lay, Layer, PieceOnCloth
from patterns.laying.moving import is_upside_down
from patterns.saying import Say

SQUARED: Final = "Press the cloth and cut one end square, along a crosswise thread."
OPENED: Final = "Open what is left and lay it flat again, right side up, the squared end towards you."
ANEW: Final = (
    "Fold it anew for each piece, right sides together, or cut the piece opened full in a single layer."
)
LAID_OUT: Final = "Lay it right side up, the squared end towards you."
MEASURED: Final = "Measure"
TOGETHER: Final = "right sides together"


def fold_recipe(folding: Folding, say: Say) -> tuple[str, ...]:
    """The steps in order, a sentence or two each, from unfolded cloth on."""
    if folding.far_in:
        steps = _crosswise(folding, say)
    elif folding.left_in and folding.right_in:
        steps = _from_both_sides(folding, say)
    elif folding.left_in or folding.right_in:
        steps = _from_one_side(folding, say)
    else:
        steps = iter(["Leave it in a single layer."])
    return (SQUARED, LAID_OUT, *steps)


def single_in(folding: Folding) -> float:
    """Inches across that lie single once the sides are turned over, with any selvedge in them."""
    return folding.cloth.width_in - 2 * (folding.left_in + folding.right_in)


def _from_one_side(folding: Folding, say: Say) -> Iterator[str]:
    side, other = ("left", "right") if folding.left_in else ("right", "left")
    depth_in, rest_in = folding.left_in or folding.right_in, single_in(folding)
    if rest_in <= EVEN_IN:
        yield (
            f"Fold the {side} selvedge over on to the {other} one, {TOGETHER}; the fold lies {say(depth_in)} "
            "from both."
        )
    else:
        yield (
            f"Fold the {side} selvedge over, {TOGETHER}, until it lies {say(depth_in)} from the fold; "
            f"{say(rest_in)} along the {other} selvedge stay single."
        )
    yield _measured(f"{say(depth_in)} from fold to selvedge")


def _from_both_sides(folding: Folding, say: Say) -> Iterator[str]:
    left_in, right_in, rest_in = folding.left_in, folding.right_in, single_in(folding)
    meets = rest_in <= EVEN_IN
    if meets and abs(left_in - right_in) <= EVEN_IN:
        yield f"Fold both selvedges in to the middle, {TOGETHER}, until they meet, each {say(left_in)} from its fold."
    else:
        rest = "they meet" if meets else f"{say(rest_in)} between them stay single"
        yield f"Fold the left selvedge over, {TOGETHER}, until it lies {say(left_in)} from its fold."
        yield f"Fold the right selvedge over until it lies {say(right_in)} from its fold; {rest}."
    yield _measured("the same from fold to selvedge")


def _crosswise(folding: Folding, say: Say) -> Iterator[str]:
    yield (
        f"Fold the far end towards you and over the squared one, {TOGETHER}, until the fold lies "
        f"{say(folding.far_in)} from the squared end."
    )
    yield _measured(f"{say(folding.far_in)} from fold to squared end, selvedge on selvedge")


def _measured(what: str) -> str:
    return f"{MEASURED} at both ends and in the middle: {what}. Weight the layers down."


def cutting_order(lay: Lay, say: Say) -> tuple[str, ...]:
    """What to cut, first things first, and how each lies."""
    return tuple(_cut_words(one, say) for one in lay.placed)


@dataclass(frozen=True, slots=True, kw_only=True)
class StageRecipe:
    """How to fold, then what to cut, counted on from the piece with the number `first`."""

    fold: tuple[str, ...]
    cut: tuple[str, ...]
    first: int


def lay_recipe(lay: Lay, say: Say) -> tuple[StageRecipe, ...]:
    """All that is done, stage by stage."""
    order = cutting_order(lay, say)
    stages, first = [], 0
    for stage, placed in groupby(lay.placed, key=lambda one: one.stage):
        last = first + len(list(placed))
        fold = fold_recipe(lay.folding, say) if stage == 1 else (OPENED, ANEW)
        stages.append(StageRecipe(fold=fold, cut=order[first:last], first=first + 1))
        first = last
    return tuple(stages)


def lies_words(one: PieceOnCloth, say: Say) -> tuple[str, ...]:
    """How a piece lies on the cloth, in the words that stand on it and those that only a lay has."""
    if one.stage > 1 and one.own_fold_in is not None:
        state: tuple[str, ...] = (f"half, on a fold made {say(one.own_fold_in)} from the left selvedge",)
    elif one.layer is Layer.SINGLE:
        state = (*state_words(one.piece, one.placement), "single layer")
    elif one.on_fold:
        state = ("half, on the fold",)
    else:
        state = ("through both layers", f"gives {one.gives}, mirrored")
    return (*state, "top to the squared end") if is_upside_down(one) else state


def _cut_words(one: PieceOnCloth, say: Say) -> str:
    start_in = max(0.0, float(one.outline_in[:, 1].min()))
    starts = f"{say(start_in)} from" if start_in > EVEN_IN else "at"
    return f"{one.piece.name}: {', '.join(lies_words(one, say))}; starts {starts} the squared end"
