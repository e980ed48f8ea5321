"""Planning a lay: what is asked for is kept, and what cannot be is refused with the way out."""

from dataclasses import replace
from types import MappingProxyType

import numpy as np
import pytest
import shapely

from patterns import example, read_pattern
from patterns.cutting.drafted import DraftedPattern
from patterns.laying.buying import Buying
from patterns.laying.cloth import Cloth, Flaw, Repeat
from patterns.laying.folding import Fold
from patterns.laying.lay import Lay, Layer, Terms
from patterns.laying.matching import match_point_of
from patterns.laying.rules import violations
from patterns.parts import CutCount
from patterns.planning.one_fold import Prefer
from patterns.planning.plan import Effort, compare, lays, plan
from tests.unit.patterns.wardrobe import box, pattern_of_pieces

CLOTH = Cloth(bought_width_in=60.0)
QUICK = Effort(rounds=10)
NAMES = ("front", "back", "front facing", "back facing")


@pytest.fixture(scope="module")
def overtop() -> DraftedPattern:
    """The example pattern with its facings."""
    return read_pattern(example("harbour overtop")).drafted()


def as_numbers(lay: Lay) -> list[tuple[object, ...]]:
    """Where every piece lies."""
    return [(one.piece.name, one.placement, one.fold_line, one.stage) for one in lay.placed]


@pytest.mark.parametrize("fold", [Fold.SELVEDGES, Fold.PARTIAL, Fold.BOTH, Fold.REFOLDED, Fold.SINGLE])
def test_the_example_is_laid_with_nothing_broken(overtop: DraftedPattern, fold: Fold) -> None:
    lay = plan(overtop, CLOTH, fold, effort=QUICK)
    assert violations(lay) == ()
    assert sorted(one.piece.name for one in lay.placed) == sorted(NAMES)


def test_the_same_seed_gives_the_same_lay(overtop: DraftedPattern) -> None:
    for fold in (Fold.BOTH, Fold.SINGLE):
        first, again = (plan(overtop, CLOTH, fold, effort=Effort(rounds=12, seed=7)) for _ in range(2))
        assert as_numbers(first) == as_numbers(again)


def test_each_lay_that_is_given_is_no_longer_than_the_one_before(overtop: DraftedPattern) -> None:
    given = list(lays(overtop, CLOTH, Fold.SINGLE, prefer=Prefer.USED, effort=Effort(rounds=60)))
    used = [lay.used_in for lay in given]
    assert len(given) == 60
    assert used == sorted(used, reverse=True)
    assert used[-1] < used[0]
    assert all(violations(lay) == () for lay in set(given))


def test_many_pieces_are_searched_in_fewer_rounds(overtop: DraftedPattern) -> None:
    pairs = pattern_of_pieces(*(box(f"p{n}", CutCount(count=2), 3 + n % 5, 4 + n % 7) for n in range(10)))
    for effort, few, many in ((Effort(work=4000), 150, 11), (Effort(work=600), 50, 1)):
        rounds = [len(list(lays(pattern, CLOTH, Fold.SINGLE, effort=effort))) for pattern in (overtop, pairs)]
        assert rounds == [few, many]


def test_a_search_that_is_left_keeps_its_best(overtop: DraftedPattern) -> None:
    search = lays(overtop, CLOTH, Fold.SINGLE, effort=Effort(rounds=10**9))
    best = [next(search) for _ in range(5)][-1]
    search.close()  # type: ignore[attr-defined]
    assert violations(best) == ()


def test_the_packing_engine_is_believed_only_within_the_rules(overtop: DraftedPattern) -> None:
    effort = Effort(rounds=0, packing_s=1)
    lay = plan(overtop, CLOTH, Fold.SINGLE, prefer=Prefer.USED, effort=effort)
    assert violations(lay) == ()
    assert all(one.layer is Layer.SINGLE for one in lay.placed)
    assert lay.used_in < 60


def test_large_pieces_on_the_fold_and_the_rest_opened_after_them(overtop: DraftedPattern) -> None:
    lay = plan(overtop, CLOTH, Fold.REFOLDED, effort=QUICK)
    stages = {one.piece.name: one.stage for one in lay.placed}
    assert stages["back"] == 1
    assert stages["back facing"] == 2
    assert [one.stage for one in lay.placed] == sorted(one.stage for one in lay.placed)
    facing = next(one for one in lay.placed if one.piece.name == "back facing")
    assert facing.own_fold_in == facing.placement.x_in


def test_a_partial_fold_is_as_shallow_as_the_widest_piece_allows(overtop: DraftedPattern) -> None:
    """The front with its allowance is 16.13 in wide; the selvedge added and rounded up to 1/8 in, 16 3/4."""
    widest = max(float(np.ptp(one.cut_line[:, 0])) for one in overtop.pieces.values())
    lay = plan(overtop, CLOTH, Fold.PARTIAL, effort=QUICK)
    assert widest + 0.5 <= lay.folding.right_in < widest + 0.5 + 1 / 8


def test_with_nap_all_tops_point_the_same_way(overtop: DraftedPattern) -> None:
    lay = plan(overtop, replace(CLOTH, has_nap=True), Fold.SINGLE, effort=QUICK)
    assert {one.placement.turn_deg for one in lay.placed} == {0.0}


