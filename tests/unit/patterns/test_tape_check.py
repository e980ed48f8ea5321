import math

import pytest

from patterns import PatternError, example, read_pattern
from patterns.checks.half_measures import captured, captured_in, girth_in, width_in
from patterns.checks.tape_check import Taped, read_taped, tape_checks
from patterns.measures import Length, Unit
from patterns.parts import CutCount, Edge, Kind, Point
from patterns.piece import Piece

CORNERS = ((0.0, 3.0), (4.0, 0.0), (16.0, 3.5), (14.5, 9.0), (10.0, 11.0), (13.0, 25.0), (0.0, 27.0))


def path(*pairs: tuple[float, float]) -> tuple[Point, ...]:
    return tuple(Point(x=Length.of(x), y=Length.of(y)) for x, y in pairs)


def half(name: str = "front", wider: float = 0.0) -> Piece:
    """A half piece of straight lines, every measure of which can be worked out by hand."""
    top, shoulder, tip, cuff, under, side, bottom = ((x + wider * (x > 0), y) for x, y in CORNERS)
    edges = (
        Edge(name="neck", kind=Kind.SEAM, path=path(top, shoulder)),
        Edge(name="overarm", kind=Kind.SEAM, path=path(shoulder, tip)),
        Edge(name="sleeve hem", kind=Kind.HEM, path=path(tip, cuff)),
        Edge(name="side", kind=Kind.SEAM, path=path(cuff, under, side)),
        Edge(name="hem", kind=Kind.HEM, path=path(side, bottom)),
        Edge(name="centre front", kind=Kind.FOLD, path=path(bottom, top)),
    )
    return Piece(name=name, cut=CutCount(on_fold=True), edges=edges)


def taped(what: str, length: str, drop: str = "") -> Taped:
    return Taped(what=what, length=Length(spelling=length), drop=Length(spelling=drop) if drop else None)


@pytest.mark.parametrize(
    ("what", "expected"),
    [
        ("hem width", math.hypot(13, 2)),
        ("sleeve opening", math.hypot(1.5, 5.5)),
        ("body length", 25 + 2 * 9 / 13),
        ("centre length", 24.0),
        ("centre to sleeve hem", 16.0),
        ("neck width", 4.0),
        ("neck depth", 3.0),
    ],
)
def test_measures_are_as_worked_out_by_hand(what: str, expected: float) -> None:
    assert captured_in(half(), what) == pytest.approx(expected, abs=1e-9)


@pytest.mark.parametrize(
    ("drop", "expected"), [("12 in", 10 + 3 / 14), ("18 in", 11.5), ("24 in", 13 - 3 / 14)]
)
def test_widths_at_a_drop_run_from_the_fold_to_the_side(drop: str, expected: float) -> None:
    for what in ("half bust", "half hip"):
        assert captured_in(half(), what, Length(spelling=drop)) == pytest.approx(expected, abs=1e-9)


@pytest.mark.parametrize("drop", [2.0, 6.0, 26.5, 40.0])
def test_a_drop_at_neck_sleeve_or_below_the_hem_is_refused(drop: float) -> None:
    with pytest.raises(PatternError) as refused:
        width_in(half(), drop)
    assert "give a drop below the neck and the underarm, and above the hem" in str(refused.value)


def test_21_girth_is_twice_both_halves() -> None:
    """Plain geometry: halves of 13 and 13 make 52."""
    front, back = half(wider=1.5), half("back", wider=1.5)
    assert girth_in(front, back, 18.0) == pytest.approx(52.0, abs=1e-9)


def test_a_16th_on_both_halves_changes_the_girth_by_a_quarter() -> None:
    """Plain geometry: a fold 1/16 off on front and back changes the girth by 2 x (1/16 + 1/16)."""
    wide = girth_in(half(wider=1 / 16), half("back", wider=1 / 16), 18.0)
    assert wide - girth_in(half(), half("back"), 18.0) == pytest.approx(0.25, abs=1e-9)


@pytest.mark.parametrize(
    ("length", "warning"),
    [
        ("4 in", ""),
        ("4 1/8 in", ""),
        ("3 7/8 in", ""),
        ("4 1/4 in", "neck width: captured 4 in, taped 4 1/4 in, 1/4 in less than the tape; measure again, then "
                     "pull the outline to where it belongs"),
        ("3 3/4 in", "neck width: captured 4 in, taped 3 3/4 in, 1/4 in more than the tape; measure again, then "
                     "pull the outline to where it belongs"),
    ],
)  # fmt: skip
def test_more_than_an_eighth_is_flagged(length: str, warning: str) -> None:
    """1/8 in (common practice)."""
    (check,) = tape_checks(half(), (taped("neck width", length),))
    assert check.warning == warning


def test_the_drop_is_said_with_the_width() -> None:
    (check,) = tape_checks(half(), (taped("half bust", "12 in", "18 in"),))
    assert check.taped.name == "half bust at 18 in"
    assert check.difference_in == pytest.approx(-0.5)
    assert check.warning.startswith("half bust at 18 in: captured 11 1/2 in, taped 12 in, 1/2 in less")


