"""Bench rows of the alignment by hand: error over the mat, beside the best model that an oracle would choose."""

from collections.abc import Iterator, Mapping
from dataclasses import replace
from datetime import UTC, datetime
from typing import Final

import cv2
import numpy as np

from calibration.frames import Array
from calibration.hand.by_hand import HandAlignment
from calibration.hand.drift import LaidMark, moved_by_hand, widest_three
from calibration.hand.fit import BOWED, FLAT, HandProblem, fit_by_hand
from calibration.hand.marks import HandCross, mat_marks
from calibration.practice.table import PracticeTable
from calibration.projector_map import ProjectorMap
from calibration.solving.unit_map import map_from_units
from calibration.trust.drift import DriftTest
from tests.bench.row import Row

SCREEN_PX = (1920, 1080)
MAT_IN = (56.0, 32.0)
MAT_CORNER_IN = (-28.0, -16.0)
HAND_IN, LIGHT_PX = 1 / 64, 0.5
RADIAL, PER_AXIS = 1 / np.sqrt(2), 1.0  # of those errors in each coordinate: all of it, or as a distance
SEEDS = 200
COUNTS = (9, 12, 16)
GOAL_IN: Final = {12: 0.019}
MODELS: Final = (FLAT, (8,), (8, 10, 11), BOWED)  # flat, bow about the middle, bow about a free centre, all
MOVE_IN: Final = 2 / 25.4
SLIP_PX: Final = 6.0  # about 1/4 in: a cross laid on the wrong edge of a thick line


