"""Laws of the light: maps and their inverses, rigid moves, undo, dashes, clipping."""

from itertools import pairwise

import numpy as np
from hypothesis import given, settings
from hypothesis import strategies as st

from calibration.frames import Array
from patterns.cutting.placement import Placement
from projector.actions import Action, Flip, Home, Mirror, Move, Open, Turn, Undo
from projector.cloth.ground import Ground
from projector.lighting.clipping import clipped
from projector.lighting.dashes import dashed
from projector.lighting.lit_area import ROUNDING_IN, lit_area
from projector.lighting.piece_light import lines_light
from projector.lighting.strokes import Stroke, split
from projector.person import Person
from projector.session import Session
from projector.stations.cut import CutStation
from projector.words.strip import lay_strip
from projector.words.strip_rows import StripWords
from tests.unit.projector.samples import SCREEN_PX, a_map, an_alignment, pieces

coordinates = st.floats(-40, 40, allow_nan=False)
points = st.tuples(coordinates, coordinates)
bows = st.floats(-0.03, 0.03)
placements = st.builds(
    Placement,
    x_in=st.floats(-15, 15),
    y_in=st.floats(-5, 15),
    turn_deg=st.floats(-180, 180),
    mirrored=st.booleans(),
    opened=st.booleans(),
)
LIT = lit_area(a_map())


@given(bow=bows, across=st.floats(0, 1919), down=st.floats(0, 1079))
def test_map_and_inverse_cancel_on_the_screen(bow: float, across: float, down: float) -> None:
    projector_map = a_map(k1=bow)
    there_and_back = projector_map.screen_from_table(projector_map.table_from_screen([[across, down]]))
    assert np.abs(there_and_back - [across, down]).max() < 1e-6


@settings(max_examples=50)
@given(placement=placements)
def test_moved_light_is_the_light_of_the_moved_piece(placement: Placement) -> None:
    front = pieces()["front"]
    exact = LIT.projector_map.screen_from_table(placement.placed(front.cut_line))
    drawn = lines_light(front, placement, LIT)
    cut = max((part for part in drawn if isinstance(part, Stroke)), key=lambda part: part.light)
    inside = ((exact > 0) & (exact < np.array(SCREEN_PX))).all(axis=1)
    for point in exact[inside][:: max(1, len(exact) // 20)]:
        assert np.hypot(*(cut.points - point).T).min() < 1e-6


@given(path=st.lists(points, min_size=2, max_size=8, unique=True))
def test_dashes_lie_on_the_line_and_never_add_length(path: list[tuple[float, float]]) -> None:
    line = np.array(path)
    total = np.linalg.norm(np.diff(line, axis=0), axis=1).sum()
    lit_points, ends = dashed(line, np.array([len(line)]), (0.375, 0.25))
    lit = sum(np.linalg.norm(np.diff(part, axis=0), axis=1).sum() for part in split(lit_points, ends))
    assert total * 0.55 < lit <= total + 1e-9
    assert lit_points[0].tolist() == line[0].tolist()
    assert np.abs(lit_points[-1] - line[-1]).max() < 1e-9


@given(path=st.lists(points, min_size=1, max_size=8))
def test_the_light_holds_points_none_of_which_lies_beyond_it(path: list[tuple[float, float]]) -> None:
    assert LIT.holds(np.array(path)) == bool(LIT.reaches(np.array(path)).max() <= ROUNDING_IN)


@given(path=st.lists(points, min_size=2, max_size=8, unique=True))
def test_what_is_clipped_is_within_reach_and_loses_nothing_that_is(path: list[tuple[float, float]]) -> None:
    line = np.array(path) * 2
    parts = clipped(line, LIT)
    for part in parts:
        assert LIT.reaches(part).max() < 1e-6
    t = np.linspace(0, 1, 25)[:, None]
    for start, end in pairwise(line):
        samples = start + t * (end - start)
        for sample in samples[LIT.reaches(samples) < -1e-6]:
            assert min(distance(part, sample) for part in parts) < 1e-6


def distance(path: Array, point: Array) -> float:
    """From a point to a path."""
    start, step = path[:-1], np.diff(path, axis=0)
    long = np.maximum((step**2).sum(axis=1), 1e-30)
    along = np.clip(((point - start) * step).sum(axis=1) / long, 0, 1)
    return float(np.hypot(*(start + along[:, None] * step - point).T).min())


steps = st.sampled_from(
    [
        Move(right=1),
        Move(away=-1),
        Turn(anticlockwise=1),
        Mirror(),
        Open(),
        Home(),
        Move(right=-1, other_step=True),
    ]
)


@settings(max_examples=30)
@given(actions=st.lists(steps, max_size=12))
def test_undo_of_all_that_was_done_is_where_it_began(actions: list[Action]) -> None:
    alignment = an_alignment()
    start = CutStation.begun(Ground(pieces=tuple(pieces().values()), alignment=alignment, lit=LIT))
    session = Session(start)
    session.take(Flip(by=0))
    for action in actions:
        session.take(action)
    for _ in actions:
        session.take(Undo())
    assert session.station.placements == start.placements


@settings(max_examples=60)
@given(x=st.floats(-30, 30), y=st.floats(-16, 16), half=st.floats(1, 12), quarter=st.integers(0, 3))
def test_the_strip_is_never_on_the_piece_when_an_edge_is_free(
    x: float, y: float, half: float, quarter: int
) -> None:
    person = Person(facing_deg=90.0 * quarter)
    piece = np.array([[x - half, y - half], [x + half, y - half], [x + half, y + half], [x - half, y + half]])
    words = StripWords(first=("front", "cut 1 on fold"), aside=("good to 1/32 in here",))
    left, near, right, far = lay_strip(words, LIT, person, piece).box_in
    seen = person.seen(piece)
    apart = (
        seen[:, 0].min() >= right
        or seen[:, 0].max() <= left
        or seen[:, 1].min() >= far
        or seen[:, 1].max() <= near
    )
    assert apart
