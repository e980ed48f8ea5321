"""Alignment by hand, with a simulated hand."""

from dataclasses import replace
from datetime import UTC, datetime

import numpy as np
import pytest
from scipy.optimize import approx_fprime

from calibration.errors import AlignmentError
from calibration.frames import SheetInches
from calibration.hand.by_hand import HandAlignment
from calibration.hand.fit import BOWED, HandProblem, fit_by_hand
from calibration.hand.marks import HandCross, mat_marks
from calibration.practice.table import PracticeTable
from calibration.projector_map import ProjectorMap
from calibration.sheets.sheet import PAPERS
from calibration.solving.unit_map import map_from_units

NOW = datetime(2026, 11, 25, tzinfo=UTC)
SCREEN_PX = (1920, 1080)
MAT_CORNER_IN = (-28.0, -16.0)
HAND_IN, LIGHT_PX = 1 / 64, 0.5  # radial sigma of the hand and of the cross
MIDDLE_ROW = np.array([[SCREEN_PX[0] * share - 0.5, (SCREEN_PX[1] - 1) / 2] for share in (0.25, 0.75)])


def placed_on_mat(seed: int, marks: int, slip_at: int = -1) -> tuple[PracticeTable, HandAlignment]:
    table = PracticeTable.random(seed)
    rng = np.random.default_rng(seed)
    hand = HandAlignment.over_mat(SCREEN_PX, 1.0, (56.0, 32.0))
    for number in range(marks):
        mark = hand.next_mark()
        assert mark is not None
        at = np.array([mark.at_in]) + MAT_CORNER_IN + rng.normal(0, HAND_IN / np.sqrt(2), 2)
        pixel = table.true_screen_from_table(at)[0] + rng.normal(0, LIGHT_PX / np.sqrt(2), 2)
        if number == slip_at:
            pixel = pixel + (12, 0)
        hand = hand.with_cross((float(pixel[0]), float(pixel[1])), mark)
    return table, hand


def errors_in(table: PracticeTable, hand: HandAlignment) -> tuple[float, float]:
    """RMS and 95th percentile over the mat."""
    x, y = np.meshgrid(np.linspace(0, 56, 15), np.linspace(0, 32, 9))
    on_mat = np.column_stack([x.ravel(), y.ravel()])
    found = hand.finished("table", NOW).map
    landed = table.true_table_from_screen(found.screen_from_table(on_mat)) - MAT_CORNER_IN
    errors = np.hypot(*(landed - on_mat).T)
    return float(np.sqrt((errors**2).mean())), float(np.quantile(errors, 0.95))


def test_sixteen_marks_are_good_to_a_fiftieth_and_the_claim_is_true() -> None:
    found = [placed_on_mat(seed, 16) for seed in range(10)]
    errors = [errors_in(table, hand) for table, hand in found]
    assert np.sqrt(np.mean([rms**2 for rms, _ in errors])) < 0.021
    claims = [hand.report().p95_in for _, hand in found]
    assert sum(p95 <= claim for (_, p95), claim in zip(errors, claims, strict=True)) >= 9


def test_after_four_marks_the_next_is_predicted() -> None:
    table, hand = placed_on_mat(1, 4)
    mark = hand.next_mark()
    assert mark is not None
    truth = table.true_screen_from_table(np.array([mark.at_in]) + MAT_CORNER_IN)
    assert np.hypot(*(hand.predicted_px(mark) - truth)[0]) < 15


def test_a_slip_is_pointed_at() -> None:
    _, hand = placed_on_mat(2, 16, slip_at=9)
    report = hand.report()
    assert report.worst == hand.crosses[9].mark
    assert 0.3 < report.worst_in < 0.8  # 12 px at 24 to 28 px/in
    assert f"{report.worst.name} disagrees with the others by " in hand.finished("table", NOW).verdict


