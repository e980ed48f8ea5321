"""Killed at any moment, the cut station comes back with everything that it had shown."""

import json
import os
import random
import signal
import subprocess
import sys
import time
from pathlib import Path
from typing import IO, Any

LIVES = 50
MOST_KEYS = 12
LONGEST_WAIT_S = 0.015  # after the last key that is waited for: keeping takes about as long


def test_nothing_shown_is_lost_when_the_process_is_killed_at_50_random_moments(tmp_path: Path) -> None:
    choice = random.Random(50)
    command = [sys.executable, "-m", "tests.unit.projector.cut_lives", str(tmp_path / "table.places.json")]
    may_be_kept: list[Any] = []
    ticks, half_way = 0, 0
    with subprocess.Popen(command, stdin=subprocess.PIPE, stdout=subprocess.PIPE, text=True) as process:
        assert process.stdin is not None
        assert process.stdout is not None
        for life in range(LIVES):
            print(life, file=process.stdin, flush=True)
            told = one_life(process.stdout, choice)
            found = told[0][1]
            assert not may_be_kept or found in may_be_kept, life
            ticks += sum(len(copy["ticked"]) for copy in found["copies"])
            shown = max(number for number, (what, _) in enumerate(told) if what != "keeps")
            may_be_kept = [work for _, work in told[shown:]]
            half_way += len(may_be_kept) > 1
        process.stdin.close()
    assert ticks > LIVES
    assert half_way > 3


def one_life(lines: IO[str], choice: random.Random) -> list[tuple[str, Any]]:
    """What a life told, from what it found kept on, till it was killed some keys later."""

    def line() -> tuple[str, Any]:
        what, of = json.loads(lines.readline())
        return what, of

    what, number = line()
    assert what == "lives"
    told = []
    for _ in range(1 + choice.randint(0, MOST_KEYS)):
        told.append(line())
        assert told[-1][0] != "died", "a life ends only when it is killed"
    time.sleep(choice.uniform(0.0, LONGEST_WAIT_S))
    os.kill(number, signal.SIGKILL)
    while told[-1] != ("died", number):
        told.append(line())
    return told[:-1]
