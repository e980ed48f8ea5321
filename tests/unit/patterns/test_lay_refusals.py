"""What cannot be laid is refused with the way out."""

from dataclasses import replace
from types import MappingProxyType

import numpy as np
import pytest

from patterns import PatternError
from patterns.cutting.drafted import DraftedPiece
from patterns.laying.cloth import Cloth, Flaw, Repeat, Shrinkage
from patterns.laying.folding import Fold
from patterns.laying.lay import Terms
from patterns.measures import Unit
from patterns.parts import CutCount
from patterns.planning.plan import Effort, lays, plan
from tests.unit.patterns.wardrobe import box, pattern_of_pieces, piece

CLOTH = Cloth(bought_width_in=60.0)
QUICK = Effort(rounds=10)
REFUSED = [
    (
        box("cape", CutCount(on_fold=True), 32.0, 40.0), CLOTH, Fold.SINGLE,
        "cape is 64 in wide opened full, and the cloth is 59 in between its selvedges; take cloth at least 65 in "
        "wide, or consent to the crosswise grain: turned a quarter it is 40 in wide",
    ),
    (
        box("cape", CutCount(on_fold=True), 32.0, 40.0), CLOTH, Fold.SELVEDGES,
        "cape is 64 in wide opened full, and the cloth is 59 in between its selvedges; take cloth at least 65 in "
        "wide, or consent to the crosswise grain: turned a quarter it is 40 in wide",
    ),
    (
        box("front", CutCount(on_fold=True), 20.0, 25.0), replace(CLOTH, length_in=20.0), Fold.SELVEDGES,
        "the pieces need 25 in of cloth folded selvedge to selvedge and there is 20 in once it is squared: 5 in is "
        "missing; try another fold, a smaller gap, or narrower facings",
    ),
    (
        box("cuff", CutCount(count=2, mirrored=True), 5.0, 8.0), replace(CLOTH, has_nap=True), Fold.CROSSWISE,
        "a crosswise fold turns the nap of one layer upside down; fold the cloth lengthwise, or lay it single",
    ),
    (
        box("cuff", CutCount(count=2, mirrored=True), 5.0, 8.0),
        replace(CLOTH, flaws=(Flaw(left_in=9, bottom_in=30, right_in=10, top_in=31),)), Fold.CROSSWISE,
        "in a crosswise fold a flaw may come to lie unseen in the layer above; fold the cloth lengthwise, or lay it "
        "single",
    ),
    (
        box("front", CutCount(on_fold=True), 20.0, 25.0), CLOTH, Fold.CROSSWISE,
        # common practice: what is cut on a fold has its grain along that fold, which only runs lengthwise
        "front is cut 1 on fold, and cloth folded crosswise has its fold across the grain, where the piece would hang "
        "and stretch otherwise; fold it lengthwise, or lay it in a single layer",
    ),
    (
        box("pocket", CutCount(), 5.0, 6.0), CLOTH, Fold.CROSSWISE,
        "pocket is cut 1, and cloth folded crosswise gives pieces in mirrored pairs only; fold it lengthwise, or lay "
        "it in a single layer",
    ),
    (
        box("pocket", CutCount(), 5.0, 6.0), CLOTH, Fold.SELVEDGES,
        "pocket is not cut in mirrored pairs, and cloth folded selvedge to selvedge leaves no strip single that is "
        "wide enough; fold it partly, or lay it in a single layer",
    ),
    (
        box("pocket", CutCount(), 5.0, 6.0), CLOTH, Fold.PARTIAL,
        "no piece is cut double, so that there is nothing to fold for; lay the cloth single",
    ),
    (
        box("front", CutCount(on_fold=True), 20.0, 25.0), CLOTH, Fold.CENTRE,
        "front needs 20 1/2 in from fold to selvedge, and cloth folded to the middle has 15 in; fold it selvedges "
        "together or partly",
    ),
    (
        box("front", CutCount(on_fold=True), 29.5, 25.0), CLOTH, Fold.PARTIAL,
        "the widest piece needs 30 in from fold to selvedge, half of the cloth is 30 in, and nothing would stay "
        "single; fold it selvedges together",
    ),
    (
        box("front", CutCount(on_fold=True), 20.0, 25.0), CLOTH, Fold.BOTH,
        "from both sides the cloth is folded over by at least 20 1/2 in each, which takes cloth 82 in wide, and it is "
        "60 in; fold one selvedge over",
    ),
    (
        box("front", CutCount(on_fold=True), 20.0, 25.0), CLOTH, Fold.REFOLDED,
        "front leaves nothing to fold anew for; fold the cloth once, or lay it single",
    ),
    (
        box("cuff", CutCount(count=2, mirrored=True), 5.0, 8.0), replace(CLOTH, repeat=Repeat(along_in=3.0)),
        Fold.CROSSWISE,
        "a crosswise fold turns the stripes of one layer upside down; fold the cloth lengthwise, or lay it single",
    ),
    (
        replace(box("flounce", CutCount(on_fold=True), 20.0, 20.0), grain=np.array([[5.0, 15.0], [10.0, 10.0]])),
        CLOTH, Fold.SELVEDGES,
        "flounce does not have its grain along its fold, so that it cannot lie on one; lay the cloth in a single "
        "layer, where it is opened full",
    ),
]  # fmt: skip


