"""Photos of folded garments on the practice table, with what is true of them."""

from collections.abc import Mapping
from dataclasses import dataclass
from functools import cache
from types import MappingProxyType
from typing import Final

import numpy as np
import shapely

from calibration.frames import Array, Gray, TableInches
from calibration.practice.garment import (
    FABRICS,
    Board,
    LaidGarment,
    Shadow,
    garment_table,
    in_the_middle,
    weights_on,
    wrinkled,
)
from calibration.practice.garment_photo import Picture, garment_photo
from calibration.practice.scene import CameraKind
from calibration.practice.table import Faults, PracticeTable
from calibration.sheets.sheet import PAPERS, Sheet
from patterns.tracing.outline import TracedPiece
from tests.unit.patterns.garments import garment

PAPER: Final = PAPERS["letter"]
PAGE_PPI: Final = 100.0
MM_PER_IN: Final = 25.4
NAMED_WITHIN_IN: Final = 0.5


@dataclass(frozen=True, kw_only=True)
class Kind:
    """A cloth, and what is difficult about the photo."""

    fabric: str
    wrinkled: bool = False
    shadow: bool = False
    weights: bool = False


KINDS: Final[Mapping[str, Kind]] = MappingProxyType(
    {
        "light": Kind(fabric="light"),
        "dark": Kind(fabric="dark"),
        "printed": Kind(fabric="printed"),
        "sheer, 30 % cover": Kind(fabric="sheer"),
        "light, wrinkled": Kind(fabric="light", wrinkled=True),
        "light, shadow": Kind(fabric="light", shadow=True),
        "dark, shadow": Kind(fabric="dark", shadow=True),
        "printed, two weights": Kind(fabric="printed", weights=True),
        "sheer, wrinkled, weights": Kind(fabric="sheer", wrinkled=True, weights=True),
        "dark, all of it": Kind(fabric="dark", wrinkled=True, shadow=True, weights=True),
    }
)


@dataclass(frozen=True, kw_only=True, eq=False)
class Seen:
    """A table with a garment, and the photo of it; `corners_in` (6, 2) table inches from the fold's top."""

    seed: int
    table: PracticeTable
    laid: LaidGarment
    corners_in: TableInches
    photo: Picture

    def off_mm(self, contour_in: Array) -> Array:
        """(n,) millimetres from points of a contour to the true edge."""
        return _apart_mm(contour_in, self.laid.outline_in)

    def missed_mm(self, contour_in: Array) -> Array:
        """(n,) millimetres from points of the true edge to a contour."""
        return _apart_mm(self.laid.outline_in, contour_in)


def _apart_mm(points_in: Array, ring_in: Array) -> Array:
    ring = shapely.LinearRing(ring_in)
    return np.asarray(shapely.distance(shapely.points(points_in), ring), dtype=np.float64) * MM_PER_IN


def laid(seed: int, table: PracticeTable, kind: Kind) -> tuple[LaidGarment, TableInches]:
    """A garment of the kind amid the table, and its six corners in table inches."""
    one = garment(seed)
    outline = in_the_middle(one.ring, table, seed)
    at = [int(np.argmin(np.hypot(*(one.ring - corner).T))) for corner in one.corners]
    corners = TableInches(outline[at])
    if kind.wrinkled:
        outline = wrinkled(outline, seed)
    shadow = Shadow(depth=0.5, width_in=0.15, towards_deg=seed * 77.0) if kind.shadow else Shadow()
    weights = weights_on(outline, seed) if kind.weights else ()
    return LaidGarment(
        outline_in=outline, fabric=FABRICS[kind.fabric], shadow=shadow, weights=weights
    ), corners


def seen(
    seed: int,
    camera: CameraKind,
    kind: Kind,
    sheets: int = 4,
    faults: Faults | None = None,
    board: Board | None = None,
) -> Seen:
    """A garment of the kind, photographed."""
    table = garment_table(seed, camera, sheets, faults)
    garment_laid, corners = laid(seed, table, kind)
    return Seen(
        seed=seed,
        table=table,
        laid=garment_laid,
        corners_in=corners,
        photo=photographed(table, [garment_laid], board),
    )


def photographed(table: PracticeTable, garments: list[LaidGarment], board: Board | None = None) -> Picture:
    """The photo of a table with its sheets and garments."""
    most = max(sheet.number for sheet in table.sheets)
    pages = [_page(number) for number in range(1, most + 1)]
    return garment_photo(table, garments, pages, PAGE_PPI, board)


@cache
def _page(number: int) -> Gray:
    return Sheet(paper=PAPER, number=number).page(PAGE_PPI)


def corners_off_mm(one: Seen, traced: TracedPiece) -> Array:
    """(6,) millimetres from each true corner to the nearest end of an edge."""
    apart = np.hypot(*(_ends_in(traced)[:, None] - one.corners_in[None]).transpose(2, 0, 1))
    nearest: Array = apart.min(axis=0) * MM_PER_IN
    return nearest


def named_right(one: Seen, traced: TracedPiece) -> bool:
    """Whether there are six edges that begin, in order, near the six true corners."""
    ends = _ends_in(traced)
    if len(ends) != len(one.corners_in):
        return False
    return bool((np.hypot(*(ends - one.corners_in).T) < NAMED_WITHIN_IN).all())


def _ends_in(traced: TracedPiece) -> Array:
    starts = np.array([[edge.path[0].x.inches, edge.path[0].y.inches] for edge in traced.piece.edges])
    return traced.placement.placed(starts)
