"""The verb `check --history`: which set-ups a table file holds, how good they are, and what was before."""

import json
from argparse import Namespace
from collections.abc import Iterator, Mapping
from datetime import datetime
from typing import Any

from calibration.table.setups import Setup, sized
from calibration.table.table_file import load_table
from projector.trust import rounded_up


def history(arguments: Namespace) -> int:
    """Print it, of all set-ups or the one that was named; the exit code."""
    table = load_table(arguments.table)
    setups = table.setups if arguments.setup is None else (table.setup(arguments.setup),)
    if arguments.json:
        print(json.dumps({"setups": [_result(setup) for setup in setups]}))
    else:
        print("\n".join(line for setup in setups for line in _lines(setup)))
    return 0


def _lines(setup: Setup) -> Iterator[str]:
    alignment = setup.in_force()
    yield (
        f"{setup.name} ({sized(setup.screen_px)}): aligned {_day(alignment.aligned_on)}, "
        f"good to {rounded_up(alignment.p95_in)}"
    )
    for ruler in setup.ruler_tests[:1]:
        yield f"  {_day(ruler.tested_on)}  {ruler.words}"
    for loop in setup.loop_tests[:1]:
        yield f"  {_day(loop.looked_on)}  Crosses of light were up to {rounded_up(loop.most_in)} off."
    for drift in setup.drift_tests[:1]:
        yield f"  {_day(drift.looked_on)}  {drift.what}"
    for warning in setup.warnings(datetime.now().astimezone()):
        yield f"  now: {warning}"
    for past in setup.past:
        yield f"  before: aligned {_day(past.aligned_on)}, good to {rounded_up(past.p95_in)}"


def _result(setup: Setup) -> Mapping[str, Any]:
    alignment = setup.in_force()
    return {
        "name": setup.name,
        "screen_px": list(setup.screen_px),
        "aligned_on": alignment.aligned_on.isoformat(timespec="seconds"),
        "p95_in": alignment.p95_in,
        "verdict": alignment.verdict,
        "size_checked": alignment.size_checked,
        "trustworthy": alignment.trustworthy,
        "warnings": list(setup.warnings(datetime.now().astimezone())),
        "past": [
            {"aligned_on": past.aligned_on.isoformat(timespec="seconds"), "p95_in": past.p95_in}
            for past in setup.past
        ],
    }


def _day(date: datetime) -> str:
    return f"{date:%Y-%m-%d}"