@pytest.mark.parametrize(("one", "cloth", "fold", "sentence"), REFUSED)
def test_what_cannot_be_laid_is_refused_with_the_way_out(
    one: DraftedPiece, cloth: Cloth, fold: Fold, sentence: str
) -> None:
    with pytest.raises(PatternError) as refused:
        plan(pattern_of_pieces(one), cloth, fold, effort=QUICK)
    assert str(refused.value) == sentence


def test_refusals_speak_the_unit_of_the_cloth() -> None:
    pattern = pattern_of_pieces(box("cape", CutCount(on_fold=True), 32.0, 70.0))
    with pytest.raises(
        PatternError, match=r"cape is 162.6 cm wide opened full, and the cloth is 149.9 cm between"
    ):
        plan(pattern, CLOTH, Fold.SINGLE, terms=Terms(sold_by=Unit.CM), effort=QUICK)


def test_an_endless_search_gives_up_where_nothing_fits() -> None:
    pattern = pattern_of_pieces(box("front", CutCount(on_fold=True), 20.0, 28.0))
    with pytest.raises(PatternError, match="is missing"):
        next(lays(pattern, replace(CLOTH, length_in=25.0), Fold.PARTIAL, effort=Effort(rounds=10**9)))


def test_pieces_that_cannot_be_in_step_are_told() -> None:
    """By hand: the half is matched at 30, so the pair at 2, 9, ... or 30; there is room from 1/2 to 1 3/4 in for it."""
    pattern = pattern_of_pieces(
        box("front", CutCount(on_fold=True), 20.0, 20.0),
        box("cape", CutCount(count=2, mirrored=True), 28.0, 20.0),
    )
    terms = Terms(match_points=MappingProxyType({"cape": (0.0, 20.0)}))
    with pytest.raises(
        PatternError, match="the pieces cannot all be in step with the repeat across cloth folded"
    ):
        plan(pattern, replace(CLOTH, repeat=Repeat(across_in=7.0)), Fold.SELVEDGES, terms=terms, effort=QUICK)


def test_shrinkage_across_narrows_the_cloth() -> None:
    cloth = Cloth(bought_width_in=60.0, shrinkage=Shrinkage(across=0.05))
    pattern = pattern_of_pieces(
        piece("panel", CutCount(), [(0, 0), (57, 0), (57, 10), (0, 10)], allowance_in=0.0)
    )
    with pytest.raises(PatternError, match="the cloth is 56 in between its selvedges"):
        plan(pattern, cloth, Fold.SINGLE, effort=QUICK)
