"""Why pieces cannot be laid as it was asked, and the way out."""

from collections.abc import Sequence
from typing import Final

from patterns.cutting.drafted import DraftedPiece
from patterns.errors import PatternError
from patterns.laying.cloth import Cloth
from patterns.laying.folding import FOLD_WORDS, Fold
from patterns.laying.hanging import gives_two
from patterns.laying.lay import Lay, Terms
from patterns.planning.fold_choice import across_in, along_in, needed_in, on_fold_in, through_in
from patterns.saying import LengthError, Say

ONLY_PAIRS: Final = "gives pieces in mirrored pairs only"
ACROSS_THE_GRAIN: Final = "has its fold across the grain, where the piece would hang and stretch otherwise"


def crosswise_refusal(cloth: Cloth) -> PatternError | None:
    """Why the cloth itself may not be folded crosswise; None where it may."""
    if cloth.is_one_way:
        turned = "nap" if cloth.has_nap else "stripes"
        return PatternError(
            f"a crosswise fold turns the {turned} of one layer upside down; fold the cloth lengthwise, or lay it single"
        )
    if cloth.flaws:
        return PatternError(
            "in a crosswise fold a flaw may come to lie unseen in the layer above; fold the cloth lengthwise, or lay "
            "it single"
        )
    return None


def refusal(
    piece: DraftedPiece, fold: Fold, cloth: Cloth, pieces: Sequence[DraftedPiece], terms: Terms
) -> PatternError:
    """Why no folding of that kind has a way for the piece, which is one of `pieces`."""
    half = on_fold_in(piece, cloth)
    fits_folded = half is not None and half <= cloth.width_in / 2
    if fold is Fold.SINGLE or not (fits_folded or across_in(piece, opened=True) <= _usable_in(cloth)):
        return _too_wide(piece, cloth, terms)
    if fold is Fold.CROSSWISE:
        why = ONLY_PAIRS if half is None else ACROSS_THE_GRAIN
        return PatternError(
            f"{piece.name} is cut {piece.cut}, and cloth folded crosswise {why}; fold it lengthwise, or lay it in a "
            "single layer"
        )
    if fold is Fold.REFOLDED:
        return PatternError(
            f"{piece.name} leaves nothing to fold anew for; fold the cloth once, or lay it single"
        )
    if piece.fold is not None and half is None:
        return PatternError(
            f"{piece.name} does not have its grain along its fold, so that it cannot lie on one; lay the cloth "
            "in a single layer, where it is opened full"
        )
    if half is None and not gives_two(piece):
        return PatternError(
            f"{piece.name} is not cut in mirrored pairs, and cloth {FOLD_WORDS[fold]} leaves no strip single that is "
            "wide enough; fold it partly, or lay it in a single layer"
        )
    return _too_wide_for_fold(piece, fold, cloth, pieces, terms)


def no_depth(fold: Fold, cloth: Cloth, pieces: Sequence[DraftedPiece], terms: Terms) -> PatternError:
    """Why a selvedge cannot be folded over part of the way, however far."""
    needed = needed_in(cloth, pieces, terms)
    if not needed:
        return PatternError(
            "no piece is cut double, so that there is nothing to fold for; lay the cloth single"
        )
    if fold is Fold.BOTH:
        return LengthError(
            lambda say: (
                f"from both sides the cloth is folded over by at least {say(needed[0])} each, which takes cloth "
                f"{say(4 * needed[0])} wide, and it is {say(cloth.width_in)}; fold one selvedge over"
            )
        )
    return LengthError(
        lambda say: (
            f"the widest piece needs {say(needed[-1])} from fold to selvedge, half of the cloth is "
            f"{say(cloth.width_in / 2)}, and nothing would stay single; fold it selvedges together"
        )
    )


def _usable_in(cloth: Cloth) -> float:
    return cloth.width_in - 2 * cloth.selvedge_in


def _too_wide(piece: DraftedPiece, cloth: Cloth, terms: Terms) -> PatternError:
    opened, usable, along = across_in(piece, opened=True), _usable_in(cloth), along_in(piece)

    def sentence(say: Say) -> str:
        said = f"{piece.name} is {say(opened)} wide opened full, and the cloth is {say(usable)} between its selvedges"
        wider = f"take cloth at least {say(opened + 2 * cloth.selvedge_in)} wide"
        if along <= usable and not terms.crosswise_grain:
            return f"{said}; {wider}, or consent to the crosswise grain: turned a quarter it is {say(along)} wide"
        return f"{said}; {wider}, or divide the piece by a seam"

    return LengthError(sentence)


def _too_wide_for_fold(
    piece: DraftedPiece, fold: Fold, cloth: Cloth, pieces: Sequence[DraftedPiece], terms: Terms
) -> PatternError:
    half, through = on_fold_in(piece, cloth), through_in(piece, cloth, terms)
    depth = min(known for known in (half, through) if known is not None)
    opened, usable = across_in(piece, opened=True), _usable_in(cloth)
    room = cloth.width_in / (4 if fold is Fold.CENTRE else 2)

    def sentence(say: Say) -> str:
        said = f"{piece.name} needs {say(depth)} from fold to selvedge"
        if fold is Fold.BOTH:
            wide = 2 * (depth + needed_in(cloth, pieces, terms)[0])
            return (
                f"{said}, and to fold the other side too takes cloth {say(wide)} wide; fold one selvedge over"
            )
        said = f"{said}, and cloth {FOLD_WORDS[fold]} has {say(room)}"
        if fold is Fold.CENTRE and depth <= cloth.width_in / 2:
            return f"{said}; fold it selvedges together or partly"
        if opened <= usable:
            return f"{said}; lay it in a single layer, where the piece takes {say(opened)} of {say(usable)}"
        return f"{said}; take cloth at least {say(2 * depth)} wide"

    return LengthError(sentence)


def out_of_step(fold: Fold) -> PatternError:
    """No place across in which all the pieces meet the repeat."""
    return PatternError(
        f"the pieces cannot all be in step with the repeat across cloth {FOLD_WORDS[fold]}; lay it in a single "
        "layer, or give no repeat across"
    )


def too_short(cloth: Cloth, fold: Fold, needed: Lay) -> PatternError:
    """What is missing of a length of cloth, by a lay on as much as is needed."""
    have = cloth.length_in or 0.0

    def sentence(say: Say) -> str:
        return (
            f"the pieces need {say(needed.used_in)} of cloth {FOLD_WORDS[fold]} and there is {say(have)} once it is "
            f"squared: {say(needed.used_in - have)} is missing; try another fold, a smaller gap, or narrower facings"
        )

    return LengthError(sentence)
