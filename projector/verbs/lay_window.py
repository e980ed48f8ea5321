"""The verb `lay` on the table: the kept lay in light, or one that is planned first."""

import sys
import time
from argparse import Namespace
from contextlib import suppress
from dataclasses import replace
from datetime import datetime
from typing import Final

from calibration.table.setups import Setup
from patterns import read_pattern
from patterns.cutting.drafted import DraftedPattern
from patterns.laying.buying import Buying
from patterns.laying.lay import Lay
from patterns.laying.rules import violations
from patterns.measures import Unit
from patterns.saying import Say, lengths_said_in
from projector.errors import ProjectorError
from projector.laying.ground import LayGround
from projector.laying.kept import KeptLay, LaySession
from projector.laying.lay_file import lay_path, read_lay, write_lay
from projector.laying.searching import Searched, searching
from projector.laying.work import LayWork, in_the_light
from projector.lighting.lit_area import lit_area
from projector.places import known_as, places_path
from projector.session import Session
from projector.stations.lay import LayStation
from projector.stations.planning import PlanningStation
from projector.verbs.lay import asked, chosen, planned
from projector.verbs.setup import check_size, setup_asked
from projector.verbs.where import where_asked
from projector.window import OpenWindow, run

AT_A_TIME_S: Final = 0.1  # of searching, between two looks at the keys
SAME_IN: Final = 1e-3


def lay_in_window(arguments: Namespace) -> int:
    """Show the lay on the table; the exit code."""
    setup = setup_asked(arguments)
    alignment = setup.in_force()
    check_size(arguments.window, alignment, "--window")
    if not alignment.trustworthy:
        raise ProjectorError(f"this alignment cannot be trusted to lay by: {alignment.verdict}; align again")
    drafted = read_pattern(arguments.pattern).drafted(arguments.version)
    lay, ground = _lay(arguments, drafted, setup)
    unit = ground.say.unit
    for broken in violations(lay):
        print(f"look: {broken}", file=sys.stderr)
    kept = KeptLay(
        lay_path=lay_path(arguments.pattern),
        version=arguments.version,
        unit=unit,
        places_path=places_path(arguments.table),
        setup=alignment.name,
        pattern=known_as(drafted.name, arguments.version),
    )
    cloth = kept.cloth or in_the_light(lay, ground.lit, ground.person(0))
    station = LayStation.begun(ground, LayWork(lay=lay, cloth=cloth))
    session = LaySession(station, kept, preview=arguments.window is not None)
    run(session, where_asked(arguments), alignment.map.screen_px, lambda _: None)
    return 0


def _lay(arguments: Namespace, drafted: DraftedPattern, setup: Setup) -> tuple[Lay, LayGround]:
    """The lay that is kept, or where a width is given one that is planned now, and kept; its table, in its unit."""
    path = lay_path(arguments.pattern)
    if arguments.width is None:
        lay, unit = read_lay(path, arguments.version, drafted)
        return lay, _ground(setup, unit)
    ground = _ground(setup, arguments.width.own_unit)
    where = where_asked(arguments)
    if isinstance(where, OpenWindow):
        found = _planned_in_light(arguments, drafted, ground, where)
    else:
        found = planned(arguments, drafted)
    lay = chosen(found) if arguments.remnant_first else best_in_light(found, ground)
    write_lay(path, arguments.version, lay, ground.say.unit)
    return lay, ground


def best_in_light(found: Searched, ground: LayGround) -> Lay:
    """The best lay whose pieces are all lit, where no more is bought for it than for the best of all; else that one."""
    best = chosen(found)
    to_buy_in = Buying.of(best).length_in
    lays = (one.lay for one in found.compared if one.lay is not None)
    alike = (lay for lay in lays if abs(Buying.of(lay).length_in - to_buy_in) < SAME_IN)
    return next((lay for lay in alike if _is_lit(lay, ground)), best)


def _is_lit(lay: Lay, ground: LayGround) -> bool:
    work = LayWork(lay=lay, cloth=in_the_light(lay, ground.lit, ground.person(0)))
    return all(ground.lit.reaches(work.outline_in(number)).max() <= 0 for number in range(len(lay.placed)))


def _ground(setup: Setup, unit: Unit) -> LayGround:
    alignment = setup.in_force()
    return LayGround(
        alignment=alignment,
        lit=lit_area(alignment.map),
        say=Say(unit),
        warnings=setup.warnings(datetime.now().astimezone()),
    )


def _planned_in_light(
    arguments: Namespace, drafted: DraftedPattern, ground: LayGround, window: OpenWindow
) -> Searched:
    """The folds searched while the light says how far it has come; the best so far where the person leaves."""
    wanted, folds = asked(arguments, drafted)
    steps = searching(wanted, folds)
    so_far = next(steps)

    def beside(station: PlanningStation) -> PlanningStation:
        """As many steps as a key can wait for."""
        nonlocal so_far
        end = time.monotonic() + AT_A_TIME_S
        while time.monotonic() < end:
            found = next(steps, None)
            if found is None:
                return replace(station, finished=True)
            so_far = found
        return replace(station, told=so_far.words(wanted))

    session = Session(PlanningStation(ground=ground, told=so_far.words(wanted)))
    screen_px = ground.alignment.map.screen_px
    with lengths_said_in(ground.say.unit), suppress(KeyboardInterrupt):
        run(session, window, screen_px, lambda _: None, beside)
    stopped = not session.station.finished
    if stopped and not so_far.has_lay:
        raise ProjectorError("stopped before there was any lay; give the search a moment longer")
    return so_far.ended(wanted.prefer, stopped=stopped)
