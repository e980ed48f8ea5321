"""Pieces of a lay moved by hand: what moves, what stays."""

from pathlib import Path

import numpy as np
import pytest

from patterns.errors import PatternError
from patterns.laying.cloth import Cloth
from patterns.laying.folding import Fold, Folding
from patterns.laying.lay import Lay, PieceOnCloth
from patterns.laying.moving import is_upside_down, laid_otherwise, slid, turned_about, turned_over, with_moved
from patterns.laying.rules import violations, violations_of
from tests.unit.patterns.build import HALF_TOP, pattern_of
from tests.unit.patterns.hand_lays import on_fold, opened

FOLDING = Folding(fold=Fold.BOTH, cloth=Cloth(bought_width_in=60), left_in=13, right_in=13)
LEFT, RIGHT = FOLDING.fold_lines


@pytest.fixture
def lay(tmp_path: Path) -> Lay:
    front = pattern_of(tmp_path, HALF_TOP).drafted().pieces["front"]
    return Lay(folding=FOLDING, placed=(on_fold(front, RIGHT, 2.0),), pieces=(front,))


def box(one: PieceOnCloth) -> list[float]:
    outline = one.outline_in
    return [*outline.min(axis=0).tolist(), *outline.max(axis=0).tolist()]


def test_a_half_slides_along_its_fold_only(lay: Lay) -> None:
    (one,) = lay.placed
    moved = slid(one, np.array([3.0, 4.0]))
    assert np.allclose(np.array(box(moved)) - box(one), [0, 4, 0, 4])
    assert violations(with_moved(lay, 0, moved)) == ()


def test_turned_about_it_covers_the_same_box_and_stays_on_its_fold(lay: Lay) -> None:
    (one,) = lay.placed
    turned = turned_about(one)
    assert is_upside_down(turned)
    assert not is_upside_down(one)
    assert box(turned) == pytest.approx(box(one))
    assert violations(with_moved(lay, 0, turned)) == ()
    assert np.allclose(turned_about(turned).outline_in, one.outline_in)


def test_it_goes_from_fold_to_fold_and_to_a_single_layer(lay: Lay) -> None:
    (one,) = lay.placed
    single = laid_otherwise(one, lay)
    assert single.fold_line is None
    assert single.placement.opened
    on_left = laid_otherwise(single, lay)
    assert on_left.fold_line == LEFT
    assert box(on_left)[0] == pytest.approx(LEFT.at_in)
    assert violations(with_moved(lay, 0, on_left)) == ()
    back = laid_otherwise(on_left, lay)
    assert back.fold_line == RIGHT
    assert np.allclose(back.outline_in, one.outline_in)


def test_opened_it_lies_on_the_single_strip_or_is_told_that_it_does_not(lay: Lay) -> None:
    """8 in are single between the folds: too few for the opened front, which is named."""
    single = laid_otherwise(lay.placed[0], lay)
    (broken,) = violations_of(with_moved(lay, 0, single), 0)
    assert "front reaches" in broken.sentence
    middle = (box(single)[0] + box(single)[2]) / 2
    assert middle == pytest.approx(30)


def test_a_half_is_not_turned_over_and_a_whole_is(lay: Lay) -> None:
    (one,) = lay.placed
    with pytest.raises(PatternError, match="which mirrors it by itself"):
        turned_over(one)
    whole = opened(one.piece, 4, 1, turn_deg=180)
    over = turned_over(whole)
    assert over.placement.mirrored
    assert is_upside_down(over)
    assert box(over) == pytest.approx(box(whole))


def test_cloth_without_a_fold_gives_no_other_way(lay: Lay) -> None:
    flat = Lay(
        folding=Folding(fold=Fold.SINGLE, cloth=FOLDING.cloth), placed=(opened(lay.placed[0].piece, 4, 1),)
    )
    with pytest.raises(PatternError, match="no fold of the cloth to lie on"):
        laid_otherwise(flat.placed[0], flat)
