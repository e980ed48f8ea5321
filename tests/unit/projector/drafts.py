"""The drafting station for tests: begun, and led on by actions."""

from dataclasses import replace

import numpy as np

from patterns import example, read_pattern
from patterns.changes import spelled
from patterns.pattern import Pattern
from projector.actions import (
    Action,
    Aim,
    Type,
)
from projector.drafting.checks import Wearer
from projector.drafting.ground import DraftGround
from projector.drafting.words import strip_words
from projector.drafting.work import DraftWork
from projector.lighting.lit_area import lit_area
from projector.scene import Controls
from projector.stations.draft import DraftStation
from tests.unit.projector.samples import KEYSTONE_IN, a_map, an_alignment

ALIGNMENT = an_alignment()
LIT = lit_area(ALIGNMENT.map)
GROUND = DraftGround(alignment=ALIGNMENT, lit=LIT, wearer=Wearer(head_in=57 / 2.54))
OVERTOP = read_pattern(example("harbour overtop"))
CALM = Controls()
UNDERARM, SHOULDER = (10.75, 12.6), (3.5, 0.0)


def begun(pattern: Pattern = OVERTOP, version: str | None = None) -> DraftStation:
    station = DraftStation.begun(GROUND, DraftWork.begun(pattern, version, GROUND.under))
    return station.after(Aim(at_px=(3.0, 3.0)))  # where the mouse happens to lie


def after(station: DraftStation, *actions: Action) -> DraftStation:
    for action in actions:
        station = station.after(action)
    return station


def typed(station: DraftStation, text: str) -> DraftStation:
    return after(station, *(Type(text=sign) for sign in text))


def at(station: DraftStation, place: tuple[float, float]) -> Aim:
    """The pointer on a place in inches of the shown piece."""
    on_table = station.work.laid.placement.placed(np.array([place]))
    x, y = LIT.projector_map.screen_from_table(on_table)[0].tolist()
    return Aim(at_px=(x, y))


def changes(station: DraftStation) -> list[str]:
    return [spelled(change) for change in station.work.pattern.changes]


def first(station: DraftStation) -> str:
    return ", ".join(strip_words(station, CALM).first)


def aside(station: DraftStation) -> str:
    return ", ".join(strip_words(station, CALM).aside)


def in_small_light(share: float) -> DraftStation:
    """Begun in a light so much smaller that the front takes nearly all of it."""
    corners_in = tuple((share * x, share * y) for x, y in KEYSTONE_IN)
    alignment = an_alignment(a_map(screen_px=(1280, 720), corners_in=corners_in))
    ground = replace(GROUND, alignment=alignment, lit=lit_area(alignment.map))
    return DraftStation.begun(ground, DraftWork.begun(OVERTOP, None, ground.under))
