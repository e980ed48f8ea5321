"""The same garment as an inch file and as a metric one: what is said of it names its own unit alone."""

import re
from collections.abc import Mapping
from pathlib import Path

import numpy as np
import pytest

from patterns import DraftedPattern, Unit
from patterns.checks.girths import girth_in
from patterns.checks.head_check import head_check
from patterns.cutting.finish import Finish, HemFinish, SeamFinish
from patterns.errors import PatternError
from patterns.measures import Length, said_in
from patterns.paper.card import card
from patterns.paper.drawing import drawing
from patterns.paper.joined import joined_drawing, joined_views
from patterns.saying import Say, lengths_said_in
from patterns.sewing.garment import Garment
from patterns.tracing.outline import half_piece, warnings_of
from tests.unit.patterns.build import pattern_of
from tests.unit.patterns.own_unit import INCH, check_alike, lengths_in
from tests.unit.patterns.smock import smock_text

CHANGES = (
    "{neck: v, piece: front, depth: @8}, {raise neck: @0.75, piece: back}, {lengthen: @0.1, pieces: front}, "
    "{facing: front, of: front/neck, depth: @2.5, below point: @2}, {binding: back/neck, width: @0.25}"
)


def in_unit(text: str, unit: Unit) -> str:
    """The text with every "@8" as a bare number of so many inches."""
    first, *rest = text.split("@")
    numbers = (part.partition(end) for part in rest if (end := next(c for c in part if c in ",}] ")))
    return first + "".join(Length.of(float(a), unit).spelling + end + b for a, end, b in numbers)


def smocks(folder: Path, changes: str = CHANGES, notches: str = "") -> Mapping[Unit, DraftedPattern]:
    """The smock with the changes, in each unit; the front with the notches."""
    drafted = {}
    for unit in Unit:
        text = smock_text(in_unit(changes, unit), unit=unit)
        if notches:
            text = text.replace("  back:\n", f"    notches: [{in_unit(notches, unit)}]\n  back:\n")
        drafted[unit] = pattern_of(folder, text).drafted()
    return drafted


def refusals(folder: Path, changes: str) -> Mapping[Unit, list[str]]:
    """Why the smock cannot be changed so, in each unit."""
    said = {}
    for unit in Unit:
        with pytest.raises(PatternError) as refused:
            pattern_of(folder, smock_text(in_unit(changes, unit), unit=unit)).drafted()
        said[unit] = [str(refused.value)]
    return said


def test_warnings(tmp_path: Path) -> None:
    patterns = smocks(tmp_path, notches="{edge: side, at: @0.5}, {edge: hem, at: @3}")
    warnings = {unit: list(pattern.warnings) for unit, pattern in patterns.items()}
    assert any("differ by" in one for one in warnings[Unit.IN])
    assert any("from a corner" in one for one in warnings[Unit.IN])
    check_alike(warnings)
    (apart,) = (one for one in warnings[Unit.MM] if "differ by" in one)
    assert "differ by 2.5 mm; true them" in apart


def test_a_difference_too_small_for_a_tape_is_never_nothing() -> None:
    """1/16 in is 1.6 mm; and what rounds to 0 mm is said in tenths."""
    assert [said_in(1 / 16, unit, 32) for unit in Unit] == ["1/16 in", "1.6 mm", "1.6 mm"]
    assert [said_in(1 / 100, unit) for unit in Unit] == ["1/64 in", "0.3 mm", "0.3 mm"]
    assert [said_in(0.0, unit) for unit in Unit] == ["0 in", "0 cm", "0 mm"]


def test_what_is_more_than_a_limit_is_never_said_to_be_it() -> None:
    inch, mm = Say(Unit.IN), Say(Unit.MM)
    assert [inch.beyond(1 / 4, length) for length in (0.26, 3 / 8)] == ["a little over 1/4 in", "3/8 in"]
    assert [mm.beyond(1 / 4, length) for length in (0.252, 3 / 8)] == ["a little over 6 mm", "10 mm"]
    assert inch.beyond(1 / 8, 0.13, 32) == "a little over 1/8 in"


def test_an_allowance_is_said_as_it_is() -> None:
    """Half an inch is no 13 mm, 15 mm no 9/16 in; 1/4 and 3/8 in make 5/8 in (French seam) in every unit."""
    cm, mm, among_inches = Say(Unit.CM).allowance, Say(Unit.MM).allowance, Say(Unit.IN).allowance
    assert [cm(1 / 2), mm(1 / 2), mm(1 / 4), mm(0.0)] == ["1.27 cm", "12.7 mm", "6.35 mm", "0 mm"]
    assert [mm(1 / 4), mm(3 / 8), mm(5 / 8)] == ["6.35 mm", "9.53 mm", "15.88 mm"]
    assert [among_inches(15 / 25.4), among_inches(15 / 64), among_inches(0.3001)] == [
        "15 mm",
        "15/64 in",
        "19/64 in",
    ]


def test_a_finish_in_a_metric_file_is_said_as_it_is_cut(tmp_path: Path) -> None:
    pattern = pattern_of(tmp_path, smock_text(unit=Unit.MM)).drafted()
    assert {edge.allowance_in for edge in pattern.pieces["front"].edges.values()} >= {1 / 2}
    told = " ".join(sentence for step in card(pattern) for sentence in step.sentences)
    assert "Right sides together, 12.7 mm from the edge." in told
    assert "Fold up 12.7 mm" in told
    assert "allowance 12.7 mm" in drawing(pattern.pieces["front"], pattern.name, Unit.MM)


