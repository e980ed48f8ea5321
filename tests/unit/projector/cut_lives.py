"""The cut station without a window, as a process to be killed: it takes keys without end and tells what it shows.

Run with the file to keep the work in; each line on standard input, a seed, begins one life in a process of its own.
A life prints its number and what it found kept, then what it is about to keep and what it shows after each key.
"""

import json
import os
import random
import sys
from dataclasses import asdict
from pathlib import Path

from projector.bindings import action_of
from projector.cloth.ground import Ground
from projector.cutting.kept import CutSession, KeptWork
from projector.cutting.work import CutWork
from projector.lighting.lit_area import lit_area
from projector.stations.cut import CutStation
from tests.unit.projector.samples import an_alignment, pieces

KEYS = (
    "page down",
    "page down",
    "page up",
    "f",
    "x",
    "3",
    "n",
    "left",
    "up",
    "r",
    "m",
    "o",
    "b",
    "u",
    "d",
    "home",
)


class ToldWork(KeptWork):
    """Tells what it is about to keep."""

    __slots__ = ()

    def keep(self, work: CutWork) -> None:
        tell("keeps", asdict(work))
        super().keep(work)


def tell(what: str, of: object) -> None:
    """One line, short enough to be written whole or not at all."""
    os.write(sys.stdout.fileno(), f"{json.dumps([what, of])}\n".encode())


def live(path: Path, seed: int) -> None:
    """Take keys till the end of time."""
    alignment = an_alignment()
    ground = Ground(pieces=tuple(pieces().values()), alignment=alignment, lit=lit_area(alignment.map))
    kept = ToldWork(path=path, setup="sail loft", pattern="blouse")
    session = CutSession(kept.resumed(CutStation.begun(ground)), kept)
    tell("lives", os.getpid())
    tell("found", asdict(session.station.work))
    choice = random.Random(seed)
    while True:
        key = choice.choice(KEYS)
        action = action_of(session.station.bindings, key, shift=False)
        if action is not None:
            session.take(action)
            tell("shows", asdict(session.station.work))


if __name__ == "__main__":
    for line in sys.stdin:
        child = os.fork()
        if child == 0:
            live(Path(sys.argv[1]), int(line))
        os.waitpid(child, 0)
        tell("died", child)
