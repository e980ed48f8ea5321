"""Lays beside published densities, the shortest that there are, and laying one piece after the other."""

import json
import os
import time
import urllib.request
from collections.abc import Callable
from dataclasses import dataclass, replace
from functools import partial
from pathlib import Path
from typing import Any, Final

import numpy as np

from patterns import example, read_pattern
from patterns.cutting.drafted import DraftedPattern
from patterns.errors import PatternError
from patterns.laying.cloth import Cloth
from patterns.laying.folding import Fold
from patterns.laying.lay import Lay, Terms
from patterns.laying.rules import violations_of
from patterns.parts import CutCount
from patterns.planning.one_fold import Prefer
from patterns.planning.plan import Effort, compare, plan
from patterns.shape import signed_area
from tests.bench.row import Row
from tests.property.test_shortest_lays import GAP_IN, LONGEST_IN, ROOM_IN, shortest_found_in, small
from tests.unit.patterns.lay_search import shortest_in
from tests.unit.patterns.wardrobe import pattern_of_pieces, piece

SETS_FOLDER: Final = "CHALKBEAM_NESTING_SETS"  # a folder with the sets, where they cannot be fetched
SETS_ADDRESS: Final = "https://raw.githubusercontent.com/JeroenGar/sparrow/main/data/input/"
SECONDS: Final = 60
WIDTH_IN: Final = 57.0  # the strips are scaled to it: densities do not change
WIDTHS_IN: Final = (45, 60)
LATTICED: Final = (*((n, 2) for n in range(12)), *((n, 3) for n in range(6)))
MOVES: Final = 300


@dataclass(frozen=True, slots=True, kw_only=True)
class Published:
    """A garment nesting set of the ESICUP working group (CC0), with the mean density of 100 runs of 20 minutes.

    Both are published in the repository of the packing engine "sparrow".
    """

    name: str
    mean: float
    within: float


SETS: Final = (
    Published(name="shirts", mean=0.8966, within=0.03),
    Published(name="trousers", mean=0.9173, within=0.03),
    Published(name="swim", mean=0.7826, within=0.05),
)


def nested_sets() -> list[Row]:
    """A single layer beside published densities of garment sets, a minute each; one way with nap beside it."""
    rows: list[Row] = []
    for one in SETS:
        try:
            pattern = _pattern_of(_set(one.name))
        except OSError as error:
            rows.append((one.name, "not measured", f"{error}; name a folder with the sets in {SETS_FOLDER}"))
            continue
        for said, has_nap in (("either way up", False), ("one way, as with nap", True)):
            found = _density(pattern, has_nap)
            beside = f"{found / one.mean:.3f} x the published mean {one.mean:.2%}"
            wanted = "" if has_nap else f"; wanted {1 - one.within:.2f}"
            rows.append((f"{one.name}, {said}", f"{found:.2%}", beside + wanted))
    return rows


def _set(name: str) -> dict[str, Any]:
    folder = os.environ.get(SETS_FOLDER)
    if folder is not None:
        read: dict[str, Any] = json.loads((Path(folder) / f"{name}.json").read_text(encoding="utf-8"))
        return read
    with urllib.request.urlopen(f"{SETS_ADDRESS}{name}.json", timeout=20) as answer:
        fetched: dict[str, Any] = json.loads(answer.read())
        return fetched


def _pattern_of(nesting: dict[str, Any]) -> DraftedPattern:
    """The set as a pattern: the strip's height is the width of the cloth."""
    scale = WIDTH_IN / nesting["strip_height"]
    pieces = []
    for item in nesting["items"]:
        ring = np.array(item["shape"]["data"], dtype=np.float64)
        ring = ring[:-1] if (ring[0] == ring[-1]).all() else ring
        name, cut = f"piece {item['id']}", CutCount(count=item["demand"])
        pieces.append(piece(name, cut, ring[:, ::-1] * scale, allowance_in=0.0))
    return pattern_of_pieces(*pieces)


def _density(pattern: DraftedPattern, has_nap: bool) -> float:
    cloth = Cloth(bought_width_in=WIDTH_IN, selvedge_in=0.0, has_nap=has_nap)
    effort = Effort(rounds=0, packing_s=SECONDS)
    lay = plan(pattern, cloth, Fold.SINGLE, terms=Terms(gap_in=0.0), prefer=Prefer.USED, effort=effort)
    taken = sum(abs(signed_area(part)) for placed in lay.placed for part in placed.parts_in)
    return taken / (WIDTH_IN * lay.used_in)


def shortest_lays() -> list[Row]:
    """Lays on the fold beside the shortest of all on a quarter-inch lattice, two pieces and three."""
    ratios = []
    for number, pieces in LATTICED:
        pattern = small(number, pieces)
        ratios.append(shortest_found_in(pattern, 150) / shortest_in(pattern, ROOM_IN, GAP_IN, LONGEST_IN))
    return [
        (
            f"{len(ratios)} small lays, at worst",
            f"{max(ratios):.3f}",
            "x the shortest on the lattice; wanted 1.01",
        ),
        ("on average", f"{sum(ratios) / len(ratios):.3f}", "x the same"),
    ]


def laying() -> list[Row]:
    """The example pattern: how long it takes, and what it saves beside one piece after the other on the fold."""
    overtop = read_pattern(example("harbour overtop")).drafted()
    rows: list[Row] = []
    for width in WIDTHS_IN:
        cloth = Cloth(bought_width_in=width)
        apart = _one_after_the_other_in(overtop, Terms().gap_in)
        for fold in Fold:
            try:
                seconds, lay = _timed(partial(plan, overtop, cloth, fold, prefer=Prefer.USED))
            except PatternError:
                continue
            saved = f"{1 - lay.used_in / apart:.0%} less than {apart:.1f} in one after the other"
            rows.append(
                (
                    f"{width} in, {fold.value}",
                    f"{lay.used_in:.1f} in",
                    f"{saved}; {seconds:.2f} s of CPU, wanted 2",
                )
            )
        seconds, _ = _timed(partial(compare, overtop, cloth))
        rows.append((f"{width} in, every fold compared", f"{seconds:.2f} s", "of CPU for all of them"))
    rows.append(
        ("rules asked of a piece that is moved", f"{_moved_ms(lay):.2f} ms", "of 16 that a picture has")
    )
    return rows


def _one_after_the_other_in(pattern: DraftedPattern, gap_in: float) -> float:
    """Inches that the pieces take along one fold, none beside another."""
    lengths = [float(np.ptp(one.cut_line[:, 1])) for one in pattern.pieces.values()]
    return sum(lengths) + gap_in * (len(lengths) - 1)


def _timed(make: Callable[[], Any]) -> tuple[float, Any]:
    start = time.process_time()
    made = make()
    return time.process_time() - start, made


def _moved_ms(lay: Lay) -> float:
    start = time.process_time()
    for _ in range(MOVES):
        first = lay.placed[0]
        moved = replace(first.placement, y_in=first.placement.y_in + 1 / 64)
        lay = replace(lay, placed=(replace(first, placement=moved), *lay.placed[1:]))
        violations_of(lay, 0)
    return (time.process_time() - start) / MOVES * 1000
