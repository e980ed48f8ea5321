"""Free pieces packed by an engine made for it (`spyrrow`), where many lie in a single layer.

The engine minimises the length of a strip in which outlines do not overlap. Ours are grown by half the gap first, so
that what it keeps apart keeps the gap; what it finds is held to the rules before it is believed.
"""

import math
import threading
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING, Final

import numpy as np

from patterns.cutting.drafted import DraftedPiece
from patterns.laying.profile import grown
from patterns.laying.sliding import Spot
from patterns.laying.ways import Job, Laying

if TYPE_CHECKING:
    import spyrrow

_HAIR_IN: Final = 1e-4  # by which outlines are grown beyond the gap: the engine reckons in single precision
_POLL_S: Final = 0.1
_HALF_TURN_DEG: Final = 180.0


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

    def spot(self, placed: "spyrrow.PlacedItem", left_in: float, bottom_in: float) -> Spot:
        """Where the engine has put one, its strip's far corner at (`left_in`, `bottom_in`) of the cloth."""
        turned = abs(placed.rotation) > _HALF_TURN_DEG / 2
        option = next(one for one in self.options if one.upside_down == turned)
        along, across = placed.translation
        return Spot(option=option, x_in=left_in - across, y_in=bottom_in + along)


def packed(
    jobs: Sequence[Job], room_in: tuple[float, float], gap_in: float, seconds: int, seed: int
) -> Iterator[tuple[Spot, ...] | None]:
    """Better and better packings between the two selvedges at `room_in`; None while there is none new.

    The engine runs beside us and cannot be interrupted: when nobody asks any longer it ends by itself.
    """
    import spyrrow  # only for cloth in a single layer

    kinds = _kinds(jobs)
    items = [
        spyrrow.Item(str(i), kind.outline(gap_in), kind.count, [0.0, _HALF_TURN_DEG][: len(kind.options)])
        for i, kind in enumerate(kinds)
    ]
    inset = gap_in / 2 + _HAIR_IN
    instance = spyrrow.StripPackingInstance("lay", room_in[1] - room_in[0] + 2 * inset, items)
    config = spyrrow.StripPackingConfig(total_computation_time=seconds, seed=seed)
    apart = (spyrrow.ReportType.ExplFeas, spyrrow.ReportType.CmprFeas, spyrrow.ReportType.Final)
    queue = spyrrow.ProgressQueue()
    solving = threading.Thread(target=instance.solve, args=(config, queue), daemon=True)
    solving.start()
    width = math.inf
    while True:
        ended = not solving.is_alive()
        found = [one for report, one in queue.drain() if report in apart]
        best = min(found, key=lambda one: one.width, default=None)
        if best is not None and best.width < width:
            width = best.width
            placed = ((kinds[int(item.id)], item) for item in best.placed_items)
            yield tuple(kind.spot(item, room_in[1] + inset, -inset) for kind, item in placed)
        if ended:
            return
        yield None
        solving.join(_POLL_S)


def _kinds(jobs: Sequence[Job]) -> list[_Kind]:
    """The layings of the jobs, each in its last way, which is that of single pieces; alike ones together."""
    alike: dict[tuple[DraftedPiece, bool], list[Laying]] = {}
    for laying in (laying for job in jobs for laying in job.ways[-1]):
        laid = laying[0].laid
        alike.setdefault((laid.piece, laid.placement.mirrored), []).append(laying)
    return [_Kind(options=same[0], count=len(same)) for same in alike.values()]