def test_checks_meet_at_the_match_points(overtop: DraftedPattern) -> None:
    cloth = replace(CLOTH, repeat=Repeat(across_in=4.0, along_in=3.0))
    terms = Terms(match_points=MappingProxyType({"front facing": (2.0, 9.0)}))
    for fold in (Fold.SELVEDGES, Fold.SINGLE):
        lay = plan(overtop, cloth, fold, terms=terms, effort=QUICK)
        points = [one.placement.placed(np.array([match_point_of(one.piece, terms)]))[0] for one in lay.placed]
        off = (np.array(points) - points[0]) / (4.0, 3.0)
        assert np.abs(off - off.round()).max() < 1e-6
        assert len({one.placement.turn_deg for one in lay.placed}) == 1  # else they meet at that point only
        assert violations(lay) == ()


def test_a_length_that_is_just_enough_is_found(overtop: DraftedPattern) -> None:
    """On as much as is needed 37.4 in are found; first tries use more, and lead there on cloth of 40 in too."""
    lay = plan(overtop, replace(CLOTH, length_in=40.0), Fold.SINGLE)
    assert violations(lay) == ()
    assert lay.used_in <= 40


def test_halves_keep_to_one_fold_where_two_are_out_of_step() -> None:
    """By hand: folded to the middle, the two folds lie 30 in apart, no multiple of a repeat of 7."""
    halves = (box(name, CutCount(count=2, on_fold=True), 14.5, 20.0) for name in ("front", "back"))
    cloth = replace(CLOTH, repeat=Repeat(across_in=7.0))
    lay = plan(pattern_of_pieces(*halves), cloth, Fold.CENTRE, effort=QUICK)
    assert violations(lay) == ()
    assert len({one.fold_line for one in lay.placed}) == 1


def test_flaws_are_left_out_and_cost_length(overtop: DraftedPattern) -> None:
    flaws = tuple(Flaw(left_in=x, bottom_in=12, right_in=x + 1, top_in=13) for x in (8, 28, 45))
    without = plan(overtop, CLOTH, Fold.SELVEDGES, prefer=Prefer.USED, effort=QUICK)
    lay = plan(overtop, replace(CLOTH, flaws=flaws), Fold.SELVEDGES, prefer=Prefer.USED, effort=QUICK)
    assert violations(lay) == ()
    assert lay.used_in > without.used_in


@pytest.mark.parametrize("gap_in", [0.0, 1.5])
def test_the_gap_that_is_asked_for(overtop: DraftedPattern, gap_in: float) -> None:
    lay = plan(overtop, CLOTH, Fold.SINGLE, terms=Terms(gap_in=gap_in), effort=QUICK)
    parts = [shapely.Polygon(part) for one in lay.placed for part in one.parts_in]
    nearest = min(one.distance(other) for i, one in enumerate(parts) for other in parts[:i])
    assert gap_in - 1e-9 <= nearest < gap_in + 0.05


def test_a_piece_that_is_too_wide_lies_across_the_grain_where_that_is_agreed() -> None:
    pattern = pattern_of_pieces(box("cape", CutCount(on_fold=True), 32.0, 40.0))
    lay = plan(pattern, CLOTH, Fold.SINGLE, terms=Terms(crosswise_grain=True), effort=QUICK)
    assert violations(lay) == ()
    assert lay.used_in == pytest.approx(64.0)


def test_a_piece_on_the_bias_lies_with_its_grain_along_the_cloth() -> None:
    bias = box("tie", CutCount(), 4.0, 20.0)
    bias = replace(bias, grain=np.array([[0.5, 10.0], [3.5, 7.0]]))
    lay = plan(pattern_of_pieces(bias), CLOTH, Fold.SINGLE, effort=QUICK)
    assert abs(lay.placed[0].placement.turn_deg) % 180 == pytest.approx(45.0)
    assert lay.used_in == pytest.approx(24 / np.sqrt(2))


def test_two_halves_of_a_pair_through_both_layers_of_a_crosswise_fold() -> None:
    """By hand: 10 in in each layer and half the gap to the fold, twice."""
    pattern = pattern_of_pieces(box("cuff", CutCount(count=2, mirrored=True), 8.0, 10.0))
    lay = plan(pattern, CLOTH, Fold.CROSSWISE, effort=QUICK)
    assert violations(lay) == ()
    assert lay.used_in == pytest.approx(20.5)


def test_every_fold_is_compared(overtop: DraftedPattern) -> None:
    found = {one.fold: one for one in compare(overtop, CLOTH, effort=Effort(rounds=2))}
    assert set(found) == set(Fold)
    assert [fold for fold in Fold if found[fold].lay is None] == [Fold.CENTRE, Fold.CROSSWISE]
    assert str(found[Fold.CROSSWISE].why_not).startswith("front is cut 1 on fold")


def test_what_is_preferred_is_saved_first() -> None:
    """By hand: the facing beside the front saves 4 1/2 in; above it, all beside the opened front stays whole, 39 in."""
    pattern = pattern_of_pieces(
        box("front", CutCount(on_fold=True), 10.0, 40.0), box("facing", CutCount(on_fold=True), 6.0, 4.0)
    )
    cloth = replace(CLOTH, length_in=60.0)
    short, whole = (
        plan(pattern, cloth, Fold.PARTIAL, prefer=prefer, effort=Effort(rounds=40))
        for prefer in (Prefer.USED, Prefer.REMNANT)
    )
    assert short.used_in == pytest.approx(40.0, abs=0.01)
    assert whole.used_in == pytest.approx(44.5, abs=0.01)
    remnant = Buying.of(whole).remnant
    assert (remnant.width_in, remnant.length_in) == pytest.approx((39.0, 60.0))
    assert Buying.of(short).remnant.area_in2 < remnant.area_in2
