"""Runs that take turns, each timed by what the processor spent on it: what else the machine does is not counted."""

import time
from collections.abc import Callable, Sequence

TURN = 12  # calls of one run before the next has its turn


def cpu_in_turns(runs: Sequence[Callable[[], object]], times: int) -> list[list[float]]:
    """Milliseconds of processor time of each call of each run, by all threads."""
    taken: list[list[float]] = [[] for _ in runs]
    for _ in range(0, times, TURN):
        for run_once, so_far in zip(runs, taken, strict=True):
            for _ in range(TURN):
                start = time.process_time()
                run_once()
                so_far.append(1000 * (time.process_time() - start))
    return taken
