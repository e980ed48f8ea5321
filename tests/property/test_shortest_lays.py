"""Lays on the fold beside the shortest that there is on a lattice of a quarter inch, found by trying every place."""

import numpy as np
import pytest

from patterns.cutting.drafted import DraftedPattern
from patterns.laying.cloth import Cloth
from patterns.laying.folding import Fold
from patterns.laying.lay import Terms
from patterns.parts import CutCount
from patterns.planning.clashes import Outlines
from patterns.planning.fold_choice import foldings
from patterns.planning.plan import Effort, plan
from patterns.planning.search import Search
from patterns.planning.sliding import Slides
from patterns.planning.ways import Ways
from tests.unit.patterns.lay_search import shortest_in
from tests.unit.patterns.wardrobe import box, pattern_of_pieces, piece

ROOM_IN, SELVEDGE_IN, GAP_IN, LONGEST_IN = 7.0, 0.5, 0.5, 11.0
WORSE = 1.01  # at most, than the shortest on the lattice


def small(number: int, pieces: int) -> DraftedPattern:
    """A half on the fold with one or two pairs, cut slantwise so that they nest."""
    chance = np.random.default_rng([number, pieces])
    wide, long, lean = chance.uniform(2, 4), chance.uniform(4, 6), chance.uniform(-1.5, 1.5)
    half = [(0, 0), (wide, 0), (wide + lean, long), (0, long)]
    found = [piece("half", CutCount(on_fold=True), half, allowance_in=0.0)]
    for i in range(pieces - 1):
        wide, long, lean = chance.uniform(2, 3), chance.uniform(2, 4), chance.uniform(0, 2.5)
        pair = [(lean, 0), (wide + lean, 0), (wide, long), (0, long)]
        found.append(piece(f"pair {i}", CutCount(count=2, mirrored=True), pair, allowance_in=0.0))
    return pattern_of_pieces(*found)


def shortest_found_in(pattern: DraftedPattern, rounds: int) -> float:
    """Inches of the shortest lay that the search finds when it looks for nothing else."""
    cloth = Cloth(bought_width_in=2 * (ROOM_IN + SELVEDGE_IN), selvedge_in=SELVEDGE_IN)
    terms, outlines = Terms(gap_in=GAP_IN), Outlines(GAP_IN)
    (folding,) = foldings(Fold.SELVEDGES, cloth, tuple(pattern.pieces.values()), terms)
    ways = Ways(folding=folding, terms=terms, outlines=outlines)
    jobs = [job for one in pattern.pieces.values() for job in ways.jobs(one)]
    search = Search(
        jobs, Slides(cloth, outlines), lambda spots: (max(spot.top_in for spot in spots),), seed=1
    )
    *_, found = search.rounds(rounds)
    assert found is not None
    return found.used_in


@pytest.mark.parametrize(("number", "pieces"), [(2, 2), (4, 2), (8, 2), (14, 2), (15, 2), (9, 3)])
def test_never_a_hundredth_longer_than_the_shortest_on_the_lattice(number: int, pieces: int) -> None:
    pattern = small(number, pieces)
    shortest = shortest_in(pattern, ROOM_IN, GAP_IN, LONGEST_IN)
    assert shortest < LONGEST_IN
    assert shortest_found_in(pattern, rounds=150) <= WORSE * shortest


def test_pieces_that_fit_exactly_side_by_side_are_laid_so() -> None:
    """By hand: a half 3 in wide, the gap of 1/2 in, a pair 3 1/2 in wide: 7 in from fold to selvedge."""
    pattern = pattern_of_pieces(
        box("half", CutCount(on_fold=True), 3.0, 6.0),
        box("pair", CutCount(count=2, mirrored=True), 3.5, 5.0),
    )
    cloth = Cloth(bought_width_in=2 * (ROOM_IN + SELVEDGE_IN), selvedge_in=SELVEDGE_IN)
    lay = plan(pattern, cloth, Fold.SELVEDGES, terms=Terms(gap_in=GAP_IN), effort=Effort(rounds=20))
    assert lay.used_in == pytest.approx(6.0)
