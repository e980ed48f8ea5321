"""Laws of the work at the cutting table: what is kept comes back, ticks stay, pieces go with their cloth."""

from pathlib import Path

import numpy as np
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from patterns.cutting.placement import Placement
from patterns.measures import Unit
from projector.actions import (
    Action,
    Back,
    Flip,
    Freeze,
    Mirror,
    Move,
    Next,
    Open,
    Show,
    Stand,
    Turn,
    Undo,
    Untick,
)
from projector.cloth.cloth_place import ClothPlace
from projector.cloth.ground import Ground
from projector.cloth.reaches import Reach, ReachCrosses, Reaches
from projector.cutting.work import CopyWork, CutWork
from projector.lighting.limits import LOOK_NAMES
from projector.lighting.lit_area import lit_area
from projector.lighting.seeing import LINES_IN, TEXTS_IN, Seeing
from projector.places import read_work, write_work
from projector.session import Session
from projector.stations.cut import CutStation
from tests.unit.projector.samples import an_alignment, pieces

inches = st.floats(-60, 60)
points = st.tuples(inches, inches)
marks = st.tuples(points, points)
names = st.text(min_size=1, max_size=12)
clothes = st.builds(ClothPlace, x_in=inches, y_in=inches, turn_deg=st.floats(-180, 180))
places = st.builds(
    Placement,
    x_in=inches,
    y_in=inches,
    turn_deg=st.floats(-180, 180),
    mirrored=st.booleans(),
    opened=st.booleans(),
)
reaches = st.builds(
    Reaches,
    along=points,
    reaches=st.lists(
        st.builds(
            Reach,
            start_in=inches,
            end_in=inches,
            slide_in=points,
            crosses=st.none() | st.builds(ReachCrosses, marks_in=marks, at_join_in=inches, at_most_in=inches),
            across_in=st.none() | points,
        ),
        max_size=3,
    ).map(tuple),
)
copies = st.builds(
    CopyWork,
    piece=names,
    number=st.integers(1, 99),
    place=places,
    ticked=st.lists(names, max_size=3).map(tuple),
    reaches=st.none() | reaches,
    gives=st.integers(1, 4),
)
works = st.builds(
    CutWork,
    copies=st.lists(copies, min_size=1, max_size=3).map(tuple),
    drawn=names,
    aligned=names,
    cloth=clothes,
    begun=st.booleans(),
    at=st.integers(0, 9),
    crosses_in=st.none() | marks,
    is_lay=st.booleans(),
    seeing=st.builds(
        Seeing,
        name=st.sampled_from(LOOK_NAMES),
        line_in=st.none() | st.sampled_from(LINES_IN),
        text_in=st.none() | st.sampled_from(TEXTS_IN),
        repeats=st.booleans(),
        grid=st.sampled_from([None, Unit.IN, Unit.CM]),
    ),
)
actions = st.sampled_from(
    [
        *[Next()] * 4,
        Back(),
        Flip(by=1),
        Show(number=2),
        Stand(),
        Untick(),
        Freeze(),
        Undo(),
        Mirror(),
        Open(),
        Move(right=1),
        Turn(anticlockwise=1),
    ]
)
ALIGNMENT = an_alignment()
GROUND = Ground(pieces=tuple(pieces().values()), alignment=ALIGNMENT, lit=lit_area(ALIGNMENT.map))


@settings(max_examples=60, suppress_health_check=[HealthCheck.function_scoped_fixture])
@given(work=works, other=works)
def test_work_that_is_kept_comes_back_beside_that_of_another_pattern(
    tmp_path: Path, work: CutWork, other: CutWork
) -> None:
    path = tmp_path / "table.places.json"
    write_work(path, "loft", "blouse", work)
    write_work(path, "loft", "apron", other)
    assert read_work(path, "loft", "blouse") == work
    assert read_work(path, "loft", "apron") == other


@given(cloth=clothes, place=places)
def test_a_piece_that_is_laid_with_its_cloth_and_lifted_is_where_it_was(
    cloth: ClothPlace, place: Placement
) -> None:
    corners = np.array([[0.0, 0.0], [12.0, 0.0], [3.0, 20.0]])
    laid = cloth.laid(place)
    assert np.abs(laid.placed(corners) - cloth.on_table(place.placed(corners))).max() < 1e-9
    assert np.abs(cloth.lifted(laid).placed(corners) - place.placed(corners)).max() < 1e-9


@settings(max_examples=40)
@given(asked=st.lists(actions, max_size=30))
def test_a_tick_is_taken_back_by_untick_alone_and_frozen_light_stays(asked: list[Action]) -> None:
    session = Session(CutStation.begun(GROUND))
    for action in asked:
        before, frozen = session.station, session.frozen
        session.take(action)
        if frozen and not isinstance(action, Freeze):
            assert session.station.lies == before.lies
        if not isinstance(action, Untick):
            for was, now in zip(before.work.copies, session.station.work.copies, strict=True):
                assert now.ticked[: len(was.ticked)] == was.ticked
