"""What is cut in the window tests: the session beside the window, and how far a shown cut line strays."""

from itertools import pairwise

import cv2
import numpy as np
from scipy.spatial import KDTree

from calibration.frames import Array
from calibration.table.saved import Alignment
from patterns import example, read_pattern
from patterns.cutting.marks import LineKind, marks_of
from projector.actions import Action, Drag, Grab
from projector.cloth.ground import Ground
from projector.lighting.canvas import frame
from projector.lighting.lit_area import lit_area
from projector.lighting.look import DISPLAY_GAMMA
from projector.session import Session
from projector.stations.cut import CutStation
from projector.trust import ruler_words
from tests.outside.test_projective import sections
from tests.unit.projector.samples import SCREEN_PX, a_setup
from tests.window.desk import Pixels

PATTERN = example("harbour overtop")
DRAFTED = read_pattern(PATTERN).drafted()
LENS_PX = 1.0


def a_session(alignment: Alignment, *, preview: bool = False) -> Session[CutStation]:
    ground = Ground(
        pieces=tuple(DRAFTED.pieces.values()),
        alignment=alignment,
        lit=lit_area(alignment.map),
        tested=ruler_words(a_setup(alignment).ruler_tests),
    )
    return Session(CutStation.begun(ground), preview=preview)


def expected(session: Session[CutStation], *actions: Action) -> Pixels:
    """The picture after further actions, drawn whole and without a window."""
    for action in actions:
        session.take(action)
    return frame((layer.draw() for layer in session.scene()), SCREEN_PX)


def cut_line_error_px(
    pixels: Pixels, alignment: Alignment, piece: str, session: Session[CutStation]
) -> Array:
    """Distances of the shown cut line's centres from the exactly mapped cut line, every 0.05 in along it.

    Where a notch crosses or the fold begins, light that is not the cut line's is left out. The light is blurred by
    a pixel, as any lens does: a line of two pixels, its coverage exact, would else be read up to 0.1 px aside.
    """
    marks = marks_of(DRAFTED.pieces[piece], session.station.placement)
    (cut,) = marks.of_kind(LineKind.CUT)
    path = np.vstack([cut.points, cut.points[:1]]) if cut.closed else cut.points
    place = np.concatenate([[0], np.cumsum(np.linalg.norm(np.diff(path, axis=0), axis=1))])
    along = np.arange(0.05, place[-1], 0.05)
    samples = np.column_stack([np.interp(along, place, path[:, k]) for k in (0, 1)])
    others = [line.points for kind in LineKind if kind is not LineKind.CUT for line in marks.of_kind(kind)]
    other_points = np.vstack([_filled(points) for points in others])
    corners = path[1:-1][_turns(path) > np.deg2rad(10)]
    clear = (_apart(samples, other_points) > 0.3) & (
        _apart(samples, np.vstack([corners, path[[0, -1]]])) > 0.3
    )
    exact = alignment.map.screen_from_table(samples)
    on_screen = ((exact > 8) & (exact < np.array(SCREEN_PX) - 8)).all(axis=1)
    light = (pixels[:, :, 0] / 255.0) ** DISPLAY_GAMMA
    seen = np.asarray(cv2.GaussianBlur(light, (0, 0), LENS_PX), dtype=np.float64)
    distances: Array = sections(seen, exact)[clear & on_screen]
    assert len(distances) > len(samples) // 5
    return distances


def _filled(points: Array) -> Array:
    steps = np.linspace(0, 1, 40)[:, None]
    return np.vstack([a + steps * (b - a) for a, b in pairwise(points)])


def _turns(path: Array) -> Array:
    step = np.diff(path, axis=0)
    direction = np.arctan2(step[:, 1], step[:, 0])
    turns: Array = np.abs((np.diff(direction) + np.pi) % (2 * np.pi) - np.pi)
    return turns


def _apart(points: Array, others: Array) -> Array:
    nearest: Array = np.asarray(KDTree(others).query(points)[0])
    return nearest


def check_cut_line(pixels: Pixels, alignment: Alignment, session: Session[CutStation]) -> None:
    """The cut line that is shown is the one the map says."""
    distances = cut_line_error_px(pixels, alignment, session.station.piece.name, session)
    assert np.abs(distances).max() < 0.1
    assert abs(distances.mean()) < 0.03


def dragged(start: tuple[int, int], end: tuple[int, int]) -> tuple[Action, ...]:
    """What the session takes when the mouse is dragged, as the desk does it."""
    middle = ((start[0] + end[0]) // 2, (start[1] + end[1]) // 2)
    return (Grab(), Drag(from_px=start, to_px=middle), Drag(from_px=middle, to_px=end))
