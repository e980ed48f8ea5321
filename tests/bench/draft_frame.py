"""Processor time of the drafting table from a pull or a step of a number to its light, beside shapely's offsets."""

from collections.abc import Callable
from itertools import count
from statistics import median

import numpy as np
import shapely

from patterns import example, read_pattern
from patterns.checks.head_check import USUAL_HEAD_IN
from projector.actions import Aim, Move, Show, TakeUp
from projector.drafting.checks import Wearer
from projector.drafting.ground import DraftGround
from projector.drafting.work import DraftWork
from projector.lighting.lit_area import lit_area
from projector.lighting.painter import Painter
from projector.session import Session
from projector.stations.draft import DraftStation
from tests.bench.row import Row
from tests.bench.turns import cpu_in_turns
from tests.unit.projector.samples import SCREEN_PX, an_alignment

FRAMES, STEPS = 80, 24
STEP_IN = 1 / 64
ALLOWANCE_IN = 0.5
FRONT, BACK, FRONT_FACING = 1, 2, 3
POINTS = {
    "underarm": (FRONT, (10.75, 12.6)),
    "hem at the side": (FRONT, (11.2, 25.0)),
    "neck and shoulder": (FRONT, (3.5, 0.0)),
    "neck at the fold": (FRONT, (0.0, 3.75)),
    "overarm at the sleeve hem": (FRONT, (15.5, 4.0)),
    "back's neck and shoulder": (BACK, (3.5, 0.0)),
    "back's overarm at the sleeve hem": (BACK, (15.5, 4.0)),
}
NUMBERS = {"depth of the V": (FRONT, 0), "depth of the facing": (FRONT_FACING, 2)}


def frames() -> list[Row]:
    """From the pointer's move or the key to the picture at 1920x1080, all drafted and checked (a frame is 16.7 ms)."""
    pieces = read_pattern(example("harbour overtop")).drafted().pieces.values()
    polygons = [shapely.Polygon(piece.seam_line) for piece in pieces]

    def buffered() -> object:
        return [one.buffer(ALLOWANCE_IN, join_style="mitre") for one in polygons]

    def row(name: str, frame: Callable[[], object], count: int) -> Row:
        ours, theirs = cpu_in_turns((frame, buffered), count)
        ratio, fastest = median(ours) / median(theirs), float(np.quantile(ours, 0.05))
        beside = f"{ratio:.1f} x shapely's offsets alone; the fastest 1 in 20 {fastest:.1f} ms"
        return name, f"{median(ours):.1f} ms", beside

    pulled = [row(f"{name} pulled", _pulling(*point), FRAMES) for name, point in POINTS.items()]
    return [*pulled, *(row(f"{name} stepped", _stepping(*stop), STEPS) for name, stop in NUMBERS.items())]


def _pulling(number: int, place: tuple[float, float]) -> Callable[[], object]:
    """Each call is one frame of a drag that goes slowly on, of a point of the piece with that number."""
    session, painter, steps = _session(), Painter(SCREEN_PX), count(1)
    projector_map = session.station.ground.lit.projector_map

    def aim(x_in: float, y_in: float) -> Aim:
        on_table = session.station.work.laid.placement.placed(np.array([[x_in, y_in]]))
        u, v = projector_map.screen_from_table(on_table)[0].tolist()
        return Aim(at_px=(u, v))

    def frame() -> object:
        along = next(steps) * STEP_IN
        session.take(aim(place[0] + along, place[1] + along / 2))
        return painter.repaint(session.scene())

    session.take(Aim(at_px=(0.0, 0.0)))
    session.take(Show(number=number))
    session.take(aim(*place))
    session.take(TakeUp())
    painter.repaint(session.scene())
    return frame


def _stepping(number: int, stop: int) -> Callable[[], object]:
    """Each call is one finer step of the number at a stop of the list, the piece with that number shown."""
    session, painter = _session(), Painter(SCREEN_PX)

    def frame() -> object:
        session.take(Move(right=1, other_step=True))
        return painter.repaint(session.scene())

    for _ in range(stop):
        session.take(Move(away=-1))
    session.take(Show(number=number))
    painter.repaint(session.scene())
    return frame


def _session() -> Session[DraftStation]:
    alignment = an_alignment()
    lit = lit_area(alignment.map)
    ground = DraftGround(alignment=alignment, lit=lit, wearer=Wearer(head_in=USUAL_HEAD_IN))
    work = DraftWork.begun(read_pattern(example("harbour overtop")), None, ground.under)
    return Session(DraftStation.begun(ground, work))
