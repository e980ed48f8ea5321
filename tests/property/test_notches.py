"""Laws that hold for notches set on any seam."""

import numpy as np
from hypothesis import given, settings
from hypothesis import strategies as st

from patterns.alterations.notching import EASE_PART, NOTCH_APART_IN, NOTCH_CLEAR_IN, Seam, paired, seam_of
from patterns.curves import Curve
from patterns.parts import CutCount, End, Kind, Notch
from patterns.shape import Shape, ShapeEdge

MANY = settings(max_examples=30, deadline=None)


def piece(name: str, side_in: float, kink_in: float, backwards: bool) -> Shape:
    """A piece whose side goes down, across at a kink, and down again; of `side_in` in all."""
    down = np.array([[5.0, 0.0], [5.0, kink_in], [6.0, kink_in], [6.0, side_in - 1.0]])
    corners = [[0.0, 0.0], *down.tolist(), [0.0, side_in - 1.0]]
    paths = [[corners[0], corners[1]], corners[1:5], [corners[4], corners[5]], [corners[5], corners[0]]]
    kinds = (Kind.SEAM, Kind.SEAM, Kind.HEM, Kind.SEAM)
    edges = [
        ShapeEdge(name=edge, kind=kind, curve=Curve.straight(np.array(path)), allowance_in=(0.5,))
        for edge, kind, path in zip(("waist", "side", "hem", "middle"), kinds, paths, strict=True)
    ]
    if backwards:
        edges = [
            ShapeEdge(name=one.name, kind=one.kind, curve=one.curve.reversed(), allowance_in=(0.5,))
            for one in edges[::-1]
        ]
    return Shape(name=name, cut=CutCount(), edges=tuple(edges))


@st.composite
def seams(draw: st.DrawFn) -> tuple[Seam, int]:
    """Two sides with a kink each, not always of one length or walked alike, and the clips of their first group."""
    length, ease = draw(st.floats(3.0, 60.0)), draw(st.floats(0, EASE_PART * 0.9))
    shapes = [
        piece(name, one, draw(st.floats(0.2, 0.8)) * (one - 1.0), draw(st.booleans()))
        for name, one in (("front", length), ("back", length * (1 + ease)))
    ]
    return seam_of(shapes[0], "side", shapes[1], "side", None), draw(st.sampled_from([1, 2]))


def from_top(shape: Shape, notches: tuple[Notch, ...]) -> list[tuple[float, float, int]]:
    """How far each is from the upper and from the lower end of the side, and how many clips it has."""
    curve = shape.edges[shape.number("side")].curve
    downwards = bool(curve.start[1] < curve.end[1])
    found = []
    for notch in notches:
        near, far = notch.at.inches, curve.length_in - notch.at.inches
        from_upper = (notch.from_end is End.START) is downwards
        found.append((near, far, notch.count) if from_upper else (far, near, notch.count))
    return found


@MANY
@given(seams())
def test_both_edges_have_the_same_groups_as_far_from_one_end(case: tuple[Seam, int]) -> None:
    seam, count = case
    here, there = paired(seam, count, 3)
    one, two = from_top(seam.first, here), from_top(seam.second, there)
    assert [group[2] for group in one] == [group[2] for group in two]
    assert len({group[2] for group in one}) == len(one)
    for (upper, lower, _), (other_upper, other_lower, _) in zip(one, two, strict=True):
        assert min(abs(upper - other_upper), abs(lower - other_lower)) < 1e-6


@MANY
@given(seams())
def test_no_clip_is_near_a_corner_and_no_group_would_meet_another_turned_end_for_end(
    case: tuple[Seam, int],
) -> None:
    seam, count = case
    for shape, notches in zip((seam.first, seam.second), paired(seam, count, 3), strict=True):
        runs = shape.edges[shape.number("side")].curve.runs()
        corners = np.cumsum([0.0, *(run.length_in for run in runs)])
        if shape.edges[shape.number("side")].curve.start[1] > 0:
            corners = corners[-1] - corners
        for upper, lower, clips in from_top(shape, notches):
            reach = (clips - 1) / 2 * NOTCH_APART_IN
            assert np.abs(corners - upper).min() >= NOTCH_CLEAR_IN + reach - 1e-6
            assert abs(upper - lower) >= 1 / 4 - 1e-6
