import math

import numpy as np
import pytest

from patterns.arc_lengths import ArcLengths
from patterns.cubics import Plane, evenly, in_plane, out_of_plane
from patterns.curves import Array, Curve

PARABOLA = in_plane(np.array([[[0.0, 0.0], [1 / 3, 0.0], [2 / 3, 1 / 3], [1.0, 1.0]]]))  # y = x^2 up to x = 1
HAIRPIN = in_plane(np.array([[[0.0, 0.0], [2.0, 2.0], [0.1, 2.0], [2.5, 0.5]]]))  # turns round in little room
FROM_REST = np.array([[[0.0, 0.0], [0.0, 0.0], [2.0, 1.0], [2.0, 1.0]]])  # a line that is walked unevenly


def _up_to_x(x: float) -> float:
    """Inches along y = x^2 from 0 (plain geometry: the integral of sqrt(1 + 4 x^2))."""
    return x * math.sqrt(1 + 4 * x * x) / 2 + math.asinh(2 * x) / 4


def test_a_parabola_is_as_long_as_its_formula_says() -> None:
    assert ArcLengths.of(PARABOLA).ends_in[-1] == pytest.approx(_up_to_x(1.0), abs=1e-12)


def test_each_of_several_places_lies_where_the_formula_says() -> None:
    shares = [0.0, 0.1, 0.25, 0.4, 0.77, 1.0]
    places = ArcLengths.of(PARABOLA).places([_up_to_x(x) for x in shares])
    assert [along for _, along in places] == pytest.approx(shares, abs=1e-12)


@pytest.mark.parametrize("pieces", [PARABOLA, np.concatenate([PARABOLA, PARABOLA + (1 + 1j)])])
def test_the_ends_are_places_too(pieces: Plane) -> None:
    lengths = ArcLengths.of(pieces)
    last = len(pieces) - 1
    assert lengths.places([0.0, lengths.ends_in[-1]]) == [(0, 0.0), (last, 1.0)]
    assert lengths.places([-1e-10, lengths.ends_in[-1] + 1e-10]) == [(0, 0.0), (last, 1.0)]


def test_cells_become_as_fine_as_a_hairpin_needs() -> None:
    lengths = ArcLengths.of(HAIRPIN)
    assert lengths.per_piece > 4
    places = evenly(2**17).dot(out_of_plane(HAIRPIN[0]))
    chords_in = np.hypot(*np.diff([*places, [2.5, 0.5]], axis=0).T).sum()
    assert lengths.ends_in[-1] == pytest.approx(chords_in, abs=1e-8)


@pytest.mark.parametrize("at_in", [1e-6, 0.001, 0.5, 1.118, 2.236])
def test_a_path_that_starts_from_rest_is_walked_by_its_length(at_in: float) -> None:
    assert Curve(FROM_REST).point_at(at_in) == pytest.approx(np.array([2, 1]) / 5**0.5 * at_in, abs=1e-9)


@pytest.mark.parametrize(
    "beziers",
    [
        np.array([[[0, 0], [3, 0], [6, 3], [6, 6]]]),
        np.array([[[0.0, 0.0, 0.0], [3.0, 0.0, 0.0], [6.0, 0.0, 3.0], [6.0, 0.0, 6.0]]])[..., ::2],
    ],
    ids=["whole numbers", "every other number"],
)
def test_a_curve_is_the_same_however_its_numbers_are_kept(beziers: Array) -> None:
    plain = Curve(np.array([[[0.0, 0.0], [3.0, 0.0], [6.0, 3.0], [6.0, 6.0]]]))
    assert Curve(beziers).length_in == plain.length_in
    assert np.array_equal(Curve(beziers).points, plain.points)


def test_a_line_whose_first_point_is_said_twice_still_has_its_start() -> None:
    assert ArcLengths.even([0.0, 5.0]).places([0.0, 2.5]) == [(0, 0.0), (1, 0.5)]
