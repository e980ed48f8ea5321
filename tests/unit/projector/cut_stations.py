"""The cut station of the tests, after what was done at it, and what it says."""

from projector.actions import (
    Action,
    Back,
    Blank,
    ChangeLayers,
    ChangeSide,
    ChangeStep,
    ChangeTool,
    Drag,
    Flip,
    Grab,
    Help,
    Home,
    Mirror,
    Move,
    Next,
    Open,
    OpenAll,
    Redo,
    Show,
    Stand,
    Turn,
    Undo,
    Untick,
)
from projector.cloth.ground import Ground
from projector.cutting.progress import progress_rows
from projector.lighting.lit_area import lit_area
from projector.scene import Controls
from projector.session import Session
from projector.stations.cut import CutStation
from tests.unit.projector.samples import an_alignment, pieces

ALIGNMENT = an_alignment()
GROUND = Ground(
    pieces=tuple(pieces().values()),
    alignment=ALIGNMENT,
    lit=lit_area(ALIGNMENT.map),
    tested=("ruler test today",),
)
START = CutStation.begun(GROUND)
ANY: tuple[Action, ...] = (
    Move(right=1),
    Turn(anticlockwise=1),
    Grab(),
    Drag(from_px=(500.0, 500.0), to_px=(520.0, 490.0)),
    Mirror(),
    Open(),
    OpenAll(),
    Home(),
    Flip(by=1),
    Flip(by=-1),
    Show(number=2),
    ChangeSide(),
    ChangeLayers(),
    ChangeStep(),
    ChangeTool(),
    Undo(),
    Redo(),
    Blank(),
    Help(),
    Next(),
    Back(),
    Stand(),
    Untick(),
)


def after(*actions: Action, station: CutStation = START) -> CutStation:
    """The station in a session's hands, which keeps a frozen light."""
    session = Session(station)
    for action in actions:
        session.take(action)
    return session.station


def first(station: CutStation) -> str:
    return " | ".join(station.strip_words(Controls(frozen=station.frozen)).first)


def aside(station: CutStation) -> tuple[str, ...]:
    return station.strip_words(Controls(frozen=station.frozen)).aside


def listed(station: CutStation) -> list[str]:
    return [row.text for row in progress_rows(station)]
