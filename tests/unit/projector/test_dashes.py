"""Dashes begin and end lit, turn corners lit, and keep to their lengths."""

from itertools import pairwise

import numpy as np
import pytest

from calibration.frames import Array
from projector.lighting.dashes import dashed, lit_parts
from projector.lighting.strokes import joined, split

DASH = (3 / 8, 1 / 4)


def dashes(*paths: Array, dash_in: tuple[float, ...] = DASH) -> list[Array]:
    return split(*dashed(*joined(paths), dash_in))


def lengths(path: Array) -> list[float]:
    return [float(np.linalg.norm(np.diff(part, axis=0), axis=1).sum()) for part in dashes(path)]


def test_a_straight_line_begins_and_ends_lit_with_dashes_of_one_length() -> None:
    parts = dashes(np.array([[0.0, 0.0], [10.0, 0.0]]))
    assert parts[0][0].tolist() == [0.0, 0.0]
    assert parts[-1][-1].tolist() == [10.0, 0.0]
    found = np.array(lengths(np.array([[0.0, 0.0], [10.0, 0.0]])))
    assert np.ptp(found) < 1e-9
    assert found[0] == pytest.approx(3 / 8, rel=0.05)
    gaps = np.array([b[0, 0] - a[-1, 0] for a, b in pairwise(parts)])
    assert gaps == pytest.approx(1 / 4, rel=0.05)


def test_a_corner_is_lit() -> None:
    parts = dashes(np.array([[0.0, 0.0], [5.1, 0.0], [5.1, 7.3]]))
    touching = [part for part in parts if (np.abs(part - [5.1, 0.0]).sum(axis=1) < 1e-12).any()]
    assert len(touching) == 2


def test_a_dash_follows_the_points_of_a_curve() -> None:
    angle = np.linspace(0, np.pi / 2, 400)
    curve = 5 * np.column_stack([np.cos(angle), np.sin(angle)])
    assert np.hypot(*np.vstack(dashes(curve)).T) == pytest.approx(5.0, abs=1e-4)


def test_a_line_too_short_for_a_gap_is_solid() -> None:
    assert lengths(np.array([[0.0, 0.0], [0.5, 0.0]])) == [0.5]


def test_points_given_twice_do_no_harm() -> None:
    path = np.array([[0.0, 0.0], [0.0, 0.0], [3.0, 0.0], [3.0, 0.0]])
    assert sum(lengths(path)) == pytest.approx(sum(lengths(path[1:3])))


def test_a_dash_dot_line_alternates_both_lengths() -> None:
    parts = dashes(np.array([[0.0, 0.0], [20.0, 0.0]]), dash_in=(1.0, 0.25, 0.125, 0.25))
    found = [round(float(np.ptp(part[:, 0])), 2) for part in parts]
    assert len(set(found)) == 2
    assert found[0] == max(found)
    assert found[1] == min(found)
    assert found[-1] == max(found)


@pytest.mark.parametrize("start", [0.1, 0.3, 0.7])
def test_a_dash_that_ends_on_a_point_of_the_path_has_it_once(start: float) -> None:
    for length in np.arange(9, 40) / 7:
        end = dashes(np.array([[0.0, 0.0], [length, 0.0]]))[0][-1, 0]
        path = np.array([[start, 0.0], [start + end, 0.0], [start + length, 0.0]])
        steps = [np.diff(part[:, 0]) for part in dashes(path)]
        assert min(step.min() for step in steps) > 1e-6


def test_lines_dashed_together_are_dashed_as_each_alone() -> None:
    rng = np.random.default_rng(7)
    paths = [np.cumsum(rng.normal(0.0, 2.0, (count, 2)), axis=0) for count in (2, 9, 3, 40)]
    paths.insert(1, paths[0][::-1])  # begins where the one before it ends
    paths.append(np.repeat(paths[2], 2, axis=0))
    patterns = [DASH, (), (1.0, 0.25, 0.125, 0.25), DASH, (), (0.5, 0.5)]
    points, ends, counts = lit_parts(*joined(paths), patterns)
    apart = [
        dashes(path, dash_in=dash) if dash else [path] for path, dash in zip(paths, patterns, strict=True)
    ]
    assert counts.tolist() == [len(parts) for parts in apart]
    each = [part for parts in apart for part in parts]
    assert np.diff(ends, prepend=0).tolist() == [len(part) for part in each]
    assert points == pytest.approx(np.vstack(each), abs=1e-9)
