"""Hands at the cut station for tests: marks set, keys pressed, and what is then said and lit."""

import numpy as np

from calibration.frames import Array
from patterns.cutting.marks import LineKind, marks_of
from patterns.measures import Unit
from patterns.tracing.hand_trace import Place
from projector.actions import (
    Accept,
    Action,
    Aim,
    ChangeTool,
    CutInReaches,
    Freeze,
    Move,
    Next,
    Turn,
)
from projector.cloth.ground import Ground
from projector.cutting.finding import FindTool
from projector.cutting.in_reaches import is_unlit
from projector.cutting.stage import Stage
from projector.lighting.lit_area import lit_area
from projector.scene import Controls
from projector.session import Session
from projector.stations.cut import CutStation
from tests.unit.projector.long_pieces import cloak
from tests.unit.projector.samples import a_map, an_alignment, pieces

LIT = lit_area(a_map())
EDGE, CROSSES, MEASURE = 1, 2, 3  # how often tab is pressed


def a_session(tool: int, *named: str, unit: Unit = Unit.IN) -> Session[CutStation]:
    some = tuple(pieces()[name] for name in named) or (cloak(),)
    session = Session(CutStation.begun(Ground(pieces=some, alignment=an_alignment(), lit=LIT, unit=unit)))
    take(session, *[ChangeTool()] * tool)
    return session


def take(session: Session[CutStation], *actions: Action) -> None:
    for action in actions:
        session.take(action)


def aim(at_in: Place) -> Aim:
    x, y = LIT.projector_map.screen_from_table([at_in])[0].tolist()
    return Aim(at_px=(x, y))


def mark(session: Session[CutStation], *places: Place) -> None:
    for place in places:
        take(session, aim(place), Accept())


def words(session: Session[CutStation]) -> str:
    said = session.station.strip_words(Controls(frozen=session.frozen))
    return " · ".join((*said.first, *said.aside))


def stage(session: Session[CutStation]) -> Stage:
    return session.station.stage


def fold_in(session: Session[CutStation]) -> Array:
    (fold,) = marks_of(session.station.piece, session.station.placement).of_kind(LineKind.FOLD)
    return fold.points


def off(points: Array, one: Place, other: Place) -> float:
    """How far points are from a line, at most."""
    along = np.subtract(other, one) / np.hypot(*np.subtract(other, one))
    return float(np.abs((points - one) @ np.array([-along[1], along[0]])).max())


def lying_along(session: Session[CutStation]) -> None:
    """The cloak along the light, its neck at the left."""
    take(session, *[Turn(anticlockwise=1)] * 18, *[Move(right=1)] * 26)


def begun_in_reaches() -> Session[CutStation]:
    session = a_session(0)
    lying_along(session)
    take(session, CutInReaches())
    assert session.station.copy.reaches is not None
    take(session, Freeze())
    return session


def to_finding(session: Session[CutStation]) -> FindTool:
    for _ in range(6):
        if stage(session) is Stage.FINDING:
            break
        session.take(Next())
    tool = session.station.tool
    assert isinstance(tool, FindTool)
    return tool


def to_the_end(session: Session[CutStation]) -> list[str]:
    """Page down until nothing is left to do; what was ticked off, and never with any of it out of the light."""
    for _ in range(40):
        if session.station.step is None:
            break
        ticked, unlit = session.station.copy.ticked, is_unlit(session.station)
        take(session, Next())
        assert not unlit or session.station.work.copies[0].ticked == ticked, (
            "a cut that was not lit is ticked"
        )
    return list(session.station.copy.ticked)
