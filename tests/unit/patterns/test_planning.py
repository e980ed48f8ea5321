"""Planning a lay: what is asked for is kept, and what cannot be is refused with the way out."""

from dataclasses import replace
from types import MappingProxyType

import numpy as np
import pytest
import shapely

from patterns import example, read_pattern
from patterns.cutting.drafted import DraftedPattern
from patterns.errors import PatternError
from patterns.laying.buying import Buying
from patterns.laying.cloth import Cloth, Flaw, Repeat, Shrinkage
from patterns.laying.folding import Fold
from patterns.laying.lay import Lay, Layer, Terms
from patterns.laying.matching import match_point_of
from patterns.laying.one_fold import Prefer
from patterns.laying.planning import Effort, compare, lays, plan
from patterns.laying.remnant import Rectangle, largest_free
from patterns.laying.rules import violations
from patterns.measures import Unit
from patterns.parts import CutCount
from tests.unit.patterns.wardrobe import box, pattern_of_pieces, piece

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
    given = list(lays(overtop, CLOTH, Fold.SINGLE, prefer=Prefer.USED, effort=Effort(rounds=30)))
    used = [lay.used_in for lay in given]
    assert len(given) == 30
    assert used == sorted(used, reverse=True)
    assert used[-1] < used[0]
    assert all(violations(lay) == () for lay in set(given))


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
        assert violations(lay) == ()


def test_a_length_that_is_just_enough_is_found(overtop: DraftedPattern) -> None:
    """On as much as is needed 37.4 in are found; first tries use more, and lead there on cloth of 40 in too."""
    lay = plan(overtop, replace(CLOTH, length_in=40.0), Fold.SINGLE)
    assert violations(lay) == ()
    assert lay.used_in <= 40


def test_an_endless_search_gives_up_where_nothing_fits(overtop: DraftedPattern) -> None:
    with pytest.raises(PatternError, match="is missing"):
        next(lays(overtop, replace(CLOTH, length_in=25.0), Fold.PARTIAL, effort=Effort(rounds=10**9)))


def test_halves_keep_to_one_fold_where_two_are_out_of_step() -> None:
    """By hand: folded to the middle, the two folds lie 30 in apart, no multiple of a repeat of 7."""
    halves = (box(name, CutCount(count=2, on_fold=True), 14.5, 20.0) for name in ("front", "back"))
    cloth = replace(CLOTH, repeat=Repeat(across_in=7.0))
    lay = plan(pattern_of_pieces(*halves), cloth, Fold.CENTRE, effort=QUICK)
    assert violations(lay) == ()
    assert len({one.fold_line for one in lay.placed}) == 1


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
        "front is cut 1 on fold, and cloth folded crosswise gives whole pieces by twos; fold it lengthwise, or lay it "
        "in a single layer",
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
        replace(box("flounce", CutCount(on_fold=True), 20.0, 20.0), grain=np.array([[5.0, 15.0], [10.0, 10.0]])),
        CLOTH, Fold.SELVEDGES,
        "flounce does not have its grain along its fold, so that it cannot lie on one; lay the cloth in a single "
        "layer, where it is opened full",
    ),
]  # fmt: skip


@pytest.mark.parametrize(("one", "cloth", "fold", "sentence"), REFUSED)
def test_what_cannot_be_laid_is_refused_with_the_way_out(
    one: object, cloth: Cloth, fold: Fold, sentence: str
) -> None:
    with pytest.raises(PatternError) as refused:
        plan(pattern_of_pieces(one), cloth, fold, effort=QUICK)  # type: ignore[arg-type]
    assert str(refused.value) == sentence


def test_refusals_speak_the_unit_of_the_cloth() -> None:
    pattern = pattern_of_pieces(box("cape", CutCount(on_fold=True), 32.0, 70.0))
    with pytest.raises(
        PatternError, match=r"cape is 162.6 cm wide opened full, and the cloth is 149.9 cm between"
    ):
        plan(pattern, CLOTH, Fold.SINGLE, terms=Terms(sold_by=Unit.CM), effort=QUICK)


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
        plan(pattern, cloth, Fold.PARTIAL, prefer=prefer, effort=QUICK)
        for prefer in (Prefer.USED, Prefer.REMNANT)
    )
    assert short.used_in == pytest.approx(40.0)
    assert whole.used_in == pytest.approx(44.5)
    remnant = Buying.of(whole).remnant
    assert (remnant.width_in, remnant.length_in) == pytest.approx((39.0, 60.0))
    assert Buying.of(short).remnant.area_in2 < remnant.area_in2


@pytest.mark.parametrize("seed", range(6))
def test_the_largest_free_rectangle_beside_every_rectangle_there_is(seed: int) -> None:
    """Boxes at whole inches: a largest free rectangle has its sides on theirs or on the edges of the cloth."""
    chance = np.random.default_rng(seed)
    corners = [(int(x), int(y)) for x, y in chance.integers(0, 10, (5, 2))]
    boxes = [shapely.box(x, y, x + chance.integers(1, 5), y + chance.integers(1, 4)) for x, y in corners]
    cloth = Rectangle(left_in=0.0, bottom_in=0.0, right_in=12.0, top_in=14.0)
    across = sorted({0.0, 12.0, *(side for one in boxes for side in one.bounds[::2] if side < 12)})
    along = sorted({0.0, 14.0, *(side for one in boxes for side in one.bounds[1::2])})
    taken = shapely.union_all(boxes)
    largest = max(
        (right - left) * (top - bottom)
        for i, left in enumerate(across)
        for right in across[i + 1 :]
        for j, bottom in enumerate(along)
        for top in along[j + 1 :]
        if shapely.box(left, bottom, right, top).intersection(taken).area == 0
    )
    found = largest_free(cloth, [np.asarray(one.exterior.coords)[:-1] for one in boxes])
    assert found.area_in2 == pytest.approx(largest)
    assert (
        shapely.box(found.left_in, found.bottom_in, found.right_in, found.top_in).intersection(taken).area
        < 1e-9
    )


def test_a_free_rectangle_goes_right_up_to_a_slanting_edge() -> None:
    """Beside the triangle (0, 0), (4, 0), (0, 8) on cloth 10 in square: (10 - x) by (2 + 2x), from its hypotenuse."""
    cloth = Rectangle(left_in=0.0, bottom_in=0.0, right_in=10.0, top_in=10.0)
    found = largest_free(cloth, [np.array([[0.0, 0.0], [4.0, 0.0], [0.0, 8.0]])])
    best = max((10 - x) * (10 - 8 + 2 * x) for x in np.linspace(0, 4, 4001))
    assert found.area_in2 <= best + 1e-6
    assert found.area_in2 >= 0.99 * best


def test_shrinkage_across_narrows_the_cloth() -> None:
    cloth = Cloth(bought_width_in=60.0, shrinkage=Shrinkage(across=0.05))
    pattern = pattern_of_pieces(
        piece("panel", CutCount(), [(0, 0), (57, 0), (57, 10), (0, 10)], allowance_in=0.0)
    )
    with pytest.raises(PatternError, match="the cloth is 56 in between its selvedges"):
        plan(pattern, cloth, Fold.SINGLE, effort=QUICK)
