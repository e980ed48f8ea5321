"""The list of changes edited: versions, which know changes by number, keep meaning the same ones."""

from dataclasses import replace

import pytest

from patterns import PatternError, example, read_pattern
from patterns.changes import LowerNeck, RaiseNeck
from patterns.changes.change_list import (
    is_on,
    with_change,
    with_change_added,
    with_change_moved,
    with_change_switched,
    without_change,
)
from patterns.changes.said_change import said_change
from patterns.files.editing import respelled
from patterns.measures import Length
from patterns.pattern import Pattern

OVERTOP = read_pattern(example("harbour overtop"))
V, RAISE, FRONT_FACING, BACK_FACING = OVERTOP.changes
LOWER = LowerNeck(piece="back", by=Length(spelling="1/2 in"))


def without(pattern: Pattern) -> dict[str, tuple[int, ...]]:
    return {version.name: version.without for version in pattern.versions}


def test_a_change_takes_anothers_place() -> None:
    higher = RaiseNeck(piece="back", by=Length(spelling="1 in"))
    edited = with_change(OVERTOP, 1, higher)
    assert edited.changes == (V, higher, FRONT_FACING, BACK_FACING)
    assert edited.versions == OVERTOP.versions


@pytest.mark.parametrize(
    ("number", "expected"),
    [(0, (1, 2)), (1, (0, 2)), (2, (0, 1)), (4, (0, 1))],
)
def test_an_added_change_is_in_every_version(number: int, expected: tuple[int, int]) -> None:
    edited = with_change_added(OVERTOP, number, LOWER)
    assert edited.changes[number] is LOWER
    assert without(edited) == {"round neck": (expected[0],), "low back": (expected[1],)}
    assert without_change(edited, number) == OVERTOP


def test_a_change_taken_out_is_no_longer_left_out_of_a_version() -> None:
    edited = without_change(OVERTOP, 0)
    assert edited.changes == (RAISE, FRONT_FACING, BACK_FACING)
    assert without(edited) == {"round neck": (), "low back": (0,)}


def test_a_facing_taken_out_takes_its_joins_along() -> None:
    """The facings' shoulders are joined in the file; without one of the two there is nothing to join."""
    edited = without_change(OVERTOP, 2)
    assert [str(join.first) for join in edited.joins] == ["front/overarm", "front/side"]
    bound = with_change(OVERTOP, 3, said_change("binding back/neck, width 1/4 in", OVERTOP.unit))
    assert edited.joins == bound.joins == OVERTOP.joins[:2]
    assert without_change(OVERTOP, 0).joins == OVERTOP.joins
    path = example("harbour overtop")
    text = path.read_text(encoding="utf-8")
    lines = respelled(text, path, OVERTOP, edited).splitlines()
    assert set(text.splitlines()) - set(lines) == {
        "  - [front facing/overarm, back facing/overarm]",
        "  - {facing: front, of: front/neck, depth: 2 1/2 in, below point: 2 in}",
    }


def test_a_moved_change_takes_its_number_along_and_comes_back() -> None:
    edited = with_change_moved(OVERTOP, 0, 1)
    assert edited.changes == (RAISE, V, FRONT_FACING, BACK_FACING)
    assert without(edited) == {"round neck": (1,), "low back": (0,)}
    assert with_change_moved(edited, 1, 0) == OVERTOP


def test_switched_everywhere_and_back() -> None:
    edited = with_change_switched(OVERTOP, 1)
    assert edited.changes[1] == replace(RAISE, off=True)
    assert not is_on(edited, 1)
    assert with_change_switched(edited, 1) == OVERTOP


def test_switched_in_one_version_alone() -> None:
    edited = with_change_switched(OVERTOP, 1, "round neck")
    assert edited.changes == OVERTOP.changes
    assert without(edited) == {"round neck": (0, 1), "low back": (1,)}
    assert is_on(edited, 1)
    assert not is_on(edited, 1, "round neck")
    assert with_change_switched(edited, 1, "round neck") == OVERTOP


def test_what_is_off_everywhere_comes_on_in_the_version_too() -> None:
    off = with_change_switched(OVERTOP, 0)
    assert not is_on(off, 0, "round neck")
    assert is_on(with_change_switched(off, 0, "round neck"), 0, "round neck")
    assert is_on(with_change_switched(off, 0, "low back"), 0, "low back")


def test_an_unknown_version_is_refused() -> None:
    with pytest.raises(PatternError, match='no version "second act"'):
        with_change_switched(OVERTOP, 0, "second act")
