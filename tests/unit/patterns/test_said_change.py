"""A change said on one line is the change; what is no change is refused with a sentence."""

import pytest

from patterns import PatternError, example, read_pattern
from patterns.changes import (
    Average,
    Binding,
    Change,
    EdgeRef,
    NotchAll,
    NotchSeam,
    Place,
    Walk,
    Widen,
    spelled,
)
from patterns.changes.said_change import said_change
from patterns.measures import Length, Unit

MADE: tuple[Change, ...] = (
    *read_pattern(example("harbour overtop")).changes,
    Widen(by=Length(spelling="1/4"), at=Place.SIDE, pieces=("front", "yoke")),
    Binding(
        edges=(EdgeRef(piece="front", edge="neck"), EdgeRef(piece="back", edge="neck")),
        width=Length(spelling="3/8 in"),
        doubled=True,
        off=True,
    ),
    NotchAll(),
    NotchSeam(
        edges=(EdgeRef(piece="front", edge="side"), EdgeRef(piece="back", edge="side")), walked=Walk.AGAINST
    ),
    Average(pieces=("front", "front left"), use="front left"),
)


@pytest.mark.parametrize("change", MADE, ids=lambda change: spelled(change))
def test_what_is_spelled_is_read_back(change: Change) -> None:
    assert said_change(spelled(change), Unit.IN) == change


def test_capitals_are_kept_in_names_and_no_matter_elsewhere() -> None:
    change = said_change("Neck V, PIECE Front Yoke, Depth 8 IN", Unit.IN)
    assert change == said_change("neck v, piece Front Yoke, depth 8 IN", Unit.IN)
    assert "piece Front Yoke" in spelled(change)


def test_a_bare_number_takes_the_unit() -> None:
    change = said_change("raise neck 20, piece back", Unit.MM)
    assert change == said_change("raise neck 20 mm, piece back".replace(" mm", ""), Unit.MM)
    assert "20" in spelled(change)


@pytest.mark.parametrize(
    ("text", "sentence"),
    [
        ("", 'no change begins with ""'),
        ("pleat 1 in", 'no change begins with "pleat 1 in"'),
        ("neck heart, piece front, depth 8 in", "wanted a shape of neck: v, round, scoop or square"),
        ("neck v, piece front", "neck change without depth"),
        ("neck v, piece front, depth 8 in, slope 3", 'neck has no "slope 3"; it may have piece, depth'),
        ("neck v, piece front, depth deep", 'found "deep"; wanted a length such as'),
        ("neck v, piece front, depth 0 in", "wanted a depth of more than nothing"),
        ("widen 1/4 in, at hip", "fold or side"),
        ("binding front, width 1/4 in", "an edge, piece/edge"),
    ],
)
def test_what_is_no_change_is_refused(text: str, sentence: str) -> None:
    with pytest.raises(PatternError) as refused:
        said_change(text, Unit.IN)
    assert sentence in str(refused.value)
