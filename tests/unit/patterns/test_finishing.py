"""A pattern finished otherwise, its allowances with it."""

import pytest

from patterns import Pattern, example, read_pattern
from patterns.cutting.finish import HemFinish, SeamFinish
from patterns.files.editing import respelled
from patterns.files.reader import pattern_in
from patterns.finishing import finish_words, with_next_hems, with_next_seams

PATH = example("harbour overtop")
OVERTOP = read_pattern(PATH)


def widths(pattern: Pattern) -> tuple[float, float, float]:
    """Of a side, a hem and a facing's outer edge, in inches."""
    pieces = pattern.drafted().pieces
    front, facing = pieces["front"].edges, pieces["front facing"].edges
    return front["side"].allowance_in, front["hem"].allowance_in, facing["outer"].allowance_in


def test_the_seams_go_through_all_finishes_and_their_allowances_with_them() -> None:
    """Also where the file gave the allowances that its finish has: 5/8 and 1/4 in if french (common practice)."""
    told, pattern = [], OVERTOP
    for _ in SeamFinish:
        pattern = with_next_seams(pattern)
        assert pattern.finish is not None
        told.append((pattern.finish.seam.value, *widths(pattern)))
    assert told == [
        ("overcast", 0.5, 0.5, 0.0),
        ("french", 0.625, 0.5, 0.25),
        ("bound", 0.5, 0.5, 0.0),
        ("overlocked", 0.5, 0.5, 0.0),
    ]


def test_a_double_hem_is_folded_twice_and_a_single_one_again_once() -> None:
    double = with_next_hems(OVERTOP)
    assert double.drafted().pieces["front"].edges["hem"].folds_in == (0.25, 0.25)
    single = with_next_hems(double)
    assert single.finish is not None
    assert single.finish.hem is HemFinish.SINGLE
    assert single.drafted().pieces["front"].edges["hem"].folds_in == (0.5,)


@pytest.mark.parametrize("given", ["{seam: 3/4 in, hem: 1/2 in}", "{seam: 3/4 in}"])
def test_an_allowance_of_ones_own_stays_and_is_said(given: str) -> None:
    text = PATH.read_text(encoding="utf-8").replace("{seam: 1/2 in, hem: 1/2 in, edge: 0}", given)
    pattern = pattern_in(text, PATH)
    french = with_next_seams(with_next_seams(pattern))
    assert widths(french) == (0.75, 0.5, 0.25)
    assert finish_words(french) == "seams french, hems single; allowances given: seam 3/4 in"
    assert finish_words(pattern) == ""


def test_a_hem_that_was_given_as_a_double_one_stays_so() -> None:
    text = PATH.read_text(encoding="utf-8").replace("hem: 1/2 in", "hem: 1/4 in + 1/4 in")
    french = with_next_seams(with_next_seams(pattern_in(text, PATH)))
    assert french.drafted().pieces["front"].edges["hem"].folds_in == (0.25, 0.25)
    assert finish_words(french) == "seams french, hems single; allowances given: hem 1/4 in + 1/4 in"


def test_it_is_put_into_the_file_with_all_else_as_it_was() -> None:
    text = PATH.read_text(encoding="utf-8")
    new = respelled(text, PATH, OVERTOP, with_next_seams(OVERTOP))
    was, now = text.splitlines(), new.splitlines()
    assert set(now) - set(was) == {"finish: {seam: overcast, hem: single}"}
    assert set(was) - set(now) == {"allowance: {seam: 1/2 in, hem: 1/2 in, edge: 0}"}