@pytest.mark.parametrize(
    ("what", "sentence"),
    [
        ("half bust", "a half bust needs its drop: how far below the high shoulder point it was taped, such as "
                      '"half bust 12 in at 12 in"'),
        ("waist", '"waist" cannot be checked; what can is hem width, sleeve opening, body length, '
                  "centre length, centre to sleeve hem, neck width, neck depth, half bust, half hip, girth"),
    ],
)  # fmt: skip
def test_what_cannot_be_measured_is_refused(what: str, sentence: str) -> None:
    with pytest.raises(PatternError) as refused:
        read_taped(f"{what} 12 in")
    assert str(refused.value) == sentence


def test_an_edge_without_its_name_is_asked_for() -> None:
    piece = half()
    edges = (*piece.edges[:2], Edge(name="cuff", kind=Kind.HEM, path=piece.edges[2].path), *piece.edges[3:])
    with pytest.raises(PatternError) as refused:
        captured_in(Piece(name="front", cut=piece.cut, edges=edges), "sleeve opening")
    assert str(refused.value) == "front has no sleeve hem to be measured; name its edges first"


def test_the_example_measures_as_it_is_drawn() -> None:
    front = read_pattern(example("harbour overtop")).pieces[0]
    assert captured_in(front, "neck width") == pytest.approx(3.5)
    assert captured_in(front, "centre length") == pytest.approx(25.6 - 3.75)
    assert captured_in(front, "half hip", Length(spelling="16 in")) == pytest.approx(10.8, abs=0.05)


@pytest.mark.parametrize(
    ("text", "name", "length_in", "unit"),
    [
        ("hem width 21 1/4 in", "hem width", 21.25, Unit.IN),
        ("Half bust 19 at 12 in", "half bust at 12 in", 19.0, Unit.IN),
        ("half  bust 48,5 at 30".replace(",", "."), "half bust at 30 cm", 48.5 / 2.54, Unit.CM),
        ("sleeve opening 5¾ in", "sleeve opening", 5.75, Unit.CM),
        ("neck depth ½ in", "neck depth", 0.5, Unit.IN),
        (" centre to sleeve hem .5 in ", "centre to sleeve hem", 0.5, Unit.IN),
        ("girth 96cm at 300 mm", "girth at 300 mm", 96 / 2.54, Unit.IN),
    ],
)
def test_what_a_tape_said_is_read_as_people_write_it(
    text: str, name: str, length_in: float, unit: Unit
) -> None:
    found = read_taped(text, unit)
    assert found.name == name
    assert found.length.inches == pytest.approx(length_in)


@pytest.mark.parametrize(
    ("text", "sentence"),
    [
        (
            "hem width",
            '"hem width" is not a measure such as "hem width 11 1/4 in" or "half bust 19 in at 12 in"',
        ),
        ("12 in", '"12 in" is not a measure such as "hem width 11 1/4 in" or "half bust 19 in at 12 in"'),
        ("hem width 12 in at 3 in", 'a hem width has a place of its own; leave "at 3 in" out'),
        ("hem width 0 in", "a hem width of 0 in is no length to check by"),
        ("hem width 12 ells", 'found "12 ells"; wanted a length in inches, cm or mm'),
    ],
)
def test_what_cannot_be_read_is_refused(text: str, sentence: str) -> None:
    with pytest.raises(PatternError) as refused:
        read_taped(text)
    assert str(refused.value) == sentence


def test_what_was_taped_in_centimetres_is_answered_in_centimetres() -> None:
    (check,) = tape_checks(half(), (read_taped("neck width 9.5 cm"),))
    assert check.warning.startswith("neck width: captured 10.2 cm, taped 9.5 cm, 7 mm more than the tape")


def test_a_girth_goes_round_front_and_back() -> None:
    (check,) = tape_checks(half(), (read_taped("girth 46 in at 18 in"),), half("back"))
    assert check.captured_in == pytest.approx(2 * (11.5 + 11.5))
    with pytest.raises(PatternError) as refused:
        tape_checks(half(), (read_taped("girth 46 in at 18 in"),))
    assert str(refused.value) == (
        "a girth goes round front and back, and there is front alone; trace the other one into the same file"
    )


def test_all_that_can_be_measured_is_told_unasked() -> None:
    """The underarm is at 11 in and the side ends at 25 in: 11 in is the first whole inch, 25 in the last."""
    told = dict(captured(half()))
    assert list(told) == [
        *(
            "hem width",
            "sleeve opening",
            "body length",
            "centre length",
            "centre to sleeve hem",
            "neck width",
        ),
        *("neck depth", "half bust at 11 in", "half hip at 25 in"),
    ]
    assert told["half bust at 11 in"] == pytest.approx(10.0)
    both = dict(captured(half(), half("back")))
    assert both["girth at 11 in"] == pytest.approx(40.0)
    assert "half bust at 28 cm" in dict(captured(half(), unit=Unit.CM))


def test_a_piece_without_sleeves_is_measured_where_it_can_be() -> None:
    piece = half()
    edges = (*piece.edges[:2], Edge(name="cuff", kind=Kind.HEM, path=piece.edges[2].path), *piece.edges[3:])
    told = dict(captured(Piece(name="front", cut=piece.cut, edges=edges)))
    assert "sleeve opening" not in told
    assert "hem width" in told
