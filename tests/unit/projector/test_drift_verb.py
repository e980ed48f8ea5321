"""`check --photo`: its result as JSON and as words, with what was seen given."""

import json
from argparse import Namespace
from dataclasses import replace
from pathlib import Path

import pytest

from calibration.table.table_file import load_table
from calibration.trust.moved import Drift
from projector.verbs.drift import NewLook, keep_and_report
from tests.unit.calibration.test_drift_words import FROM
from tests.unit.calibration.test_setups import UNSURE
from tests.unit.projector.commands import a_table

FOUND = Drift(
    test=replace(UNSURE, what=f"It cannot be told; look again {FROM}."),
    cause="unsure",
    moved_sheets=(3,),
    doubt_in=0.09,
    look_from=FROM,
)


def test_what_cannot_be_told_is_in_the_result_with_from_where_it_could(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    table = a_table(tmp_path)
    setup = load_table(table).setup()
    look = NewLook(setup=setup.tested(FOUND.test), told=FOUND)
    keep_and_report(Namespace(table=table, json=True, realign=False), look)
    assert json.loads(capsys.readouterr().out) == {
        "moved": False,
        "moved_in": 0.2,
        "cause": "unsure",
        "moved_sheets": [3],
        "sure": False,
        "doubt_in": 0.09,
        "look_from": FROM,
        "what": FOUND.test.what,
        "realigned": False,
        "p95_in": setup.alignment.p95_in,
    }
    assert load_table(table).setup().drift_tests[0] == FOUND.test
    keep_and_report(Namespace(table=table, json=False, realign=False), look)
    assert capsys.readouterr().out == f"{table}: {FOUND.test.what}\n"
