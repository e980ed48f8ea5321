"""Laws that hold for every pattern, piece and placement."""

import contextlib
import math
import tempfile
from dataclasses import replace
from fractions import Fraction
from pathlib import Path

import numpy as np
import pytest
import shapely
from hypothesis import HealthCheck, assume, given, settings
from hypothesis import strategies as st

from patterns import (
    LineKind,
    Pattern,
    PatternError,
    Placement,
    example,
    marks_of,
    read_pattern,
    write_pattern,
)
from patterns.changes import EdgeRef, Facing, Join, RaiseNeck, VNeck
from patterns.curves import Array, Curve
from patterns.measures import Length, Unit, in_words
from patterns.parts import Allowance, Bend, Corner, CutCount, Edge, End, Grain, Kind, Notch, Point
from patterns.pattern import KindAllowance, Version
from patterns.piece import Piece
from patterns.seams import cut_line
from patterns.shape import Shape, ShapeEdge, signed_area

BOUNDED = settings(max_examples=60, suppress_health_check=[HealthCheck.too_slow])

units = st.sampled_from(Unit)
names = (
    st.text(st.characters(codec="utf-8", categories=("L", "N", "P", "S", "Zs")), min_size=1, max_size=12)
    .map(lambda text: text.strip().replace("/", ""))
    .filter(lambda text: text != "" and text == text.strip() and text.isprintable())
)


@st.composite
def spelled(draw: st.DrawFn, low: float, high: float, unit: Unit) -> Length:
    """A length from `low` to `high` inches, spelled in one of the ways that people spell."""
    way = draw(st.sampled_from(["bare", "mm", "cm", "in", "fraction", "letter"]))
    inches = draw(st.floats(low, high))
    if way == "bare":
        return Length.of(inches, unit)
    if way in ("mm", "cm", "in"):
        return Length(spelling=f"{inches / float(Unit(way).inches):.3f} {way}", unit=unit)
    whole, eighths = divmod(max(round(inches * 8), 1), 8)
    if way == "letter" and eighths:
        return Length(spelling=f'{whole or ""}{"⅛¼⅜½⅝¾⅞"[eighths - 1]}"', unit=unit)
    return Length(spelling=f"{whole} {eighths}/8 in", unit=unit)


@st.composite
def half_pieces(draw: st.DrawFn, name: str, unit: Unit) -> Piece:
    """A half piece with a neck, a shoulder, a side and a hem, all kinds of spelling and keys in it."""

    def point(x: tuple[float, float], y: tuple[float, float]) -> Point:
        return Point(x=draw(spelled(*x, unit)), y=draw(spelled(*y, unit)))

    nought = Length(spelling="0", unit=unit)
    top = Point(x=nought, y=draw(spelled(3.5, 5, unit)))
    bottom = Point(x=nought, y=draw(spelled(22, 26, unit)))
    neck, tip = point((3, 4), (0, 0.4)), point((8, 10), (1.5, 3))
    corner = point((9, 12), (20, 24))
    allowances = st.one_of(st.none(), spelled(0, 1, unit).map(lambda length: Allowance(parts=(length,))))
    double = st.one_of(allowances, st.just(Allowance(parts=(Length(spelling="1/4 in", unit=unit),) * 2)))
    edges = (
        Edge(name="neck", kind=Kind.SEAM, path=(top, neck), allowance=draw(allowances)),
        Edge(name=draw(names.filter(lambda n: n not in ("neck", "side", "hem", "fold"))), kind=Kind.SEAM,
             path=(neck, tip), bend=draw(st.sampled_from([Bend.STRAIGHT, Bend.SMOOTH]))),
        Edge(name="side", kind=draw(st.sampled_from([Kind.SEAM, Kind.EDGE])),
             path=(tip, point((8, 9), (10, 12)), point((8, 9), (14, 16)), corner), bend=Bend.BEZIER,
             corner=draw(st.sampled_from([None, *Corner])), allowance=draw(allowances)),
        Edge(name="hem", kind=Kind.HEM, path=(corner, bottom), allowance=draw(double)),
        Edge(name="fold", kind=Kind.FOLD, path=(bottom, top)),
    )  # fmt: skip
    notch = Notch(
        edge="side",
        at=draw(spelled(2, 8, unit)),
        from_end=draw(st.sampled_from(End)),
        count=draw(st.integers(1, 3)),
    )
    grain = Grain(start=point((2, 3), (15, 18)), end=point((2, 3), (6, 9)))
    return Piece(
        name=name,
        cut=CutCount(count=draw(st.integers(1, 4)), on_fold=True),
        edges=edges,
        grain=draw(st.sampled_from([None, grain])),
        notches=draw(st.sampled_from([(), (notch,), (notch, notch)])),
    )


