"""The verb `check`: the ruler test, in the window or typed, and the last good copy of the table file."""

import json
from argparse import Namespace
from collections.abc import Mapping
from datetime import datetime
from pathlib import Path
from typing import Any

from calibration.table.table_file import load_table, restore_table, save_table
from calibration.trust.ruler_test import RulerTest
from projector.errors import ProjectorError
from projector.session import Session
from projector.stations.ruler import RulerStation


def ruler_test(arguments: Namespace) -> int:
    """Lines of light on the table, held against a tape; the exit code."""
    from projector.verbs.where import setup_on_screen, where_asked
    from projector.window import run

    setup = setup_on_screen(arguments)
    preview = arguments.window is not None
    session = Session(RulerStation.begun(setup.in_force()), preview=preview)
    run(session, where_asked(arguments), setup.screen_px, lambda _: None)
    test = session.station.result
    if test is None:
        raise ProjectorError("left before all lines were taped, so nothing is kept; start again for a test")
    if not preview:
        _keep(arguments.table, setup.name, test)
    _report(arguments, setup.name, test)
    return 0


def taped(arguments: Namespace) -> int:
    """The same with what the tape said typed on the command line; the exit code."""
    setup = load_table(arguments.table).setup(arguments.setup)
    lines = RulerStation.begun(setup.in_force()).lines
    test = lines.tested(arguments.taped, datetime.now().astimezone())
    _keep(arguments.table, setup.name, test)
    _report(arguments, setup.name, test)
    return 0


def restore(arguments: Namespace) -> int:
    """The last good copy back in its place; the exit code."""
    newest = restore_table(arguments.table)
    print(f"{arguments.table}: the copy is back; its newest alignment is of {newest:%Y-%m-%d %H:%M}")
    return 0


def _keep(path: Path, name: str, test: RulerTest) -> None:
    table = load_table(path)
    save_table(path, table.with_setup(table.setup(name).tested(test)))


def _report(arguments: Namespace, name: str, test: RulerTest) -> None:
    if arguments.json:
        print(json.dumps(_result(name, test)))
    else:
        print(f"{arguments.table}: {test.words}")


def _result(name: str, test: RulerTest) -> Mapping[str, Any]:
    return {
        "setup": name,
        "tested_on": test.tested_on.isoformat(timespec="seconds"),
        "passed": test.passed,
        "words": test.words,
        "worst_in": test.worst_in,
        "diagonals_apart_in": test.diagonals_apart_in,
        "lengths": [{"shown_in": shown, "taped_in": taped} for shown, taped in test.lengths],
        "diagonals": [{"shown_in": shown, "taped_in": taped} for shown, taped in test.diagonals],
    }
