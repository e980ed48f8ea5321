"""Where outlines clash, beside shapely's distances; and what an option says it takes, beside the piece as it lies."""

import numpy as np
import pytest
import shapely
from shapely import affinity

from patterns.laying.cloth import Cloth
from patterns.laying.folding import Fold
from patterns.laying.lay import Terms
from patterns.laying.profile import Profile, grown
from patterns.parts import CutCount
from patterns.planning.clashes import Clashes, Outlines
from patterns.planning.fold_choice import foldings
from patterns.planning.ways import Ways
from tests.unit.patterns.wardrobe import body, sleeve, wardrobe

GAP_IN = 0.5
TIGHT_IN = 0.06  # by which a piece may lie farther off than it need, half on its own outline's account


@pytest.mark.parametrize("seed", range(8))
def test_beyond_a_clash_the_gap_is_kept_and_hardly_more(seed: int) -> None:
    chance = np.random.default_rng(seed)
    rings = (
        body(chance, "body", CutCount(on_fold=True)).cut_line,
        sleeve(chance, "sleeve", CutCount()).cut_line,
    )
    standing, moving = (Profile.of(ring, GAP_IN) for ring in rings)
    still, other = (shapely.Polygon(ring) for ring in rings)
    shifts = chance.uniform(-6, 14, 12)
    low, high = Clashes(standing, moving).at(shifts)
    clashing = low.min(axis=0) < high.max(axis=0)
    assert clashing.sum() > 5
    for shift, *ends in zip(
        shifts[clashing], low.min(axis=0)[clashing], high.max(axis=0)[clashing], strict=True
    ):
        for end in ends:
            apart = still.distance(affinity.translate(other, shift, end))
            assert GAP_IN - 1e-6 <= apart <= GAP_IN + TIGHT_IN


@pytest.mark.parametrize("by_in", [0.0, 0.001, 0.25])
def test_a_grown_outline_holds_all_that_is_so_near(by_in: float) -> None:
    """Its straight edges exactly, so that pieces which just fit do fit."""
    ring = body(np.random.default_rng(3), "body", CutCount(on_fold=True)).cut_line
    whole, outline = grown(ring, by_in), shapely.Polygon(ring)
    assert whole.buffer(1e-9).contains(outline.buffer(by_in * (1 - 1e-9), quad_segs=64))
    assert whole.bounds[1] == pytest.approx(outline.bounds[1] - by_in, abs=0.01)
    assert whole.bounds[3] == pytest.approx(outline.bounds[3] + by_in)


@pytest.mark.parametrize("fold", [Fold.PARTIAL, Fold.BOTH, Fold.REFOLDED, Fold.SINGLE])
def test_what_an_option_takes_is_what_its_piece_takes(fold: Fold) -> None:
    terms, cloth = Terms(gap_in=GAP_IN), Cloth(bought_width_in=90.0)
    chance = np.random.default_rng(2)
    seen = 0
    for number in range(12):
        pattern = wardrobe(number, doubled=number % 2 == 0)
        for folding in foldings(fold, cloth, tuple(pattern.pieces.values()), terms)[:1]:
            ways = Ways(folding=folding, terms=terms, outlines=Outlines(GAP_IN))
            jobs = [job for piece in pattern.pieces.values() for job in ways.jobs(piece)]
            for option in (one for job in jobs for way in job.ways for laying in way for one in laying):
                x = float(chance.uniform(option.low_in, option.high_in))
                parts = option.at(x, 0.0).parts_in
                assert len(parts) == len(option.parts)
                for part, ring in zip(option.parts, parts, strict=True):
                    at = part.at_in + part.sign * x
                    left, _, right, _ = grown(ring, GAP_IN / 2).bounds
                    assert (part.profile.left_in + at, part.profile.right_in + at) == pytest.approx(
                        (left, right)
                    )
                    seen += 1
    assert seen > 20
