"""Laws that hold for every change of a garment."""

import math
import tempfile
from collections.abc import Mapping
from dataclasses import replace
from functools import cache
from pathlib import Path
from typing import TypeAlias

import numpy as np
import pytest
import shapely
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from patterns import DraftedPattern, Pattern, PatternError, Unit, read_pattern
from patterns.curves import Array
from patterns.cutting.seams import cut_line
from patterns.files.change_reading import ChangeReading
from patterns.files.reading import all_of
from patterns.files.yaml_tree import tree_of
from patterns.shape import Shape
from tests.unit.patterns.smock import smock_text

FEW = settings(max_examples=20, suppress_health_check=[HealthCheck.too_slow])

Ranges: TypeAlias = Mapping[str, tuple[float, float]]  # changes, with the inches each can be made by

NECKS: Ranges = {
    "neck: v, piece: front, depth": (3, 14),
    "neck: round, piece: front, depth": (1, 12),
    "neck: scoop, piece: front, depth": (3, 12),
    "neck: square, piece: front, depth": (2, 12),
    "raise neck": (0.1, 2),
    "lower neck": (0.1, 6),
    "widen neck": (0.1, 4),
    "narrow neck": (0.1, 2),
}
BODIES: Ranges = {
    "lengthen": (0.1, 6),
    "shorten": (0.1, 8),
    "at: 17, lengthen": (0.1, 4),
    "at: 18, shorten": (0.1, 2.5),
    "at: side, widen": (0.1, 0.75),
    "at: side, narrow": (0.1, 3),
    "slant hem": (-2, 3),
    "hem band": (0.5, 6),
}
SLEEVES: Ranges = {"lengthen sleeve": (0.1, 6), "shorten sleeve": (0.1, 2), "sleeve opening": (4.5, 7.5)}
FOLDS: Ranges = {"at: fold, widen": (0.1, 3.0), "at: fold, narrow": (0.1, 1.5)}
FINISHES: Ranges = {
    "facing: front, of: front/neck, depth": (1, 3),
    "facing: back, of: back/neck, below point: 3 in, depth": (1, 3),
    "binding: back/neck, width": (0.125, 0.5),
}
SEAMS: Ranges = {"shoulder forward": (0.1, 0.6)}


@st.composite
def of_one(draw: st.DrawFn, kinds: Ranges) -> tuple[str, float]:
    """A change's words and its length, which is at least a tenth of an inch."""
    words = draw(st.sampled_from(sorted(kinds)))
    low, high = kinds[words]
    length = draw(st.floats(low, high).map(lambda inches: round(inches, 3)))
    return words, math.copysign(max(abs(length), 0.1), length)


any_change = of_one({**NECKS, **BODIES, **SLEEVES, **FOLDS, **FINISHES, **SEAMS})
two_changes = st.tuples(any_change, any_change).filter(
    lambda two: two[0][0] != two[1][0] or two[0][0] not in FINISHES  # one edge is finished once
)


def said(change: tuple[str, float], unit: Unit = Unit.IN) -> str:
    """The change as a file has it."""
    words, length = change
    piece = ", piece: front" if words in ("raise neck", "lower neck") else ""
    level = {"at: 17": 17.0, "at: 18": 18.0}.get(words.split(",")[0])
    if level is not None:
        words = f"at: {level / float(unit.inches):.9f}, {words.split(', ')[1]}"
    return f"{{{words}: {length / float(unit.inches):.9f}{piece}}}"


@cache
def traced(unit: Unit, backwards: bool) -> Pattern:
    """The smock as it was traced."""
    with tempfile.TemporaryDirectory() as folder:
        path = Path(folder) / "smock.yaml"
        path.write_text(smock_text(unit=unit, backwards=backwards), encoding="utf-8")
        return read_pattern(path)


def read(*changes: str, unit: Unit = Unit.IN, backwards: bool = False) -> Pattern:
    """The smock with the changes as a file has them."""
    reading = ChangeReading("smock.yaml")
    reading.unit = unit
    made = [reading.change(tree_of(change, Path("smock.yaml"))) for change in changes]
    assert not reading.complaints
    return replace(traced(unit, backwards), changes=all_of(made))


@cache
def plain() -> DraftedPattern:
    return read().drafted()


def shapes_of(pattern: Pattern) -> tuple[Shape, ...]:
    """Its pieces after the changes; none where one of them cannot be made."""
    try:
        return pattern.draft().shapes
    except PatternError:
        return ()


def apart_in(one: Array, two: Array) -> float:
    """How far two closed outlines stray from one another."""
    return float(shapely.hausdorff_distance(shapely.LinearRing(one), shapely.LinearRing(two)))


