"""`python -m tests.bench [name ...]`: what the program costs and where its light falls, beside reference runs."""

import os

# As the program does: our matrices are small, and threads would wait for one another longer than they work.
os.environ.setdefault("OPENBLAS_NUM_THREADS", "1")

import sys
from collections.abc import Callable
from types import MappingProxyType
from typing import Final

from tests.bench import (
    alignment,
    corner_limit,
    draft,
    draft_frame,
    drift,
    hand,
    lay,
    light,
    limit,
    outline,
    trace,
    trace_cost,
)
from tests.bench.row import Row

Measure = Callable[[], list[Row]]
MEASURES: Final = MappingProxyType[str, tuple[Measure, ...]](
    {
        "light": (light.moving_a_piece, light.key_to_light, light.starting, light.line_places),
        "draft": (draft.drafting, draft_frame.frames),
        "lay": (lay.laying, lay.shortest_lays, lay.nested_sets),
        "corners": (corner_limit.corner_limit,),
        "alignment": (alignment.alignment, limit.limit, limit.faults),
        "hand": (hand.by_hand, hand.slips, hand.moves),
        "drift": (drift.drift,),
        "outline": (outline.outline, outline.photographed),
        "trace": (trace.tracing, trace.fewer_sheets, trace_cost.cost),
    }
)


def main() -> None:
    """Run the measures named, or all, and print their rows."""
    names = sys.argv[1:] or list(MEASURES)
    unknown = [name for name in names if name not in MEASURES]
    if unknown:
        sys.exit(f"found no measure {', '.join(unknown)}; there are {', '.join(MEASURES)}")
    for measure in (measure for name in names for measure in MEASURES[name]):
        print(f"\n{measure.__doc__}", flush=True)
        for what, value, beside in measure():
            print(f"  {what:38} {value:>14}   {beside}", flush=True)


if __name__ == "__main__":
    main()