def test_loose_sheets_are_solved_with_the_projector() -> None:
    table = PracticeTable.random(3, sheets=4)
    hand = HandAlignment.over_sheets(SCREEN_PX, PAPERS["letter"], 4)
    while (mark := hand.next_mark()) is not None:
        assert hand.predicted_px(mark).shape == (1, 2)
        at = table.table_from_sheet(mark.sheet, SheetInches(np.array([mark.at_in])))
        u, v = table.true_screen_from_table(at)[0]
        hand = hand.with_cross((float(u), float(v)))
        hand.report()
    alignment = hand.finished("table", NOW)
    assert np.hypot(*table.light_errors_in(alignment.map).T).max() < 0.1
    assert alignment.trustworthy
    assert not alignment.size_checked
    turned_deg = np.rad2deg(
        np.arctan2(*np.diff(alignment.map.table_from_screen(MIDDLE_ROW), axis=0)[0][::-1])
    )
    assert abs(turned_deg) > 0.5
    assert alignment.turn_deg == pytest.approx(turned_deg)


def test_what_is_laid_by_a_mat_lies_along_its_lines() -> None:
    _, hand = placed_on_mat(1, 12)
    assert hand.finished("table", NOW).turn_deg == 0


def test_undo_of_a_cross_is_the_value_before() -> None:
    _, hand = placed_on_mat(1, 5)
    assert hand.with_cross((10.0, 10.0)).undone() == hand
    empty = HandAlignment.over_mat(SCREEN_PX, 1.0, (56.0, 32.0))
    assert empty.undone() == empty


def test_too_few_crosses_are_refused() -> None:
    _, hand = placed_on_mat(1, 5)
    assert hand.report().words.startswith("5 placed")
    with pytest.raises(AlignmentError, match="5 crosses placed; 6 or more are needed, 12 are usual"):
        hand.finished("table", NOW)


def on_sheets(table: PracticeTable, marks: int) -> HandAlignment:
    """So many crosses exactly on the marks of four loose sheets."""
    hand = HandAlignment.over_sheets(SCREEN_PX, PAPERS["letter"], 4)
    for _ in range(marks):
        mark = hand.next_mark()
        assert mark is not None
        at = table.table_from_sheet(mark.sheet, SheetInches(np.array([mark.at_in])))
        u, v = table.true_screen_from_table(at)[0]
        hand = hand.with_cross((float(u), float(v)))
    return hand


def test_a_sheet_with_one_cross_is_refused() -> None:
    hand = on_sheets(PracticeTable.random(3, sheets=4), 7)
    assert not hand.enough
    with pytest.raises(AlignmentError, match="A sheet has one cross; a loose sheet needs two"):
        hand.finished("table", NOW)


def test_marks_that_pin_the_map_come_first_and_then_the_one_foreseen_worst() -> None:
    table, hand = placed_on_mat(4, 4)
    assert {cross.mark.at_in for cross in hand.crosses} == {(0, 0), (56, 0), (56, 32), (0, 32)}
    for _ in range(4):
        mark = hand.next_mark()
        assert mark is not None
        left = [each for each in hand.marks if each not in {cross.mark for cross in hand.crosses}]
        found = map_so_far(hand)
        errors = {each: float(found.forecast([each.at_in])[0]) for each in left}
        assert errors[mark] == pytest.approx(max(errors.values()))
        u, v = table.true_screen_from_table(np.array([mark.at_in]) + MAT_CORNER_IN)[0]
        hand = hand.with_cross((float(u), float(v)))


def map_so_far(hand: HandAlignment) -> ProjectorMap:
    fit = fit_by_hand(hand.placed, SCREEN_PX, 1.0)
    return map_from_units(fit.terms, fit.covariance, SCREEN_PX)


def test_each_loose_sheet_is_laid_by_two_opposite_corners_before_any_other_mark() -> None:
    hand = on_sheets(PracticeTable.random(3, sheets=4), 11)
    sheets = [cross.mark.sheet for cross in hand.crosses]
    assert sheets[:10] == [1, 1, 1, 1, 2, 2, 3, 3, 4, 4]
    assert [cross.mark.name for cross in hand.crosses[4:6]] == ["sheet 2, top left", "sheet 2, bottom right"]


def test_more_crosses_are_usual_on_many_loose_sheets_than_on_a_mat() -> None:
    assert placed_on_mat(1, 1)[1].usual_marks == 12
    for sheets, usual in ((1, 12), (3, 12), (5, 20)):
        assert HandAlignment.over_sheets(SCREEN_PX, PAPERS["letter"], sheets).usual_marks == usual