@st.composite
def authored(draw: st.DrawFn) -> Pattern:
    """A pattern with two pieces, joins, changes and versions."""
    unit = draw(units)
    first, second = draw(st.lists(names, min_size=2, max_size=2, unique=True))
    assume(f"{first} facing" != second)
    pieces = tuple(draw(half_pieces(name, unit)) for name in (first, second))
    neck = EdgeRef(piece=first, edge="neck")
    changes = (
        VNeck(piece=first, depth=draw(spelled(6, 9, unit)), off=draw(st.booleans())),
        RaiseNeck(piece=second, by=draw(spelled(0.25, 1, unit))),
        Facing(garment=first, of=neck, depth=draw(spelled(1.5, 2.5, unit)),
               below_point=draw(st.none() | spelled(1, 2, unit))),
    )  # fmt: skip
    return Pattern(
        name=draw(names),
        unit=unit,
        allowances=draw(
            st.sampled_from(
                [(), (KindAllowance(kind=Kind.SEAM, allowance=Allowance(parts=(Length.of(0.5, unit),))),)]
            )
        ),
        pieces=pieces,
        joins=(Join(first=EdgeRef(piece=first, edge="side"), second=EdgeRef(piece=second, edge="side")),),
        changes=changes,
        versions=draw(st.sampled_from([(), (Version(name="plain", without=(0, 2)), Version(name="no"))])),
    )


@BOUNDED
@given(authored())
def test_reading_what_was_written_is_identity(pattern: Pattern) -> None:
    with tempfile.TemporaryDirectory() as folder:
        path = Path(folder) / "top.yaml"
        write_pattern(path, pattern)
        assert read_pattern(path) == pattern


@BOUNDED
@given(st.fractions(-1200, 1200), units)
def test_a_computed_length_reads_back_within_a_millionth(inches: Fraction, unit: Unit) -> None:
    assert Length.of(float(inches), unit).inches == pytest.approx(float(inches), abs=1e-6)


@BOUNDED
@given(st.floats(-100, 100), st.sampled_from([8, 16, 32, 64]))
def test_what_is_said_of_a_length_reads_back_to_the_nearest_part(inches: float, parts: int) -> None:
    assert abs(Length(spelling=in_words(inches, parts)).inches - inches) <= 0.5 / parts + 1e-12


@BOUNDED
@given(st.text(max_size=12))
def test_any_text_is_a_length_or_refused(text: str) -> None:
    with contextlib.suppress(PatternError):
        assert math.isfinite(Length(spelling=text).inches)


EXAMPLE = example("harbour overtop").read_text(encoding="utf-8")


@settings(BOUNDED, max_examples=100)
@given(st.integers(0, len(EXAMPLE)), st.integers(0, 40), st.text(st.characters(codec="utf-8"), max_size=6))
def test_a_damaged_file_is_read_or_refused(start: int, cut: int, put: str) -> None:
    with tempfile.TemporaryDirectory() as folder:
        path = Path(folder) / "top.yaml"
        path.write_text(EXAMPLE[:start] + put + EXAMPLE[start + cut :], encoding="utf-8")
        with contextlib.suppress(PatternError):
            assert read_pattern(path).drafted().pieces


