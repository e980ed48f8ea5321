"""How to fold, in words that leave nothing to guess."""

from dataclasses import replace
from pathlib import Path

import pytest

from patterns.laying.cloth import Cloth
from patterns.laying.folding import Fold, Folding
from patterns.laying.lay import Lay
from patterns.laying.recipe import ANEW, LAID_OUT, OPENED, SQUARED, cutting_order, fold_recipe, lay_recipe
from patterns.measures import Unit
from patterns.saying import Say
from tests.unit.patterns.build import HALF_TOP, pattern_of
from tests.unit.patterns.hand_lays import on_fold, opened

SIXTY = Cloth(bought_width_in=60)


@pytest.mark.parametrize(
    ("fold", "depths", "said"),
    [
        (
            Fold.PARTIAL,
            {"right_in": 22},
            "Fold the right selvedge over, right sides together, until it lies 22 in from the fold; 16 in along "
            "the left selvedge stay single.",
        ),
        (
            Fold.PARTIAL,
            {"left_in": 12.5},
            "Fold the left selvedge over, right sides together, until it lies 12 1/2 in from the fold; 35 in along "
            "the right selvedge stay single.",
        ),
        (
            Fold.SELVEDGES,
            {"right_in": 30},
            "Fold the right selvedge over on to the left one, right sides together; the fold lies 30 in from both.",
        ),
        (
            Fold.CENTRE,
            {"left_in": 15, "right_in": 15},
            "Fold both selvedges in to the middle, right sides together, until they meet, each 15 in from its fold.",
        ),
        (
            Fold.BOTH,
            {"left_in": 12, "right_in": 8},
            "Fold the right selvedge over until it lies 8 in from its fold; 20 in between them stay single.",
        ),
        (
            Fold.BOTH,
            {"left_in": 20, "right_in": 10},
            "Fold the right selvedge over until it lies 10 in from its fold; they meet.",
        ),
        (
            Fold.CROSSWISE,
            {"far_in": 40},
            "Fold the far end towards you and over the squared one, right sides together, until the fold lies 40 in "
            "from the squared end.",
        ),
        (Fold.SINGLE, {}, "Leave it in a single layer."),
    ],
)
def test_each_fold_is_said(fold: Fold, depths: dict[str, float], said: str) -> None:
    steps = fold_recipe(Folding(fold=fold, cloth=SIXTY, **depths), Say(Unit.IN))
    assert steps[:2] == (SQUARED, LAID_OUT)
    assert said in steps


def test_lengths_are_said_in_the_unit_of_the_cloth() -> None:
    cloth = Cloth(bought_width_in=140 / 2.54)
    steps = fold_recipe(Folding(fold=Fold.PARTIAL, cloth=cloth, right_in=50 / 2.54), Say(Unit.CM))
    assert "50 cm from the fold; 40 cm along the left selvedge" in steps[2]
    assert "50 cm from fold to selvedge" in steps[3]


def test_the_order_of_cutting_says_how_each_piece_lies(tmp_path: Path) -> None:
    front = pattern_of(tmp_path, HALF_TOP).drafted().pieces["front"]
    folding = Folding(fold=Fold.PARTIAL, cloth=SIXTY, right_in=22)
    placed = (on_fold(front, folding.fold_lines[0], 0.0), opened(front, 1, 30.25, turn_deg=180))
    assert cutting_order(Lay(folding=folding, placed=placed), Say(Unit.IN)) == (
        "front: half, on the fold; starts at the squared end",
        "front: opened full, single layer, top to the squared end; starts 30 1/4 in from the squared end",
    )


def test_what_is_folded_anew_is_said_after_what_was_cut_before(tmp_path: Path) -> None:
    front = pattern_of(tmp_path, HALF_TOP).drafted().pieces["front"]
    folding = Folding(fold=Fold.REFOLDED, cloth=SIXTY, right_in=12)
    anew = replace(opened(front, 1, 0), stage=2)
    lay = Lay(folding=folding, placed=(on_fold(front, folding.fold_lines[0], 0.0), anew, anew))
    first, second = lay_recipe(lay, Say(Unit.IN))
    assert first.fold == fold_recipe(folding, Say(Unit.IN))
    assert (first.first, len(first.cut)) == (1, 1)
    assert second.fold == (OPENED, ANEW)
    assert (second.first, len(second.cut)) == (2, 2)
    assert anew.own_fold_in is not None
    made = f"half, on a fold made {Say(Unit.IN)(anew.own_fold_in)} from the left selvedge"
    assert second.cut[0] == f"front: {made}; starts at the squared end"
