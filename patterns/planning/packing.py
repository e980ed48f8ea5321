"""Free pieces packed by an engine made for it (`spyrrow`), where many lie in a single layer.

The engine minimises the length of a strip in which outlines do not overlap. Ours are grown by half the gap first, so
that what it keeps apart keeps the gap; what it finds is held to the rules before it is believed.
"""

import math
import multiprocessing
import signal
import threading
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING, Final

import numpy as np

from patterns.cutting.drafted import DraftedPiece
from patterns.laying.profile import grown
from patterns.planning.sliding import Spot
from patterns.planning.ways import Job, Laying

if TYPE_CHECKING:
    from multiprocessing.connection import Connection

_HAIR_IN: Final = 1e-4  # by which outlines are grown beyond the gap: the engine reckons in single precision
_POLL_S: Final = 0.1
_HALF_TURN_DEG: Final = 180.0


@dataclass(frozen=True, slots=True, kw_only=True)
class _Placed:
    """Where the engine has put one of a kind, by its number, in the frame of its strip."""

    kind: int
    turn_deg: float
    at_in: tuple[float, float]


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class _Kind:
    """So many layings that are alike, with their options: as it hangs, and upside down where that is allowed."""

    options: Laying
    count: int

    def outline(self, gap_in: float) -> list[tuple[float, float]]:
        """Grown, in the frame of a strip that runs to the right: x along the cloth, y to its left edge."""
        ring = self.options[0].laid.outline_in
        corners = np.asarray(grown(ring, gap_in / 2 + _HAIR_IN).exterior.coords)
        return [(y, -x) for x, y in corners]

    def spot(self, placed: "_Placed", left_in: float, bottom_in: float) -> Spot:
        """Where the engine has put one, its strip's far corner at (`left_in`, `bottom_in`) of the cloth."""
        turned = abs(placed.turn_deg) > _HALF_TURN_DEG / 2
        option = next(one for one in self.options if one.upside_down == turned)
        along, across = placed.at_in
        return Spot(option=option, x_in=left_in - across, y_in=bottom_in + along)


@dataclass(frozen=True, slots=True, kw_only=True)
class _Strip:
    """What the engine is told: outlines, how many of each, the turns that it may have."""

    height_in: float
    items: tuple[tuple[list[tuple[float, float]], int, list[float]], ...]
    seconds: int
    seed: int


def packed(
    jobs: Sequence[Job], room_in: tuple[float, float], gap_in: float, seconds: int, seed: int
) -> Iterator[tuple[Spot, ...] | None]:
    """Better and better packings between the two selvedges at `room_in`; None while there is none new.

    The engine cannot be interrupted, and brings a program down that ends before it. So it runs in a process of its
    own, which is ended when nobody asks any longer.
    """
    kinds = _kinds(jobs)
    inset = gap_in / 2 + _HAIR_IN
    strip = _Strip(
        height_in=room_in[1] - room_in[0] + 2 * inset,
        items=tuple(
            (kind.outline(gap_in), kind.count, [0.0, _HALF_TURN_DEG][: len(kind.options)]) for kind in kinds
        ),
        seconds=seconds,
        seed=seed,
    )
    context = multiprocessing.get_context("spawn")
    heard, told = context.Pipe(duplex=False)
    engine = context.Process(target=_pack, args=(strip, told), daemon=True)
    engine.start()
    told.close()
    try:
        while True:
            if not heard.poll(_POLL_S):
                yield None
                continue
            try:
                placed: list[_Placed] = heard.recv()
            except EOFError:
                return
            yield tuple(kinds[one.kind].spot(one, room_in[1] + inset, -inset) for one in placed)
    finally:
        engine.kill()
        engine.join()


def _pack(strip: _Strip, told: "Connection") -> None:
    """Run the engine, and tell of each packing that is shorter than the last."""
    import spyrrow  # only for cloth in a single layer

    signal.signal(signal.SIGINT, signal.SIG_IGN)  # it is for the program to say when it is over
    items = [spyrrow.Item(str(i), *item) for i, item in enumerate(strip.items)]
    instance = spyrrow.StripPackingInstance("lay", strip.height_in, items)
    config = spyrrow.StripPackingConfig(total_computation_time=strip.seconds, seed=strip.seed)
    apart = (spyrrow.ReportType.ExplFeas, spyrrow.ReportType.CmprFeas, spyrrow.ReportType.Final)
    queue = spyrrow.ProgressQueue()
    solving = threading.Thread(target=instance.solve, args=(config, queue))
    solving.start()
    width = math.inf
    ended = False
    while not ended:
        ended = not solving.is_alive()
        found = [one for report, one in queue.drain() if report in apart]
        best = min(found, key=lambda one: one.width, default=None)
        if best is not None and best.width < width:
            width = best.width
            told.send(
                [
                    _Placed(kind=int(item.id), turn_deg=item.rotation, at_in=item.translation)
                    for item in best.placed_items
                ]
            )
        solving.join(_POLL_S)


def _kinds(jobs: Sequence[Job]) -> list[_Kind]:
    """The layings of the jobs, each in its last way, which is that of single pieces; alike ones together."""
    alike: dict[tuple[DraftedPiece, bool], list[Laying]] = {}
    for laying in (laying for job in jobs for laying in job.ways[-1]):
        laid = laying[0].laid
        alike.setdefault((laid.piece, laid.placement.mirrored), []).append(laying)
    return [_Kind(options=same[0], count=len(same)) for same in alike.values()]
