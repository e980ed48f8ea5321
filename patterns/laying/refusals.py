"""Why pieces cannot be laid as it was asked, and the way out."""

from patterns.cutting.drafted import DraftedPiece
from patterns.errors import PatternError
from patterns.laying.cloth import Cloth
from patterns.laying.fold_choice import across_in, along_in
from patterns.laying.folding import FOLD_WORDS, Fold
from patterns.laying.hanging import hangs_by_its_fold
from patterns.laying.lay import Lay, Terms
from patterns.saying import LengthError, Say


def nap_refusal() -> PatternError:
    """A crosswise fold of cloth with nap."""
    return PatternError(
        "a crosswise fold turns the nap of one layer upside down; fold the cloth lengthwise, or lay it single"
    )


def refusal(piece: DraftedPiece, fold: Fold, cloth: Cloth, terms: Terms) -> PatternError:
    """Why no folding of that kind has a way for the piece."""
    usable = cloth.width_in - 2 * cloth.selvedge_in
    opened = across_in(piece, opened=True)
    if opened > usable and across_in(piece, opened=False) + cloth.selvedge_in > cloth.width_in / 2:
        return _too_wide(piece, cloth, terms, opened, usable)
    if fold is Fold.SINGLE:
        return _too_wide(piece, cloth, terms, opened, usable)
    if fold is Fold.CROSSWISE and piece.cut.count == 1:
        return PatternError(
            f"{piece.name} is cut once, and cloth folded crosswise would give it twice; fold it lengthwise, "
            "or lay it in a single layer"
        )
    if fold is Fold.REFOLDED:
        return PatternError(
            f"{piece.name} leaves nothing to fold anew for; fold once, partly or selvedges together"
        )
    if not piece.cut.on_fold and piece.cut.count == 1:
        return PatternError(
            f"{piece.name} is cut once, and cloth {FOLD_WORDS[fold]} leaves no strip single that is wide enough; "
            "fold it partly, or lay it in a single layer"
        )
    if piece.fold is not None and not hangs_by_its_fold(piece):
        return PatternError(
            f"{piece.name} does not have its grain along its fold, so that it cannot lie on one; lay the cloth "
            "in a single layer, where it is opened full"
        )
    return _too_wide_for_fold(piece, fold, cloth, opened, usable)


def _too_wide(piece: DraftedPiece, cloth: Cloth, terms: Terms, opened: float, usable: float) -> PatternError:
    along = along_in(piece)

    def sentence(say: Say) -> str:
        said = f"{piece.name} is {say(opened)} wide opened full, and the cloth is {say(usable)} between its selvedges"
        wider = f"take cloth at least {say(opened + 2 * cloth.selvedge_in)} wide"
        if along <= usable and not terms.crosswise_grain:
            return f"{said}; {wider}, or consent to the crosswise grain: turned a quarter it is {say(along)} wide"
        return f"{said}; {wider}, or divide the piece by a seam"

    return LengthError(sentence)


def _too_wide_for_fold(
    piece: DraftedPiece, fold: Fold, cloth: Cloth, opened: float, usable: float
) -> PatternError:
    half = across_in(piece, opened=False)
    room = (cloth.width_in / 4 if fold is Fold.CENTRE else cloth.width_in / 2) - cloth.selvedge_in

    def sentence(say: Say) -> str:
        said = f"{piece.name} is {say(half)} wide, and cloth {FOLD_WORDS[fold]} has {say(room)} double"
        if half + cloth.selvedge_in <= cloth.width_in / 2 and fold is Fold.CENTRE:
            return f"{said}; fold it selvedges together or partly"
        if opened <= usable:
            return f"{said}; open it full in a single layer, where it is {say(opened)} of {say(usable)}"
        return f"{said}; take cloth at least {say(2 * (half + cloth.selvedge_in))} wide"

    return LengthError(sentence)


def too_short(cloth: Cloth, fold: Fold, needed: Lay) -> PatternError:
    """What is missing of a length of cloth, by a lay on as much as is needed."""
    have = cloth.length_in or 0.0

    def sentence(say: Say) -> str:
        return (
            f"the pieces need {say(needed.used_in)} of cloth {FOLD_WORDS[fold]} and there is {say(have)}: "
            f"{say(needed.used_in - have)} is missing; try another fold, a smaller gap, or narrower facings"
        )

    return LengthError(sentence)
