"""How good the light is, in words."""

import numpy as np
import pytest

from projector.trust import good_to_in, rounded_up, trust_words
from tests.unit.projector.samples import a_map, an_alignment

HERE = np.array([[0.0, 0.0], [5.0, 5.0]])


@pytest.mark.parametrize(
    ("length_in", "words"),
    [
        (0.0, "1/64 in"),
        (1 / 64, "1/64 in"),
        (0.016, "1/32 in"),
        (1 / 32, "1/32 in"),
        (0.032, "1/16 in"),
        (0.1, "1/8 in"),
        (0.93, "15/16 in"),
        (1.0, "1 in"),
        (2.51, "2 9/16 in"),
    ],
)
def test_errors_are_rounded_up_to_a_ruler(length_in: float, words: str) -> None:
    assert rounded_up(length_in) == words


def test_the_claim_for_the_table_is_never_bettered() -> None:
    assert good_to_in(an_alignment(p95_in=0.04), HERE) == 0.04
    assert trust_words(an_alignment(p95_in=0.02), HERE) == ("good to 1/32 in here",)


def test_a_place_that_is_worse_than_the_claim_is_said() -> None:
    alignment = an_alignment(a_map(sigma=3.0), p95_in=0.02)
    assert good_to_in(alignment, HERE) > 0.1
    assert trust_words(alignment, HERE)[0].startswith("only good to ")


def test_size_that_no_tape_has_checked_is_said() -> None:
    assert trust_words(an_alignment(size_checked=False), HERE) == ("good to 1/32 in here", "size not checked")


def test_the_share_of_errors_within_it_is_95_percent() -> None:
    # Rayleigh: two independent directions of equal sigma; held against drawn errors, not a formula.
    alignment = an_alignment(a_map(sigma=1.0), p95_in=0.0)
    rng = np.random.default_rng(5)
    shift_px = rng.normal(0, 1.0, (4000, 2))
    here = alignment.map.screen_from_table(HERE[:1])
    errors = np.linalg.norm(alignment.map.table_from_screen(here + shift_px) - HERE[0], axis=1)
    assert (errors <= good_to_in(alignment, HERE[:1])).mean() == pytest.approx(0.95, abs=0.03)
