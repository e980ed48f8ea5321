import pytest

from patterns.measures import Length, Unit
from patterns.stepping import step_words, stepped


@pytest.mark.parametrize(
    ("spelling", "unit", "steps", "fine", "expected"),
    [
        ("8 in", Unit.IN, 1, False, "8 1/8 in"),
        ("8", Unit.IN, -1, True, "7 15/16"),
        ("7/8 in", Unit.IN, 1, False, "1 in"),
        ('2 1/2"', Unit.MM, 3, True, '2 11/16"'),
        ("½ in", Unit.IN, 1, False, "5/8 in"),
        ("1-1/4 in", Unit.IN, 1, True, "1 5/16 in"),
        ("1/16 in", Unit.IN, -2, True, "-1/16 in"),
        ("1/8 in", Unit.IN, -1, False, "0 in"),
        ("2.3 in", Unit.IN, 1, False, "2.425 in"),
        ("15 mm", Unit.IN, 1, False, "20 mm"),
        ("15", Unit.MM, -1, True, "14"),
        ("1.5cm", Unit.IN, 1, True, "1.6cm"),
        ("20.3", Unit.CM, 1, False, "20.8"),
    ],
)
def test_a_step_is_of_the_tape_that_the_author_used(
    spelling: str, unit: Unit, steps: int, fine: bool, expected: str
) -> None:
    length = Length(spelling=spelling, unit=unit)
    there = stepped(length, steps, fine=fine)
    assert (there.spelling, there.unit) == (expected, unit)
    assert stepped(there, -steps, fine=fine).exact_inches == length.exact_inches


def test_steps_are_said_in_the_unit() -> None:
    assert [step_words(unit, fine=True) for unit in Unit] == ["1/16 in", "0.1 cm", "1 mm"]