@st.composite
def outlines(draw: st.DrawFn, least_width: float = 0.0) -> Shape:
    """A closed outline of smooth and straight edges round a centre, wide enough for its allowances."""
    count = draw(st.integers(3, 7))
    spread = [draw(st.floats(-0.25, 0.25)) for _ in range(count)]
    angles = (np.arange(count) + spread) * 2 * np.pi / count
    radii = np.array([draw(st.floats(6, 12)) for _ in range(count)])
    corners = np.stack([np.cos(angles) * radii, np.sin(angles) * radii], axis=1)
    edges = []
    for i in range(count):
        one, two = corners[i], corners[(i + 1) % count]
        bulge = draw(st.sampled_from([0.0, 0.0, 0.1, -0.08])) * np.hypot(*(two - one))
        across = np.array([two[1] - one[1], one[0] - two[0]]) / np.hypot(*(two - one))
        points = np.stack([one, (one + two) / 2 + across * bulge, two])
        edges.append(
            ShapeEdge(
                name=f"e{i}",
                kind=Kind.SEAM,
                curve=Curve.smooth(points) if bulge else Curve.straight(points[[0, 2]]),
                allowance_in=(draw(st.floats(least_width, 0.75)),),
            )
        )
    return Shape(name="flag", cut=CutCount(), edges=tuple(edges))


def moved(shape: Shape, turn: float, shift: tuple[float, float], mirrored: bool) -> tuple[Shape, Array]:
    """The shape moved rigidly, and the matrix (2, 3) that moves points."""
    cos, sin = math.cos(turn), math.sin(turn)
    matrix = np.array([[cos, -sin, shift[0]], [sin, cos, shift[1]]])
    if mirrored:
        matrix[:, 0] *= -1
    edges = tuple(
        replace(edge, curve=Curve(edge.curve.beziers @ matrix[:, :2].T + matrix[:, 2]))
        for edge in shape.edges
    )
    return replace(shape, edges=edges), matrix


def drawn(shape: Shape) -> Array:
    """Its cut line; a shape whose allowances do not fit is no case."""
    try:
        return cut_line(shape)
    except PatternError:
        assume(False)
        raise


shifts = st.tuples(st.floats(-50, 50), st.floats(-50, 50))


@BOUNDED
@given(outlines(), st.floats(-4, 4), shifts, st.booleans())
def test_rigid_moves_commute_with_the_cut_line(
    shape: Shape, turn: float, shift: tuple[float, float], mirrored: bool
) -> None:
    elsewhere, matrix = moved(shape, turn, shift, mirrored)
    one = shapely.LinearRing(drawn(shape) @ matrix[:, :2].T + matrix[:, 2])
    two = shapely.LinearRing(drawn(elsewhere))
    assert shapely.hausdorff_distance(one, two) < 1e-3
    assert two.length == pytest.approx(one.length, abs=1e-3)


@BOUNDED
@given(outlines())
def test_the_cut_line_is_simple_holds_the_seam_line_and_keeps_its_allowances(shape: Shape) -> None:
    outline = shapely.Polygon(drawn(shape))
    assert outline.is_valid
    for edge in shape.edges:
        middle = edge.curve.point_at(edge.curve.length_in / 2)
        seam = shapely.Point(middle)
        assert outline.buffer(1e-6).covers(seam)
        assert outline.exterior.distance(seam) <= edge.width_in + 1e-3


@BOUNDED
@given(outlines(least_width=0.1), st.floats(0.1, 0.9))
def test_the_cut_line_keeps_the_least_allowance_all_round(shape: Shape, share: float) -> None:
    width = min(edge.width_in for edge in shape.edges) * share
    even = replace(shape, edges=tuple(replace(edge, allowance_in=(width,)) for edge in shape.edges))
    rim = shapely.LinearRing(drawn(even))
    assert shapely.distance(shapely.points(even.ring), rim).min() >= width - 1e-3


@BOUNDED
@given(outlines(), st.floats(0.01, 0.5))
def test_the_area_grows_with_the_allowance(shape: Shape, more: float) -> None:
    wider = replace(
        shape, edges=tuple(replace(edge, allowance_in=(edge.width_in + more,)) for edge in shape.edges)
    )
    seam, less, full = (abs(signed_area(ring)) for ring in (shape.ring, drawn(shape), drawn(wider)))
    assert seam <= less + 1e-9 < full