def test_a_mark_placed_again_counts_once_and_undo_brings_the_earlier_cross_back() -> None:
    _, hand = placed_on_mat(2, 12, slip_at=5)
    worst = hand.report().worst
    assert worst == hand.crosses[5].mark
    slipped = hand.crosses[5].at_px
    again = hand.with_cross((slipped[0] - 12, slipped[1]), worst)
    assert len(again.placed) == 12
    assert again.report().worst is None
    assert again.report().p95_in < hand.report().p95_in
    assert again.next_mark() not in {cross.mark for cross in hand.crosses}
    assert again.undone() == hand


def test_bow_enters_only_where_marks_held_out_ask_for_it() -> None:
    bowed, flat = PracticeTable.random(5), PracticeTable.random(6)
    assert abs(bowed.projector.bow[0]) > 0.005
    flat = replace(flat, projector=replace(flat.projector, bow=(0.0, 0.0)))
    for table, expected in ((bowed, True), (flat, False)):
        crosses: list[HandCross] = []
        for mark in mat_marks(1.0, (56.0, 32.0))[::3]:
            u, v = table.true_screen_from_table(np.array([mark.at_in]) + MAT_CORNER_IN)[0]
            noise = np.random.default_rng(len(crosses)).normal(0, 0.4, 2)
            crosses.append(HandCross(mark=mark, at_px=(float(u + noise[0]), float(v + noise[1]))))
        fit = fit_by_hand(tuple(crosses), SCREEN_PX, 1.0)
        assert fit.bowed is expected
        assert bool(fit.terms[8]) is expected
        passed_over = HandProblem(tuple(crosses), SCREEN_PX, 1.0, BOWED)
        k1 = passed_over.all_terms(passed_over.solved())[8]
        assert fit.covariance[8, 8] >= (k1 - fit.terms[8]) ** 2 + 1e-9


def test_slopes_of_the_fit_are_those_of_its_residuals() -> None:
    crosses = on_sheets(PracticeTable.random(3, sheets=4), 12).placed
    problem = HandProblem(crosses, SCREEN_PX, 1.0, BOWED)
    x = problem.solved()
    assert np.allclose(problem.slopes(x), approx_fprime(x, problem.residuals, 1e-7), rtol=1e-4, atol=0.02)


def test_crosses_on_a_line_are_refused() -> None:
    hand = HandAlignment.over_mat(SCREEN_PX, 1.0, (56.0, 32.0))
    for u in (100.0, 200.0, 300.0, 400.0):
        hand = hand.with_cross((u, 500.0))
    with pytest.raises(AlignmentError, match="lie on one line; undo"):
        hand.next_mark()
    with pytest.raises(AlignmentError, match="lie on one line; undo"):
        hand.predicted_px(hand.marks[-1])


def test_a_cross_off_the_screen_is_refused() -> None:
    hand = HandAlignment.over_mat(SCREEN_PX, 1.0, (56.0, 32.0))
    with pytest.raises(AlignmentError, match="The cross is outside the light"):
        hand.with_cross((-5.0, 10.0))


def test_corners_of_the_mat_come_first() -> None:
    first = {mark.at_in for mark in mat_marks(1.0, (36.0, 24.0))[:4]}
    assert first == {(0.0, 0.0), (36.0, 0.0), (0.0, 24.0), (36.0, 24.0)}
    assert len(mat_marks(1.0, (36.0, 24.0))) == 35
    assert len({mark.at_in for mark in mat_marks(1.0, (36.0, 24.0))}) == 35


def test_more_crossings_are_offered_along_the_longer_side() -> None:
    for size, columns, rows in (((36.0, 24.0), 7, 5), ((24.0, 36.0), 5, 7), ((3.0, 2.0), 4, 3)):
        marks = mat_marks(1.0, size)
        assert len({mark.at_in[0] for mark in marks}) == columns
        assert len({mark.at_in[1] for mark in marks}) == rows


@pytest.mark.parametrize(("pitch", "size"), [(0.0, (36.0, 24.0)), (20.0, (36.0, 24.0)), (1.0, (0.5, 24.0))])
def test_a_mat_without_lines_is_refused(pitch: float, size: tuple[float, float]) -> None:
    with pytest.raises(AlignmentError, match="has too few lines"):
        mat_marks(pitch, size)
