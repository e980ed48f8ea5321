"""The demo's garment: folded on a practice table, photographed, traced, and held against what it is."""

from dataclasses import dataclass
from pathlib import Path
from typing import Final

import numpy as np
import shapely

from calibration.frames import Array
from calibration.garment.silhouette import Picture, Silhouette, find_silhouette, read_colour_photo
from calibration.practice.garment import FABRICS, LaidGarment, Shadow, garment_table, in_the_middle
from calibration.practice.garment_photo import garment_photo
from calibration.practice.table import Faults
from calibration.sheets.sheet import RULER_IN, Paper, Sheet
from patterns.files.writer import write_pattern
from patterns.measures import Unit
from patterns.pattern import Pattern
from patterns.piece import Piece, closed_curves
from projector.outputs import write_picture
from projector.pictures.traced_picture import Outline, write_traced_picture
from projector.tracing.photo_trace import Asked, PhotoTrace, photo_trace
from projector.tracing.traced_file import with_piece

SCENE: Final = 9
SHEETS: Final = 3
FABRIC: Final = "light"
SHADOW: Final = Shadow(depth=0.4, width_in=0.15, towards_deg=200.0)
PAGE_PPI: Final = 100.0


@dataclass(frozen=True, slots=True, kw_only=True)
class TraceError:
    """How far the traced seam line lies from the garment's edge, and what was claimed, in inches."""

    mean_in: float
    p95_in: float
    expected_in: float


def demo_trace(out: Path, pattern: Pattern, paper: Paper) -> TraceError:
    """Photograph the pattern's front as a garment, trace it into a file of its own, and measure the error."""
    front = pattern.pieces[0]  # as it was traced: no change is made yet
    table = garment_table(SCENE, "webcam", SHEETS, Faults.usual())
    outline = in_the_middle(_seam_line(front), table, SCENE)
    laid = LaidGarment(outline_in=outline, fabric=FABRICS[FABRIC], shadow=SHADOW)
    pages = [Sheet(paper=paper, number=number + 1).page(PAGE_PPI) for number in range(SHEETS)]
    write_picture(out / "garment.jpg", garment_photo(table, [laid], pages, PAGE_PPI))
    ruler_in = table.printed_length(RULER_IN)

    def find(photo: Picture) -> tuple[Silhouette, tuple[str, ...]]:
        return find_silhouette(photo, paper, SHEETS, ruler_in), ()

    asked = Asked(piece=front.name, names=None, unit=Unit.IN, picture=out / "traced.jpg")
    seen = photo_trace("garment.jpg", read_colour_photo(out / "garment.jpg"), None, asked, find)
    traced = seen.traced
    shown = Outline(piece=traced.piece, placement=traced.placement)
    write_traced_picture(out / "traced.jpg", seen.photo, seen.found, shown)
    write_pattern(out / "traced.yaml", with_piece(None, traced.piece, out / "traced.yaml"))
    return _error(seen, outline)


def _error(seen: PhotoTrace, outline_in: Array) -> TraceError:
    """The garment's frame and the photo's are one: that of sheet 1."""
    placed = seen.traced.placement.placed(_seam_line(seen.traced.piece))
    apart = shapely.distance(shapely.LinearRing(placed), shapely.points(outline_in))
    return TraceError(
        mean_in=float(apart.mean()),
        p95_in=float(np.quantile(apart, 0.95)),
        expected_in=seen.found.error_in,
    )


def _seam_line(piece: Piece) -> Array:
    """(n, 2) closed, in piece inches, at even steps."""
    curves = closed_curves(piece.edges)
    ring = shapely.LinearRing(np.concatenate([curve.points[:-1] for curve in curves]))
    return shapely.get_coordinates(shapely.segmentize(ring, 0.05))[:-1]