@BOUNDED
@given(half_pieces("front", Unit.IN))
def test_the_fold_stays_on_the_centre_line(piece: Piece) -> None:
    pattern = Pattern(name="top", pieces=(piece,))
    try:
        drafted = pattern.drafted().pieces["front"]
    except PatternError:
        assume(False)
        raise
    assert drafted.cut_line[[0, -1], 0].tolist() == [0, 0]
    assert (drafted.cut_line[1:-1, 0] >= 0).all()
    opened = marks_of(drafted, Placement(opened=True)).of_kind(LineKind.CUT)[0].points
    assert shapely.Polygon(opened).is_valid


@BOUNDED
@given(st.integers(0, 4000), st.integers(0, 400), st.integers(0, 400), st.integers(1, 200))
def test_a_file_in_mm_equals_the_file_in_inches(side: int, down: int, out: int, allowance: int) -> None:
    """In tenths of a millimetre; inches to nine decimals."""
    numbers = {"width": 1500 + out, "neck": 700 + down, "bottom": 5000 + side, "hem": 2000 + out}

    def text(unit: str) -> str:
        def say(tenths: int) -> str:
            return f"{tenths / 10:.1f}" if unit == "mm" else f"{tenths / 254:.9f}"

        w, n, b, h = (say(numbers[key]) for key in ("width", "neck", "bottom", "hem"))
        return (
            f"pattern: top\nunit: {unit}\nallowance: {{seam: {say(allowance)}, hem: {say(100)}}}\npieces:\n"
            f"  front:\n    cut: 1 on fold\n    edges:\n"
            f"      - {{name: neck, kind: seam, path: [[0, {n}], [{say(600)}, {n}], [{say(900)}, {say(500)}],"
            f" [{say(900)}, 0]], curve: bezier}}\n"
            f"      - {{name: side, kind: seam, path: [[{say(900)}, 0], [{w}, {say(1800)}], [{h}, {b}]],"
            f" curve: smooth}}\n"
            f"      - {{name: hem, kind: hem, path: [[{h}, {b}], [0, {b}]]}}\n"
            f"      - {{name: fold, kind: fold, path: [[0, {b}], [0, {n}]]}}\n"
        )

    with tempfile.TemporaryDirectory() as folder:
        lines = []
        for unit in ("mm", "in"):
            path = Path(folder) / f"{unit}.yaml"
            path.write_text(text(unit), encoding="utf-8")
            lines.append(read_pattern(path).drafted().pieces["front"].cut_line)
    assert lines[0] == pytest.approx(lines[1], abs=1e-6)


placements = st.builds(
    Placement,
    x_in=st.floats(-100, 100),
    y_in=st.floats(-100, 100),
    turn_deg=st.floats(-720, 720),
    mirrored=st.booleans(),
)
clouds = st.lists(st.tuples(st.floats(-50, 50), st.floats(-50, 50)), min_size=2, max_size=6).map(
    lambda points: np.array(points, dtype=np.float64)
)


@BOUNDED
@given(placements, clouds)
def test_a_placement_is_rigid_and_can_be_undone(placement: Placement, points: Array) -> None:
    placed = placement.placed(points)
    assert placement.lifted(placed) == pytest.approx(points, abs=1e-9)
    apart = np.hypot(*np.diff(points, axis=0).T)
    assert np.hypot(*np.diff(placed, axis=0).T) == pytest.approx(apart, abs=1e-9)
    turned_over = np.linalg.det(np.stack([placement.direction(np.array(axis)) for axis in ([1, 0], [0, 1])]))
    assert turned_over == pytest.approx(1 if placement.mirrored else -1)


@BOUNDED
@given(outlines(), st.floats(0.05, 0.95), st.floats(0.0, 1.0))
def test_the_parts_of_an_edge_are_as_long_as_the_whole(shape: Shape, part: float, at: float) -> None:
    for edge in shape.edges:
        whole = edge.curve.length_in
        cut = whole * part
        first, second = edge.curve.between(0, cut), edge.curve.between(cut, whole)
        assert first.length_in + second.length_in == pytest.approx(whole, abs=1e-6)
        assert edge.curve.reversed().point_at(whole * at) == pytest.approx(
            edge.curve.point_at(whole * (1 - at)), abs=1e-6
        )
