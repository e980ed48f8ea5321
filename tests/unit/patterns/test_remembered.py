"""What is remembered while a pattern is changed: the pattern drafted through it is the one drafted from nothing."""

import dataclasses
import sys
from collections.abc import Iterator, Mapping
from dataclasses import replace
from pathlib import Path

import numpy as np
import pytest

from patterns import DraftedPattern, Pattern, PatternError, example, read_pattern
from patterns.changes.change_list import with_change_switched
from patterns.curves import Curve
from patterns.cutting.placement import Placement
from patterns.files.writer import write_pattern
from patterns.tracing.laid_piece import LaidPiece

SAME_IN = 1e-9
PULLS = 2
FAR_IN = 0.4  # a pull, at most


def forget_all() -> None:
    """As in a program just begun: nothing is remembered of what was drafted."""
    for name in [name for name in sys.modules if name.split(".")[0] == "patterns"]:
        for value in list(vars(sys.modules[name]).values()):
            if hasattr(value, "cache_clear"):
                value.cache_clear()


def anew(pattern: Pattern, version: str | None, folder: Path) -> DraftedPattern:
    """The pattern written, read and drafted, all from nothing."""
    path = folder / "pulled.yaml"
    write_pattern(path, pattern)
    forget_all()
    return read_pattern(path).drafted(version)


def strays(one: object, other: object, at: str = "") -> Iterator[str]:
    """Where two drafts differ, by name."""
    if isinstance(one, Curve) and isinstance(other, Curve):
        yield from strays(one.points, other.points, at)
    elif isinstance(one, np.ndarray) and isinstance(other, np.ndarray):
        if one.shape != other.shape or not np.allclose(one, other, rtol=0, atol=SAME_IN):
            yield at
    elif dataclasses.is_dataclass(one):
        for field in dataclasses.fields(one):
            yield from strays(getattr(one, field.name), getattr(other, field.name), f"{at}.{field.name}")
    elif isinstance(one, Mapping) and isinstance(other, Mapping):
        if list(one) != list(other):
            yield at
        for name in one.keys() & other.keys():
            yield from strays(one[name], other[name], f"{at}[{name}]")
    elif isinstance(one, tuple) and isinstance(other, tuple):
        if len(one) != len(other):
            yield at
        for i, (here, there) in enumerate(zip(one, other, strict=False)):
            yield from strays(here, there, f"{at}[{i}]")
    elif one != other and not (isinstance(one, float) and one == pytest.approx(other, abs=SAME_IN)):
        yield f"{at}: {one} {other}"


def pulls(pattern: Pattern, piece: int) -> Iterator[Pattern]:
    """The pattern with each point of a piece pulled, one after the other and PULLS times about."""
    chance = np.random.default_rng(piece)
    for number in range(len(LaidPiece(piece=pattern.pieces[piece], placement=Placement()).points)):
        for _ in range(PULLS):
            laid = LaidPiece(piece=pattern.pieces[piece], placement=Placement())
            x, y = laid.places_in[number] + chance.uniform(-FAR_IN, FAR_IN, 2)
            try:
                made = laid.moved(number, (float(x), float(y))).piece
            except PatternError:
                continue
            pieces = (*pattern.pieces[:piece], made, *pattern.pieces[piece + 1 :])
            pattern = replace(pattern, pieces=pieces)
            yield pattern


@pytest.mark.parametrize("piece", [0, 1])
def test_a_pulled_pattern_is_drafted_as_one_that_was_just_read(piece: int, tmp_path: Path) -> None:
    forget_all()
    pattern = read_pattern(example("harbour overtop"))
    pattern.drafted()
    through = [(one, one.drafted()) for one in pulls(pattern, piece)]
    assert len(through) > 15
    for one, drafted in through:
        assert list(strays(drafted, anew(one, None, tmp_path))) == []


def test_a_change_switched_off_and_on_is_drafted_as_one_that_was_just_read(tmp_path: Path) -> None:
    pattern = read_pattern(example("harbour overtop"))
    for number in (0, 1, 2, 0, 3, 1):
        pattern = with_change_switched(pattern, number)
        drafted = pattern.drafted("low back")
        assert list(strays(drafted, anew(pattern, "low back", tmp_path))) == []


def test_names_are_looked_up_again_where_one_of_them_differs() -> None:
    pattern = read_pattern(example("harbour overtop"))
    front, *others = pattern.pieces
    renamed = LaidPiece(piece=front, placement=Placement()).renamed(1, "top").piece
    for _ in range(2):
        with pytest.raises(PatternError, match='found "front/overarm"; wanted an edge of front: neck, top'):
            replace(pattern, pieces=(renamed, *others))
        with pytest.raises(
            PatternError, match='found "front facing/overarm"; wanted a piece of this pattern'
        ):
            replace(pattern, changes=pattern.changes[:2])
        assert replace(pattern, pieces=pattern.pieces) == pattern


def test_points_that_can_be_pulled_are_those_of_the_piece_as_it_is() -> None:
    laid = LaidPiece(piece=read_pattern(example("harbour overtop")).pieces[0], placement=Placement())
    edges = [point.edge for point in laid.points]
    more = laid.inserted((9.0, -2.0))
    assert [point.edge for point in more.points] == sorted([*edges, 1])
    assert [point.edge for point in laid.points] == edges


def test_a_difference_would_be_seen() -> None:
    drafted = read_pattern(example("harbour overtop")).drafted()
    front = drafted.pieces["front"]
    cut = front.cut_line + np.array([0.0, 1e-8])
    other = replace(drafted, pieces={**drafted.pieces, "front": replace(front, cut_line=cut)})
    assert list(strays(drafted, other)) == [".pieces[front].cut_line"]
