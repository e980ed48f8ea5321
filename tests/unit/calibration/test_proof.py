"""What an alignment claims, against the truth of practice tables."""

from dataclasses import replace

import numpy as np
import pytest

from calibration.practice.table import Faults
from calibration.solving.proof import prove
from calibration.solving.solve import solve
from tests.unit.calibration.corners import SCREEN_PX, seen, table

TAPED = ((2, 4), (3, 5))


def test_more_photos_promise_more_and_keep_it() -> None:
    on = table(5, faults=Faults.usual())
    views = [on, on.another_view(1), on.another_view(2)]
    photos = [seen(view, 5 + 1000 * i) for i, view in enumerate(views)]
    tapes = {pair: on.tape(*pair, 1 / 32) for pair in TAPED}
    proofs = [
        prove(solve(photos[:count], screen_px=SCREEN_PX, printed_scale=1.0, tapes=tapes)) for count in (1, 3)
    ]
    assert proofs[1].shape_p95_in < proofs[0].shape_p95_in
    for proof in proofs:
        errors = np.linalg.norm(on.light_errors_in(proof.map), axis=1)
        assert np.quantile(errors, 0.95) <= proof.p95_in


def test_noise_beyond_the_expected_is_held_against_the_claim() -> None:
    fit = solve([seen(table(1), 1)], screen_px=SCREEN_PX, printed_scale=1.0)
    as_expected = prove(replace(fit, print_sigma=1.0, target_sigma=1.0)).shape_p95_in
    assert prove(replace(fit, print_sigma=0.5)).shape_p95_in <= as_expected * 1.1
    # nine tenths of the variance are shared by neighbours: 1 + 2.5 x 0.9 times the variance
    worse = prove(replace(fit, print_sigma=10**0.5, target_sigma=1.0)).shape_p95_in
    assert worse == pytest.approx(as_expected * 3.25**0.5, rel=0.01)


def test_tapes_between_sheets_that_curl_are_believed_less_and_the_ruler_no_less() -> None:
    photo = seen(table(1), 1)
    tapes = {pair: table(1).tape(*pair, 1 / 32) for pair in TAPED}
    # The ruler says a little of the size beside the tapes.
    for taped, grows in ((tapes, 0.97 * 3.25**0.5), ({}, 1.0)):
        fit = solve([photo], screen_px=SCREEN_PX, printed_scale=1.0, tapes=taped)
        calm, curled = (prove(replace(fit, print_sigma=sigma, target_sigma=1.0)) for sigma in (1.0, 10**0.5))
        size_in = [np.sqrt(proof.p95_in**2 - proof.shape_p95_in**2) for proof in (calm, curled)]
        assert size_in[1] / size_in[0] == pytest.approx(grows, rel=0.02)
