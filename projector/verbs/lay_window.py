"""The verb `lay` on the table: the kept lay in light, or one that is planned first."""

import sys
from argparse import Namespace
from datetime import datetime

from patterns import read_pattern
from patterns.cutting.drafted import DraftedPattern
from patterns.laying.lay import Lay
from patterns.laying.rules import violations
from patterns.measures import Unit
from patterns.saying import Say
from projector.errors import ProjectorError
from projector.laying.ground import LayGround
from projector.laying.kept import KeptLay, LaySession
from projector.laying.lay_file import lay_path, read_lay, write_lay
from projector.laying.work import LayWork, in_the_light
from projector.lighting.lit_area import lit_area
from projector.places import known_as, places_path
from projector.stations.lay import LayStation
from projector.verbs.lay import chosen, planned
from projector.verbs.setup import check_size, setup_asked
from projector.verbs.where import where_asked
from projector.window import run


def lay_in_window(arguments: Namespace) -> int:
    """Show the lay on the table; the exit code."""
    setup = setup_asked(arguments)
    alignment = setup.in_force()
    check_size(arguments.window, alignment, "--window")
    if not alignment.trustworthy:
        raise ProjectorError(f"this alignment cannot be trusted to lay by: {alignment.verdict}; align again")
    drafted = read_pattern(arguments.pattern).drafted(arguments.version)
    lay, unit = _lay(arguments, drafted)
    for broken in violations(lay):
        print(f"look: {broken}", file=sys.stderr)
    ground = LayGround(
        alignment=alignment,
        lit=lit_area(alignment.map),
        say=Say(unit),
        warnings=setup.warnings(datetime.now().astimezone()),
    )
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


def _lay(arguments: Namespace, drafted: DraftedPattern) -> tuple[Lay, Unit]:
    """The lay that is kept, or where a width is given one that is planned now, and kept; the unit it is said in."""
    path = lay_path(arguments.pattern)
    if arguments.width is None:
        return read_lay(path, arguments.version, drafted)
    lay, unit = chosen(planned(arguments, drafted)), arguments.width.own_unit
    write_lay(path, arguments.version, lay, unit)
    return lay, unit
