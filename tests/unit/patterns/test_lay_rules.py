"""The rules of a lay: each broken by hand, and what is said of it."""

from dataclasses import replace
from types import MappingProxyType

import numpy as np
import pytest

from patterns.cutting.drafted import DraftedPiece
from patterns.cutting.placement import Placement
from patterns.laying.cloth import Cloth, Flaw, Repeat
from patterns.laying.folding import Fold, Folding
from patterns.laying.lay import Lay, PieceOnCloth, Terms
from patterns.laying.rules import violations, violations_of
from patterns.laying.violation import Rule
from patterns.measures import Unit
from patterns.parts import CutCount
from tests.unit.patterns.wardrobe import box, piece

CLOTH = Cloth(bought_width_in=60.0)
PARTIAL = Folding(fold=Fold.PARTIAL, cloth=CLOTH, right_in=22.0)  # the fold at 38, single from 1/2 to 16
(LINE,) = PARTIAL.fold_lines
HALF = box("front", CutCount(on_fold=True), 10.0, 20.0)
POCKET = box("pocket", CutCount(count=1), 4.0, 5.0)
CUFFS = box("cuff", CutCount(count=2, mirrored=True), 4.0, 8.0)
FLAG = piece("flag", CutCount(count=2, mirrored=True), [(0, 0), (4, 3), (0, 6)], allowance_in=0.0)


def on_fold(x_in: float = 38.0, y_in: float = 20.0, turn_deg: float = 0.0) -> PieceOnCloth:
    """The half left of the fold, its foot at the cut end."""
    lies = Placement(x_in=x_in, y_in=y_in, turn_deg=turn_deg, mirrored=turn_deg != 180.0)
    return PieceOnCloth(piece=HALF, placement=lies, fold_line=LINE)


def single(piece: DraftedPiece, x_in: float, y_in: float, **lies: float | bool) -> PieceOnCloth:
    """A piece in one layer."""
    return PieceOnCloth(piece=piece, placement=Placement(x_in=x_in, y_in=y_in, **lies))  # type: ignore[arg-type]


def double(piece: DraftedPiece, x_in: float, y_in: float) -> PieceOnCloth:
    """A piece through both layers."""
    return replace(single(piece, x_in, y_in), fold_line=LINE)


def said(*placed: PieceOnCloth, folding: Folding = PARTIAL, terms: Terms = Terms()) -> list[str]:  # noqa: B008
    """What is broken."""
    return [str(one) for one in violations(Lay(folding=folding, placed=placed, terms=terms))]


def test_a_lay_that_may_be_cut() -> None:
    assert said(on_fold(), single(POCKET, 1.0, 8.0), double(CUFFS, 20.0, 30.0)) == []


@pytest.mark.parametrize(
    ("placed", "sentence"),
    [
        ((on_fold(), double(CUFFS, 25.0, 30.0)), None),
        ((on_fold(), double(CUFFS, 25.0, 28.25)), "cuff and front are 1/4 in apart; 1/2 in is wanted"),
        ((on_fold(), double(CUFFS, 25.0, 27.0)), "cuff and front overlap"),
        ((double(CUFFS, 33.75, 10.0),), None),
        (
            (double(CUFFS, 33.9, 10.0),),
            "cuff lies 3/32 in from the fold, where its two layers meet; move it 1/4 in off",
        ),
        ((double(CUFFS, 34.5, 10.0),), "cuff lies 1/2 in across the fold"),
        ((double(CUFFS, 16.0, 10.0),), "cuff reaches 1/2 in into the selvedge"),
        ((single(POCKET, 0.25, 8.0),), "pocket reaches 1/4 in into the selvedge"),
        ((single(POCKET, 13.0, 8.0),), "pocket reaches 1 in on to cloth that lies double"),
        ((single(POCKET, 1.0, 4.5),), "pocket reaches 1/2 in beyond the squared end"),
        ((on_fold(x_in=37.9),), "front lies with its fold edge 3/32 in off the fold"),
        ((on_fold(x_in=37.99),), None),
        ((single(HALF, 1.0, 20.0),), "front is half a piece and lies on no fold; bring it to a fold, or open it full"),
        ((single(POCKET, 1.0, 8.0, turn_deg=1.4),), None),
        (
            (single(POCKET, 1.0, 8.0, turn_deg=1.5),),
            "pocket is off its grain: one end of the grainline lies 1/8 in nearer to the selvedge than the other, "
            "1/8 in is allowed",
        ),
        ((double(POCKET, 20.0, 8.0),), "pocket is cut twice; 1 is wanted"),
        ((single(CUFFS, 1.0, 8.0),), "cuff is cut once; 2 is wanted"),
        (
            (single(FLAG, 1.0, 8.0), single(FLAG, 8.0, 8.0)),
            "flag: 0 of 2 are turned over; 1 must be, for left and right",
        ),
        ((single(FLAG, 1.0, 8.0), single(FLAG, 14.0, 8.0, mirrored=True)), None),
        ((double(FLAG, 20.0, 8.0),), None),
    ],
)  # fmt: skip
def test_one_rule_at_a_time(placed: tuple[PieceOnCloth, ...], sentence: str | None) -> None:
    assert said(*placed) == ([] if sentence is None else [sentence])