@pytest.mark.parametrize("finish", [Finish(), Finish(seam=SeamFinish.FRENCH, hem=HemFinish.DOUBLE)])
def test_the_card(tmp_path: Path, finish: Finish) -> None:
    steps = {unit: card(pattern, finish)[1:] for unit, pattern in smocks(tmp_path).items()}
    check_alike({unit: [s for step in told for s in step.sentences] for unit, told in steps.items()})
    machine = {unit: card(pattern, finish)[0] for unit, pattern in smocks(tmp_path).items()}
    assert not any(INCH.search(sentence) for sentence in machine[Unit.CM].sentences)


def test_the_drawings(tmp_path: Path) -> None:
    """All but the square to hold a rule against, which is a round number of the unit: 2 in, 5 cm, 50 mm."""
    text: dict[Unit, list[str]] = {}
    for unit, pattern in smocks(tmp_path).items():
        words = drawing(pattern.pieces["front"], pattern.name, unit).split("<text")[1:]
        told = [part.partition(">")[2].partition("<")[0] for part in words]
        (square,) = (one for one in told if "square" in one)
        assert square == f"{ {Unit.IN: '2 in', Unit.CM: '5 cm', Unit.MM: '50 mm'}[unit] } square"
        text[unit] = [one for one in told if one != square]
    check_alike(text)


def test_the_joined_view_says_no_length(tmp_path: Path) -> None:
    page = joined_drawing(joined_views(pattern_of(tmp_path, smock_text()).draft()), "Smock")
    said = re.findall(r"<text[^>]*>([^<]+)<", page)
    assert said
    assert not any(map(lengths_in, said))


def test_the_head_and_a_girth(tmp_path: Path) -> None:
    """The V that would do is told in whole steps of each tape: 1/8 in, 5 mm."""
    said: dict[Unit, list[str]] = {}
    for unit, pattern in smocks(tmp_path).items():
        head = head_check(pattern, 28.2, opening_in=0.25)
        assert head is not None
        with pytest.raises(PatternError) as missed:
            girth_in(pattern, 3.0)
        said[unit] = [head.warning, str(missed.value)]
    check_alike(said, leeway_in=1 / 8)
    deep = lengths_in(said[Unit.CM][0])[-1] * 25.4
    assert deep == pytest.approx(round(deep / 5) * 5)


@pytest.mark.parametrize(
    "changes",
    [
        "{neck: v, piece: front, depth: @40}",
        "{raise neck: @6, piece: back}",
        "{lower neck: @30, piece: back}",
        "{widen neck: @20}",
        "{narrow neck: @9}",
        "{shorten: @40}",
        "{shorten sleeve: @30}",
        "{sleeve opening: @60}",
        "{narrow: @30, at: fold}",
        "{narrow: @30, at: side}",
        "{lengthen: @2, at: @1}",
        "{facing: front, of: front/neck, depth: @30}",
        "{facing: front, of: front/neck, depth: @2, below point: @40}",
        "{lengthen: @0.5, pieces: front}, {true up: [front/side, back/side]}",
    ],
)
def test_what_cannot_be_done(tmp_path: Path, changes: str) -> None:
    check_alike(refusals(tmp_path, changes))


def test_an_allowance_that_does_not_fit(tmp_path: Path) -> None:
    said: dict[Unit, list[str]] = {}
    for unit in Unit:
        text = smock_text(unit=unit)
        seam = text.partition("seam: ")[2].partition(",")[0]
        with pytest.raises(PatternError) as refused:
            pattern_of(
                tmp_path, text.replace(f"seam: {seam}", f"seam: {Length.of(4.0, unit).spelling}")
            ).drafted()
        said[unit] = [str(refused.value)]
    check_alike(said)


def test_a_file_s_own_faults_are_told_in_its_unit(tmp_path: Path) -> None:
    said: dict[Unit, list[str]] = {}
    for unit in Unit:
        text = smock_text(unit=unit)
        notch = Length.of(99.0, unit).spelling
        with pytest.raises(PatternError) as refused:
            pattern_of(
                tmp_path, text.replace("  back:\n", f"    notches: [{{edge: hem, at: {notch}}}]\n  back:\n")
            )
        said[unit] = [str(refused.value)]
    check_alike(said)


def test_a_metric_garment_is_sewn_with_the_numbers_of_an_inch_one(tmp_path: Path) -> None:
    made = {unit: Garment(pattern=pattern, finish=Finish()) for unit, pattern in smocks(tmp_path).items()}
    lengths = {unit: [one.first_in for one in garment.seams] for unit, garment in made.items()}
    assert lengths[Unit.CM] == pytest.approx(lengths[Unit.IN], abs=1e-6)
    assert lengths[Unit.MM] == pytest.approx(lengths[Unit.IN], abs=1e-6)


def test_a_garment_traced_into_a_metric_file() -> None:
    """What is refused of an outline, and what is to be looked at, is said as the file is written."""
    crossed = np.array([(0, 0), (10, 20), (10, 0), (0, 20)], dtype=np.float64)
    small = crossed[[0, 2, 1, 3]] / 100
    refused: dict[Unit, list[str]] = {unit: [] for unit in Unit}
    for unit in Unit:
        for contour in (crossed, small):
            with pytest.raises(PatternError) as why, lengths_said_in(unit):
                half_piece(contour, noise_in=0.01, unit=unit)
            refused[unit].append(str(why.value))
    check_alike(refused)
    check_alike({unit: warnings_of(0.3, 0.2, 0.1, Say(unit)) for unit in Unit})


def test_a_length_beyond_any_table_is_refused_in_its_unit() -> None:
    refused: dict[Unit, list[str]] = {}
    for unit in Unit:
        with pytest.raises(PatternError) as why:
            Length(spelling=f"999999 {unit.value}")
        refused[unit] = [str(why.value).partition("wanted")[2]]
    check_alike(refused)
