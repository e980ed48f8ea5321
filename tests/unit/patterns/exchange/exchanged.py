"""Drafted patterns, what they are exported to, and what that comes back as; each made once for all tests."""

import io
import tempfile
from functools import lru_cache
from itertools import pairwise
from pathlib import Path

import numpy as np
import shapely

from patterns import DraftedPattern, example, read_pattern
from patterns.curves import Array
from patterns.exchange.asked import Asked
from patterns.exchange.dxf_out import spread_dxf
from patterns.exchange.imported import Imported, imported
from patterns.exchange.marked import Spread, marked_pieces, spread
from patterns.exchange.pdf_out import one_page_pdf
from patterns.exchange.svg_out import spread_svg
from patterns.files.reader import pattern_in
from patterns.piece import Piece

GORES = Path(__file__).parents[3] / "garments" / "wharf_gores.yaml"
PENNANTS = 22
APART_IN = 0.1  # of the places at which two lines are compared
FARTHEST_IN = 0.002  # of a seam line that has been out and in again


def pennants() -> str:
    """A file of 22 pennants for the harbour's dressing lines, each a little longer, none of them curved."""
    pieces = "".join(
        f"""
  pennant {i}:
    cut: 2 mirrored
    edges:
      - {{name: hoist, kind: hem, path: [[0, 4], [0, 0]]}}
      - {{name: upper, kind: seam, path: [[0, 0], [{6 + i / 2}, 2]]}}
      - {{name: lower, kind: seam, path: [[{6 + i / 2}, 2], [0, 4]], allowance: 1/4 in}}
    grain: [[1, 1], [1, 3]]
    notches: [{{edge: upper, at: 3 in, count: 2}}]"""
        for i in range(1, PENNANTS + 1)
    )
    return (
        f"pattern: Pennants\nunit: in\nallowance: {{seam: 1/2 in, hem: 1/4 in + 1/4 in}}\npieces:{pieces}\n"
    )


@lru_cache
def drafted(name: str) -> DraftedPattern:
    """The demo, the pocket, the skirt in centimetres, or many pieces."""
    if name == "pennants":
        return pattern_in(pennants(), Path("pennants.yaml")).drafted()
    return read_pattern(GORES if name == "gores" else example(name)).drafted()


@lru_cache
def laid_out(name: str, *, opened: bool = False) -> Spread:
    pattern = drafted(name)
    return spread(pattern.name, marked_pieces(pattern, opened=opened))


@lru_cache
def exported(name: str, kind: str, *, opened: bool = False) -> bytes:
    sheet, unit = laid_out(name, opened=opened), drafted(name).unit
    if kind == "svg":
        return spread_svg(sheet, unit).encode("utf-8")
    return spread_dxf(sheet, unit) if kind == "dxf" else one_page_pdf(sheet, unit)


def brought_in(folder: Path, content: str | bytes, kind: str, asked: Asked | None = None) -> Imported:
    """What a file of such content comes in as."""
    path = folder / f"drawing.{kind}"
    path.write_bytes(content if isinstance(content, bytes) else content.encode("utf-8"))
    return imported(path, asked or Asked())


@lru_cache
def back_again(name: str, kind: str, *, opened: bool = False) -> Imported:
    """What an export comes in as."""
    with tempfile.TemporaryDirectory() as folder:
        return brought_in(Path(folder), exported(name, kind, opened=opened), kind)


def ring_of(piece: Piece) -> Array:
    return np.concatenate([curve.points[:-1] for curve in piece.curves])


def apart_in(one: Array, other: Array) -> float:
    """How far two closed lines lie apart at most, both ways."""
    lines = [shapely.LinearRing(points) for points in (one, other)]
    return max(_off_in(*lines), _off_in(*reversed(lines)))


def _off_in(line: shapely.LinearRing, other: shapely.LinearRing) -> float:
    places = shapely.points(shapely.get_coordinates(shapely.segmentize(line, APART_IN)))
    nearest = shapely.STRtree([shapely.LineString(pair) for pair in pairwise(other.coords)])
    return float(nearest.query_nearest(places, return_distance=True, all_matches=False)[1].max())


def as_stream(content: bytes) -> io.StringIO:
    return io.StringIO(content.decode("utf-8"))