@FEW
@given(any_change)
def test_the_fold_stays_at_the_centre_and_the_outline_simple(change: tuple[str, float]) -> None:
    for piece in read(said(change)).drafted().pieces.values():
        assert piece.cut_line[[0, -1], 0].tolist() == [0, 0]
        assert piece.seam_line[:, 0].min() >= 0
        assert piece.fold is not None
        assert not piece.fold.points[:, 0].any()
        outlines = [shapely.Polygon(ring) for ring in (piece.seam_line, piece.cut_line)]
        assert all(outline.is_valid for outline in outlines)
        assert outlines[1].buffer(1e-6).covers(outlines[0])
        assert piece.grain is not None
        assert outlines[0].buffer(1e-6).covers(shapely.LineString(piece.grain))


@FEW
@given(any_change, st.floats(0.05, 0.25))
def test_the_area_grows_with_the_allowance(change: tuple[str, float], more: float) -> None:
    def wider(shape: Shape) -> Shape:
        edges = [
            replace(edge, allowance_in=(edge.width_in + more,)) if edge.width_in else edge
            for edge in shape.edges
        ]
        return replace(shape, edges=tuple(edges))

    for shape in read(said(change)).draft().shapes:
        areas = [shapely.Polygon(ring).area for ring in (shape.ring, cut_line(shape), cut_line(wider(shape)))]
        assert areas == sorted(areas)


@FEW
@given(two_changes)
def test_a_file_in_mm_is_changed_as_the_file_in_inches(pair: tuple[tuple[str, float], ...]) -> None:
    first, second = pair
    shapes = [
        shapes_of(read(said(first, unit), said(second, unit), unit=unit)) for unit in (Unit.IN, Unit.MM)
    ]
    for one, two in zip(*shapes, strict=True):
        for edge, other in zip(one.edges, two.edges, strict=True):
            assert edge.curve.beziers == pytest.approx(other.curve.beziers, abs=1e-6)


@FEW
@given(any_change)
def test_a_change_that_is_off_changes_nothing(change: tuple[str, float]) -> None:
    pattern = read(said(change))
    (made,) = pattern.changes
    undone = replace(pattern, changes=(replace(made, off=True),)).drafted()
    for name, piece in plain().pieces.items():
        assert np.array_equal(undone.pieces[name].cut_line, piece.cut_line)


@FEW
@given(of_one(NECKS), of_one(BODIES) | of_one({"lengthen sleeve": (0.1, 6.0)}))
def test_a_neck_commutes_with_body_and_sleeve(neck: tuple[str, float], other: tuple[str, float]) -> None:
    one, two = read(said(neck), said(other)), read(said(other), said(neck))
    for first, second in zip(one.draft().shapes, two.draft().shapes, strict=True):
        assert apart_in(first.ring, second.ring) < 1e-3


@FEW
@given(of_one(FINISHES), of_one(BODIES))
def test_what_finishes_a_neck_commutes_with_the_body(
    finish: tuple[str, float], body: tuple[str, float]
) -> None:
    one, two = (read(*map(said, order)).draft() for order in ((finish, body), (body, finish)))
    for first, second in zip(one.shapes, two.shapes, strict=True):
        assert first.name == second.name
        assert apart_in(first.ring, second.ring) < 1e-6
    lengths = [{strip.name: strip.length_in for strip in draft.strips} for draft in (one, two)]
    assert lengths[0] == pytest.approx(lengths[1], abs=1e-9)


BACK_AGAIN = [
    ("lengthen", "shorten", (0.1, 5)),
    ("at: fold, widen", "at: fold, narrow", (0.1, 3)),
    ("lengthen sleeve", "shorten sleeve", (0.1, 5)),
    ("lower neck", "raise neck", (0.1, 5)),
    ("widen neck", "narrow neck", (0.1, 4)),
]


@pytest.mark.parametrize(("there", "back", "lengths"), BACK_AGAIN)
@settings(FEW, max_examples=8)
@given(st.data())
def test_there_and_back_is_where_it_was(
    there: str, back: str, lengths: tuple[float, float], data: st.DataObject
) -> None:
    by = round(data.draw(st.floats(*lengths)), 3)
    changed = read(said((there, by)), said((back, by))).draft()
    for shape in changed.shapes:
        assert apart_in(shape.ring, plain().pieces[shape.name].seam_line) < 2e-3


@FEW
@given(two_changes)
def test_both_walks_round_a_piece_are_changed_alike(pair: tuple[tuple[str, float], ...]) -> None:
    first, second = pair
    shapes = [shapes_of(read(said(first), said(second), backwards=way)) for way in (False, True)]
    for one, two in zip(*shapes, strict=True):
        assert apart_in(one.ring, two.ring) < 1e-3
