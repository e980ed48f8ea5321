"""Alignments on the practice table: rendered photos through files and the public call, errors against truth."""

from collections.abc import Sequence
from dataclasses import dataclass
from functools import cache
from pathlib import Path

import cv2
import numpy as np

from calibration import Alignment
from calibration.frames import Array, Gray
from calibration.practice.scene import CameraKind
from calibration.practice.table import Faults, PracticeTable
from calibration.sheets.sheet import PAPERS, RULER_IN, Sheet
from calibration.sheets.targets import Targets
from calibration.solving.from_photos import solved_from_photos

SCREEN_PX = (1920, 1080)
TOP_IN = (80.0, 46.0)  # nearly all of the light lands on the table
PAPER = PAPERS["letter"]
PAGE_PPI = 150.0


@dataclass(frozen=True, slots=True, kw_only=True)
class Aligned:
    """One scene's alignment, and the error of its light over the 60 x 36 in table."""

    table: PracticeTable
    alignment: Alignment
    errors_in: Array

    @property
    def rms_in(self) -> float:
        return float(np.sqrt((self.errors_in**2).mean()))

    @property
    def claim_is_true(self) -> bool:
        return float(np.quantile(self.errors_in, 0.95)) <= self.alignment.p95_in


@cache
def targets(sheets: int) -> Targets:
    return Targets(screen_px=SCREEN_PX, sheets=sheets, paper=PAPER)


@cache
def pages(sheets: int) -> tuple[Gray, ...]:
    return tuple(Sheet(paper=PAPER, number=number + 1).page(PAGE_PPI) for number in range(sheets))


def scene(
    seed: int, camera: CameraKind, sheets: int, faults: Faults, top_in: tuple[float, float] = TOP_IN
) -> PracticeTable:
    return PracticeTable.random(
        seed, camera=camera, sheets=sheets, faults=faults, windows=targets(sheets).windows, top_in=top_in
    )


def photo(table: PracticeTable, sheets: int) -> Gray:
    return table.photo(targets(sheets).frame(), pages(sheets), PAGE_PPI)


def aligned(
    table: PracticeTable, sheets: int, folder: Path, taped: Sequence[tuple[int, int]] = ()
) -> Aligned:
    """The scene photographed once, solved from the file, and held against the truth."""
    path = folder / "photo.pgm"  # nothing to pack and unpack
    cv2.imwrite(str(path), photo(table, sheets))
    solved = solved_from_photos(
        [path],
        PAPER,
        SCREEN_PX,
        sheets,
        table.printed_length(RULER_IN),
        {pair: table.tape(*pair, to_nearest_in=1 / 32) for pair in taped},
    )
    errors = np.hypot(*table.light_errors_in(solved.alignment.map).T)
    return Aligned(table=table, alignment=solved.alignment, errors_in=errors)
