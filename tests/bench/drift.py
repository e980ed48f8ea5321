"""Bench rows of drift by photo: how often a moved projector is told, a still one is not, and the cause is right."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import UTC, datetime
from functools import partial

import cv2
import numpy as np

from calibration.errors import AlignmentError
from calibration.frames import Array, TableInches
from calibration.practice.table import Faults, PracticeTable
from calibration.sheets.sheet import PAPERS, RULER_IN
from calibration.solving.from_photos import solved
from calibration.table.saved import Alignment
from calibration.trust.look_again import look_again
from calibration.trust.moved import judged
from tests.bench.row import Row
from tests.unit.calibration.corners import SCREEN_PX, seen, table

FLAT_SCENES = 200
FAULTY_SCENES = 60
MOVED_IN = 2 / 25.4
TAPED = ((2, 4), (3, 5))
SHEET_MOVED_IN = 0.5
NEARBY_IN = 4.0
NOON = datetime(2026, 3, 4, 12, 0, tzinfo=UTC)


@dataclass(frozen=True, slots=True, kw_only=True)
class Told:
    """What was said of one look: that the light moved, that a look from elsewhere is needed, and why."""

    moved: bool = False
    asked: bool = False
    cause: str = ""


def drift(flat_scenes: int = FLAT_SCENES, faulty_scenes: int = FAULTY_SCENES) -> list[Row]:
    """Drift by photo, 5 sheets still lying: projector moved by 2 mm at the worst corner of the 60 x 36 in table"""
    return [
        *rows("flat table", Faults.none(), range(flat_scenes)),
        *rows("bow 1/32, curl, jitter", Faults.usual(), range(faulty_scenes)),
    ]


def rows(what: str, faults: Faults, seeds: Sequence[int]) -> list[Row]:
    """What is told by a photo from elsewhere and by one from nearly where the table was aligned from."""
    told: dict[str, list[Told]] = {}
    for seed in seeds:
        on = table(seed, faults=faults)
        alignment = saved_alignment(on, seed)
        for camera, then in (("elsewhere", on.another_view(seed + 1000)), ("near", nearby(on, seed))):
            for world, cause in (
                (then, "nothing"),
                (projector_moved(then, seed, MOVED_IN), "light"),
                (sheet_moved(then, seed), "sheets"),
            ):
                told.setdefault(f"{camera} {cause}", []).append(_told(world, seed, alignment))
    return [_row(f"{what}, photo from {camera}", camera, told) for camera in ("elsewhere", "near")]


def _row(name: str, camera: str, told: Mapping[str, Sequence[Told]]) -> Row:
    light, still, sheets = (told[f"{camera} {cause}"] for cause in ("light", "nothing", "sheets"))
    right = [each.cause == cause for cause in ("light", "nothing", "sheets") for each in told[f"{camera} {cause}"]
             if not each.asked]  # fmt: skip
    missed = np.mean([not (each.moved or each.asked) for each in light])
    return (
        name,
        f"{np.mean([each.moved for each in light]):.1%} told",
        f"asked {np.mean([each.asked for each in light]):.1%}, missed {missed:.1%}; "
        f"still: false alarms {np.mean([each.moved for each in still]):.1%}, "
        f"asked {np.mean([each.asked for each in still]):.1%}; "
        f"a moved sheet: false alarms {np.mean([each.moved for each in sheets]):.1%}, "
        f"asked {np.mean([each.asked for each in sheets]):.1%}; "
        f"cause right where told {np.mean(right):.1%}; {len(light)} scenes",
    )


def saved_alignment(on: PracticeTable, seed: int) -> Alignment:
    """As `align` makes it from one photo, with two tapes."""
    tapes = {pair: on.tape(*pair, 1 / 32) for pair in TAPED}
    return solved([seen(on, seed)], PAPERS["letter"], SCREEN_PX, on.printed_length(RULER_IN), tapes).alignment


def projector_moved(on: PracticeTable, seed: int, most_in: float) -> PracticeTable:
    """The projector shifted, turned or both, so that light moves by `most_in` at the corner where it moves most."""
    rng = np.random.default_rng((seed, 5))
    shifted, turned = ((1, 0), (0, 1), (1, 1))[rng.integers(3)]
    shift, turn = rng.normal(size=3) * shifted, rng.normal(size=3) * turned / on.projector.at_in[2]
    corners = TableInches(
        on.frame_in_room.inward(np.array([(x, y) for x in (-30.0, 30) for y in (-18.0, 18)]))
    )
    pixels = on.true_screen_from_table(corners)
    move = partial(_moved, on, shift, turn)
    size = 0.05
    for _ in range(5):
        size *= most_in / np.hypot(*(move(size).true_table_from_screen(pixels) - corners).T).max()
    return move(size)


def _moved(on: PracticeTable, shift: Array, turn: Array, size: float) -> PracticeTable:
    matrix, _ = cv2.Rodrigues(turn * size)
    right, down, ahead = (
        (float(x), float(y), float(z)) for x, y, z in np.array(on.projector.axes) @ matrix.T
    )
    x, y, z = (np.array(on.projector.at_in) + shift * size).tolist()
    return replace(on, projector=replace(on.projector, at_in=(x, y, z), axes=(right, down, ahead)))


def sheet_moved(on: PracticeTable, seed: int) -> PracticeTable:
    """One sheet, any of them, pushed by half an inch and turned by a degree; the table frame stays."""
    rng = np.random.default_rng((seed, 6))
    number = int(rng.integers(1, len(on.sheets) + 1))
    bearing = rng.uniform(0, 2 * np.pi)
    pose = on.sheet(number).pose
    pushed = replace(
        pose,
        x_in=pose.x_in + SHEET_MOVED_IN * float(np.cos(bearing)),
        y_in=pose.y_in + SHEET_MOVED_IN * float(np.sin(bearing)),
        turn_deg=pose.turn_deg + 1.0,
    )
    sheets = tuple(replace(s, pose=pushed) if s.number == number else s for s in on.sheets)
    return replace(on, sheets=sheets)


def nearby(on: PracticeTable, seed: int) -> PracticeTable:
    """The same camera held within a hand of where it was, aimed within an inch."""
    rng = np.random.default_rng((seed, 8))
    at, axes = np.array(on.camera.at_in), np.array(on.camera.axes)
    target = at - axes[2] * at[2] / axes[2, 2] + np.append(rng.uniform(-1, 1, 2), 0)
    held = at + rng.uniform(-NEARBY_IN, NEARBY_IN, 3)
    ahead = (target - held) / np.linalg.norm(target - held)
    right = axes[0] - ahead * (axes[0] @ ahead)
    right /= np.linalg.norm(right)
    r, d, a = ((float(x), float(y), float(z)) for x, y, z in (right, np.cross(ahead, right), ahead))
    x, y, z = held.tolist()
    return replace(on, camera=replace(on.camera, at_in=(x, y, z), axes=(r, d, a)))


def _told(world: PracticeTable, seed: int, alignment: Alignment) -> Told:
    """Nothing at all where it is said that drift cannot be told: that misses a move."""
    try:
        found = judged(look_again([seen(world, seed + 5000)], alignment), alignment, NOON)
    except AlignmentError:
        return Told()
    return Told(moved=found.test.moved, asked=not found.test.sure, cause=found.cause)
