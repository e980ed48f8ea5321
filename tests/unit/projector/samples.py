"""Pieces and tables that the tests of the app share: a ferryman's blouse for a harbour-town stage."""

from collections.abc import Mapping, Sequence
from datetime import UTC, datetime
from functools import cache

import cv2
import numpy as np

from calibration.lens import Lens
from calibration.projector_map import ProjectorMap
from calibration.table.saved import Alignment
from calibration.table.setups import Setup
from calibration.trust.ruler_test import RulerTest
from patterns.cutting.drafted import DraftedPiece, drafted_piece
from patterns.measures import Length
from patterns.parts import Allowance, Bend, CutCount, Edge, Grain, Kind, Notch, Point
from patterns.piece import Piece
from patterns.shape import Shape

SCREEN_PX = (1920, 1080)
# Where the screen's corners fall on the table, from the top left on: keystone and a slight turn.
KEYSTONE_IN = ((-32.0, 18.0), (31.0, 17.0), (28.0, -16.5), (-29.0, -17.0))
HALF_INCH = Allowance(parts=(Length(spelling="1/2"),))


def a_map(
    *,
    screen_px: tuple[int, int] = SCREEN_PX,
    corners_in: Sequence[tuple[float, float]] = KEYSTONE_IN,
    k1: float = 0.006,
    sigma: float = 0.0,
) -> ProjectorMap:
    """A projector with keystone, lens shift and bow; `sigma` is the error of its shift in pixels."""
    width, height = screen_px
    corners_px = np.array([[0, 0], [width, 0], [width, height], [0, height]], np.float32) - 0.5
    homography = cv2.getPerspectiveTransform(np.array(corners_in, np.float32), corners_px.astype(np.float32))
    covariance = np.zeros((12, 12))
    covariance[2, 2] = covariance[5, 5] = sigma**2
    a, b, c = (tuple(float(v) for v in row) for row in homography)
    return ProjectorMap(
        screen_px=screen_px,
        homography=((a[0], a[1], a[2]), (b[0], b[1], b[2]), (c[0], c[1], c[2])),
        lens=Lens(k1=k1, k2=-0.002, centre_px=(width * 0.5, height * 1.1), unit_px=width / 2),
        covariance=tuple(tuple(float(v) for v in row) for row in covariance),
    )


def an_alignment(
    projector_map: ProjectorMap | None = None,
    *,
    p95_in: float = 0.02,
    size_checked: bool = True,
    trustworthy: bool = True,
    turn_deg: float = 0.0,
) -> Alignment:
    """An alignment as it would be read from a table file."""
    return Alignment(
        map=projector_map or a_map(),
        name="sail loft",
        aligned_on=datetime(2026, 3, 4, 9, 30, tzinfo=UTC),
        rms_in=0.01,
        p95_in=p95_in,
        verdict="good",
        size_checked=size_checked,
        trustworthy=trustworthy,
        sheets=5,
        photos=1,
        marks=300,
        turn_deg=turn_deg,
        shift_in=(0.0, 0.0),
        sheet_places=(),
    )


def a_setup(alignment: Alignment | None = None) -> Setup:
    """A set-up that there is nothing to be warned of: a ruler test was passed just now."""
    test = RulerTest(
        tested_on=datetime.now().astimezone(),
        lengths=((36.0, 36.0), (24.0, 24.0)),
        diagonals=((30.0, 30.0), (30.0, 30.0)),
    )
    return Setup(alignment=alignment or an_alignment()).tested(test)


def _path(points: Sequence[tuple[float, float]]) -> tuple[Point, ...]:
    return tuple(Point(x=Length.of(x), y=Length.of(y)) for x, y in points)


def _edge(name: str, kind: Kind, points: Sequence[tuple[float, float]], bend: Bend = Bend.STRAIGHT) -> Edge:
    return Edge(name=name, kind=kind, path=_path(points), bend=bend)


def _drafted(piece: Piece) -> DraftedPiece:
    return drafted_piece(Shape.of(piece, {Kind.SEAM: HALF_INCH, Kind.HEM: HALF_INCH}))


@cache
def pieces() -> Mapping[str, DraftedPiece]:
    """A front on the fold, a pocket to be cut twice in mirror image, and a tie without a fold."""
    front = Piece(
        name="front",
        cut=CutCount(count=1, on_fold=True),
        edges=(
            _edge("neck", Kind.SEAM, [(0, 4), (1.9, 3.1), (3.4, 0)], Bend.SMOOTH),
            _edge("overarm", Kind.SEAM, [(3.4, 0), (8, 1.4), (15, 4.1)], Bend.SMOOTH),
            _edge("sleeve hem", Kind.HEM, [(15, 4.1), (14.2, 9.6)]),
            _edge("side", Kind.SEAM, [(14.2, 9.6), (11.2, 10.6), (10.4, 13), (11, 24)], Bend.SMOOTH),
            _edge("hem", Kind.HEM, [(11, 24), (0, 24.6)]),
            _edge("centre front", Kind.FOLD, [(0, 24.6), (0, 4)]),
        ),
        grain=Grain(start=_path([(3, 20)])[0], end=_path([(3, 8)])[0]),
        notches=(
            Notch(edge="side", at=Length(spelling="5")),
            Notch(edge="overarm", at=Length(spelling="4"), count=2),
        ),
    )
    pocket = Piece(
        name="pocket",
        cut=CutCount(count=2, mirrored=True),
        edges=(
            _edge("opening", Kind.HEM, [(0, 0), (6, 0.8)]),
            _edge("outer", Kind.SEAM, [(6, 0.8), (6.5, 7)]),
            _edge("foot", Kind.SEAM, [(6.5, 7), (0, 7)]),
            _edge("inner", Kind.SEAM, [(0, 7), (0, 0)]),
        ),
    )
    tie = Piece(
        name="écharpe à nœud",
        cut=CutCount(count=1),
        edges=(
            _edge("end", Kind.SEAM, [(0, 0), (4, 0)]),
            _edge("right", Kind.SEAM, [(4, 0), (4, 12)]),
            _edge("point", Kind.SEAM, [(4, 12), (0, 12)]),
            _edge("left", Kind.SEAM, [(0, 12), (0, 0)]),
        ),
    )
    return {piece.name: _drafted(piece) for piece in (front, pocket, tie)}