def by_hand() -> list[Row]:
    """By hand on a mat of 56 x 32 in, hand error 0.5 px and 1/64 in: RMS inches over the mat"""
    return [
        *_rows(RADIAL, SEEDS, "", GOAL_IN),
        *_rows(PER_AXIS, SEEDS // 2, ", so much each way", {}),
    ]


def _rows(share: float, seeds: int, how: str, goals: Mapping[int, float]) -> Iterator[Row]:
    runs = [list(_placed(seed, share)) for seed in range(seeds)]
    for at, count in enumerate(COUNTS):
        found = np.array([_judged(run[at], seed) for seed, run in enumerate(runs)])
        mine, oracle, claimed = found[:, 0], found[:, 1], found[:, 2]
        goal = f", goal {goals[count]}" if count in goals else ""
        ratio = mine / oracle
        yield (
            f"{count} marks{how}: RMS of {seeds}",
            f"{_rms(mine):.4f} in",
            f"oracle {_rms(oracle):.4f} in, ratio {_rms(mine) / _rms(oracle):.3f}{goal}",
        )
        yield (
            f"{count} marks{how}: ratio",
            f"{np.median(ratio):.3f}",
            f"median; 90th percentile {np.quantile(ratio, 0.9):.3f}",
        )
        yield (
            f"{count} marks{how}: claim",
            f"{np.median(found[:, 3]):.4f} in",
            f"true in {int(claimed.sum())} of {seeds}",
        )


def slips() -> list[Row]:
    """A cross 6 px off among 12 by hand, 100 seeds: is it pointed at?"""
    pointed = accused = 0
    for seed in range(SEEDS // 2):
        *_, (_, clean) = _stages(seed, slip_at=-1, most=12)
        accused += clean.report().worst is not None
        slip_at = seed % 8
        *_, (_, slipped) = _stages(seed, slip_at=slip_at, most=12)
        pointed += slipped.report().worst == slipped.crosses[slip_at].mark
    return [
        ("the slip is pointed at", f"{pointed}", f"of {SEEDS // 2} seeds"),
        ("a mark is accused without a slip", f"{accused}", f"of {SEEDS // 2} seeds"),
    ]


def moves() -> list[Row]:
    """Three crosses by hand say whether anything moved, 200 seeds: projector knocked, or table turned and shifted"""
    rows: list[Row] = []
    for what, aligned in (("by photo", _by_photo), ("by hand, 12 marks", _by_hand)):
        tables = [PracticeTable.random(seed) for seed in range(SEEDS)]
        maps = [aligned(table, seed) for seed, table in enumerate(tables)]
        for happened, moved in (
            ("nothing moved", _still),
            ("2 mm, projector", _knocked),
            ("2 mm, table", _slid),
        ):
            tests = [
                _three_marks(found, moved(table, seed), seed)
                for seed, (table, found) in enumerate(zip(tables, maps, strict=True))
            ]
            called = sum(test.moved for test in tests)
            size_in = float(np.median([test.moved_in for test in tests]))
            wanted = "false alarms" if happened == "nothing moved" else "seen"
            rows.append(
                (f"aligned {what}: {happened}", f"{called} of {SEEDS}", f"{wanted}; median {size_in:.3f} in")
            )
    return rows


def _by_photo(table: PracticeTable, seed: int) -> ProjectorMap:
    """As true as a photo makes it, nearly: marks without noise, and a covariance to match."""
    crosses = []
    for mark in mat_marks(1.0, MAT_IN):
        u, v = table.true_screen_from_table(np.array([mark.at_in]) + MAT_CORNER_IN)[0]
        crosses.append(HandCross(mark=mark, at_px=(float(u), float(v))))
    fit = fit_by_hand(tuple(crosses), SCREEN_PX, 1.0)
    return map_from_units(fit.terms, fit.covariance[:12, :12] / 100, SCREEN_PX)


def _by_hand(table: PracticeTable, seed: int) -> ProjectorMap:
    *_, (_, hand) = _stages(seed, slip_at=-1, most=12)
    return hand.finished("table", datetime(2026, 11, 25, tzinfo=UTC)).map


def _still(table: PracticeTable, seed: int) -> PracticeTable:
    return table


def _knocked(table: PracticeTable, seed: int) -> PracticeTable:
    """The projector shifted and turned about any axis, so that the farthest corner's light moves by 2 mm."""
    rng = np.random.default_rng((seed, 5))
    shift_in, turn = rng.normal(0, 0.02, 3), rng.normal(0, 0.0003, 3)

    def by(amount: float) -> PracticeTable:
        x, y, z = (np.array(table.projector.at_in) + amount * shift_in).tolist()
        turned, _ = cv2.Rodrigues(amount * turn)
        right, down, ahead = (tuple(row) for row in (np.array(table.projector.axes) @ turned).tolist())
        return replace(table, projector=replace(table.projector, at_in=(x, y, z), axes=(right, down, ahead)))

    return by(MOVE_IN / _farthest_in(table, by(1.0)))


def _slid(table: PracticeTable, seed: int) -> PracticeTable:
    """The table with what lies on it shifted and turned, so that its farthest corner moves by 2 mm."""
    rng = np.random.default_rng((seed, 6))
    (dx, dy), turn_deg = rng.normal(0, 0.04, 2), rng.normal(0, 0.1)
    pose = table.frame_in_room

    def by(amount: float) -> PracticeTable:
        moved = replace(
            pose,
            x_in=pose.x_in + amount * dx,
            y_in=pose.y_in + amount * dy,
            turn_deg=pose.turn_deg + amount * turn_deg,
        )
        return replace(table, frame_in_room=moved)

    return by(MOVE_IN / _farthest_in(table, by(1.0)))


def _farthest_in(before: PracticeTable, after: PracticeTable) -> float:
    corners = np.array([(0, 0), (MAT_IN[0], 0), MAT_IN, (0, MAT_IN[1])]) + MAT_CORNER_IN
    strays = after.true_table_from_screen(before.true_screen_from_table(corners)) - corners
    return float(np.hypot(*strays.T).max())


def _three_marks(found: ProjectorMap, table: PracticeTable, seed: int) -> DriftTest:
    rng = np.random.default_rng((seed, 4))
    laid = [LaidMark(mark=mark, table_in=mark.at_in) for mark in mat_marks(1.0, MAT_IN)]
    marks_in = np.array([mark.table_in for mark in widest_three(laid)])
    under = marks_in + MAT_CORNER_IN + rng.normal(0, RADIAL * HAND_IN, (3, 2))
    crosses_px = table.true_screen_from_table(under) + rng.normal(0, RADIAL * LIGHT_PX, (3, 2))
    moved_in = marks_in - found.table_from_screen(crosses_px)
    return moved_by_hand(found, marks_in, moved_in, datetime(2026, 11, 25, tzinfo=UTC))


def _placed(seed: int, share: float) -> Iterator[HandAlignment]:
    """The crosses after each of `COUNTS`."""
    stages = _stages(seed, slip_at=-1, most=max(COUNTS), share=share)
    return (hand for count, hand in stages if count in COUNTS)


def _stages(seed: int, slip_at: int, most: int, share: float = RADIAL) -> Iterator[tuple[int, HandAlignment]]:
    table = PracticeTable.random(seed)
    rng = np.random.default_rng((seed, 3))
    hand = HandAlignment.over_mat(SCREEN_PX, 1.0, MAT_IN)
    for number in range(most):
        mark = hand.next_mark()
        assert mark is not None
        at = np.array([mark.at_in]) + MAT_CORNER_IN + rng.normal(0, share * HAND_IN, 2)
        pixel = table.true_screen_from_table(at)[0] + rng.normal(0, share * LIGHT_PX, 2)
        if number == slip_at:
            pixel = pixel + SLIP_PX * np.array([np.cos(seed), np.sin(seed)])
        hand = hand.with_cross((float(pixel[0]), float(pixel[1])), mark)
        yield number + 1, hand


def _judged(hand: HandAlignment, seed: int) -> tuple[float, float, bool, float]:
    """RMS of the fit and of the best of the oracle's models; whether the claim is true, and the claim."""
    table = PracticeTable.random(seed)
    alignment = hand.finished("table", datetime(2026, 11, 25, tzinfo=UTC))
    errors = _errors(table, alignment.map)
    best = min(_rms(_errors(table, _map_of(hand, terms))) for terms in MODELS)
    return (
        _rms(errors),
        min(best, _rms(errors)),
        float(np.quantile(errors, 0.95)) <= alignment.p95_in,
        alignment.p95_in,
    )


def _map_of(hand: HandAlignment, lens_terms: tuple[int, ...]) -> ProjectorMap:
    problem = HandProblem(hand.placed, SCREEN_PX, hand.scale, lens_terms)
    return map_from_units(problem.terms(problem.solved()), np.zeros((12, 12)), SCREEN_PX)


def _errors(table: PracticeTable, found: ProjectorMap) -> Array:
    x, y = np.meshgrid(np.linspace(0, MAT_IN[0], 15), np.linspace(0, MAT_IN[1], 9))
    on_mat = np.column_stack([x.ravel(), y.ravel()])
    landed = table.true_table_from_screen(found.screen_from_table(on_mat)) - MAT_CORNER_IN
    errors: Array = np.hypot(*(landed - on_mat).T)
    return errors


def _rms(errors: Array) -> float:
    return float(np.sqrt((errors**2).mean()))
