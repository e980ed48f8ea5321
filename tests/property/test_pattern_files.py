"""Laws that hold for every pattern file and length."""

import contextlib
import math
import tempfile
from fractions import Fraction
from pathlib import Path

import pytest
from hypothesis import HealthCheck, assume, given, settings
from hypothesis import strategies as st

from patterns import (
    Pattern,
    PatternError,
    example,
    read_pattern,
    write_pattern,
)
from patterns.changes import (
    Binding,
    Change,
    EdgeRef,
    Facing,
    Join,
    Lengthen,
    Narrow,
    Place,
    RaiseNeck,
    VNeck,
)
from patterns.measures import Length, Unit, in_words
from patterns.parts import Allowance, Bend, Corner, CutCount, Edge, End, Grain, Kind, Notch, Point
from patterns.pattern import KindAllowance, Version
from patterns.piece import Piece

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
    changes: tuple[Change, ...] = (
        VNeck(piece=first, depth=draw(spelled(6, 9, unit)), off=draw(st.booleans())),
        RaiseNeck(piece=second, by=draw(spelled(0.25, 1, unit))),
        Facing(garment=first, of=neck, depth=draw(spelled(1.5, 2.5, unit)),
               shoulder=draw(st.none() | spelled(1, 2, unit)), below_point=draw(st.none() | spelled(1, 2, unit))),
        Lengthen(by=draw(spelled(0.25, 2, unit)), at=draw(st.none() | spelled(12, 18, unit)),
                 pieces=draw(st.sampled_from([(first,), (second, first)]))),
        Narrow(by=draw(spelled(0.25, 1, unit)), at=draw(st.sampled_from(Place)), pieces=(first, second)),
        Binding(edges=draw(st.sampled_from([(neck,), (EdgeRef(piece=second, edge="neck"), neck)])),
                width=draw(spelled(0.25, 1, unit)), doubled=draw(st.booleans())),
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
        joins=(
            Join(
                first=EdgeRef(piece=first, edge="side"),
                second=EdgeRef(piece=second, edge="side"),
                ease=draw(st.none() | spelled(0.1, 1, unit)),
            ),
        ),
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