def test_the_end_of_the_cloth_and_a_flaw() -> None:
    cloth = replace(CLOTH, length_in=9.0, flaws=(Flaw(left_in=4, bottom_in=6, right_in=5, top_in=7),))
    lay = (single(POCKET, 1.0, 10.0),)
    assert said(*lay, folding=Folding(fold=Fold.SINGLE, cloth=cloth)) == [
        "pocket reaches 1 in beyond the end of the cloth",
        "pocket lies on the flaw 4 in from the left edge, 6 in along",
    ]


def test_nap() -> None:
    cloth = replace(CLOTH, has_nap=True)
    up, down = single(POCKET, 1.0, 8.0), single(FLAG, 20.0, 8.0, turn_deg=180.0)
    found = said(up, down, folding=Folding(fold=Fold.SINGLE, cloth=cloth))
    assert found[0] == "flag is turned against the nap: its top points the other way from that of pocket"
    folded = said(up, folding=Folding(fold=Fold.CROSSWISE, cloth=cloth, far_in=20.0))
    assert "a crosswise fold turns the nap of one layer upside down; fold the cloth lengthwise" in folded


def test_a_piece_turned_against_stripes_meets_the_others_at_one_point_only() -> None:
    cloth = replace(CLOTH, repeat=Repeat(along_in=3.0))
    up = single(POCKET, 1.0, 8.0)
    turned = replace(up, placement=replace(up.placement, x_in=18.5, turn_deg=180.0))
    against = "pocket is turned against the stripes: its top points the other way from that of pocket"
    assert against in said(up, turned, folding=Folding(fold=Fold.SINGLE, cloth=cloth))
    across = replace(CLOTH, repeat=Repeat(across_in=3.0))
    assert against not in said(up, turned, folding=Folding(fold=Fold.SINGLE, cloth=across))
    folded = said(up, folding=Folding(fold=Fold.CROSSWISE, cloth=cloth, far_in=20.0))
    assert "a crosswise fold turns the stripes of one layer upside down; fold the cloth lengthwise" in folded


def test_a_piece_out_of_step_with_the_check() -> None:
    """The foot of the pocket is its match point: 1 1/2 in and 1/4 in past one of 4 in and of 3 in."""
    cloth = replace(CLOTH, repeat=Repeat(across_in=4.0, along_in=3.0))
    placed = (single(POCKET, 1.0, 8.0), replace(single(POCKET, 18.5, 14.25)))
    terms = Terms(match_points=MappingProxyType({"pocket": (0.0, 5.0)}))
    assert said(*placed, folding=Folding(fold=Fold.SINGLE, cloth=cloth), terms=terms)[:2] == [
        "pocket is 1 1/2 in out of step with pocket across the cloth, of a repeat of 4 in",
        "pocket is 1/4 in out of step with pocket along the cloth, of a repeat of 3 in",
    ]


def test_a_piece_that_is_not_there_is_missed() -> None:
    lay = Lay(folding=PARTIAL, placed=(on_fold(),), pieces=(HALF, POCKET))
    assert [str(one) for one in violations(lay)] == ["pocket is cut not at all; 1 is wanted"]


def test_lengths_are_said_as_the_cloth_is_sold() -> None:
    assert said(single(POCKET, 0.25, 8.0), terms=Terms(sold_by=Unit.CM)) == [
        "pocket reaches 6.4 mm into the selvedge"
    ]


def test_what_a_moved_piece_breaks_is_what_the_whole_lay_says_of_it() -> None:
    """Ten random places each: by itself and beside the others, whichever of the two is asked."""
    chance = np.random.default_rng(4)
    for _ in range(10):
        x, y = chance.uniform(-2, 40), chance.uniform(0, 40)
        placed = (on_fold(), single(POCKET, x, y), double(CUFFS, 20.0, 30.0))
        lay = Lay(folding=PARTIAL, placed=placed)
        alone = {one.sentence for one in violations_of(lay, 1) if one.rule is not Rule.GAP}
        gaps = {one.numbers for one in violations_of(lay, 1) if one.rule is Rule.GAP}
        whole = violations(lay)
        assert alone == {one.sentence for one in whole if one.numbers == (1,)}
        assert {frozenset(pair) for pair in gaps} == {
            frozenset(one.numbers) for one in whole if one.rule is Rule.GAP
        }
