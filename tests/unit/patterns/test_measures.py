from decimal import Decimal
from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from patterns import PatternError
from patterns.measures import Length, Unit, in_words, inches


@pytest.mark.parametrize(
    ("spelling", "unit", "exact"),
    [
        ("1/2 in", Unit.MM, Fraction(1, 2)),
        ("1 1/4 in", Unit.IN, Fraction(5, 4)),
        ("1-1/4 in", Unit.IN, Fraction(5, 4)),
        ("1¼ in", Unit.IN, Fraction(5, 4)),
        ("½", Unit.IN, Fraction(1, 2)),
        ("3\N{FRACTION SLASH}8 in", Unit.IN, Fraction(3, 8)),
        ('5/8"', Unit.MM, Fraction(5, 8)),
        ("15mm", Unit.IN, Fraction(150, 254)),
        ("15 MM", Unit.IN, Fraction(150, 254)),
        ("1.5 cm", Unit.IN, Fraction(150, 254)),
        ("25.4", Unit.MM, Fraction(1)),
        ("2.54", Unit.CM, Fraction(1)),
        (".5", Unit.IN, Fraction(1, 2)),
        ("3.", Unit.IN, Fraction(3)),
        ("-3 1/2", Unit.IN, Fraction(-7, 2)),
        ("\N{MINUS SIGN}3", Unit.IN, Fraction(-3)),
        ("2 inches", Unit.CM, Fraction(2)),
        ("0", Unit.IN, Fraction(0)),
        ("1200 in", Unit.IN, Fraction(1200)),
    ],
)
def test_a_length_is_exact_and_keeps_its_spelling(spelling: str, unit: Unit, exact: Fraction) -> None:
    length = Length(spelling=spelling, unit=unit)
    assert length.exact_inches == exact
    assert length.spelling == str(length) == spelling


WANTED = 'wanted a length such as "1/2 in", "1 1/4 in", "15 mm" or "1.5 cm"'


@pytest.mark.parametrize(
    ("spelling", "sentence"),
    [
        ("", f"found no length at all; {WANTED}"),
        ("   ", f"found no length at all; {WANTED}"),
        ("-", f'found "-"; {WANTED}'),
        ("nan", f'found "nan"; {WANTED}'),
        ("inf", f'found "inf"; {WANTED}'),
        ("1:30", f'found "1:30"; {WANTED}'),
        ("1/2/3", f'found "1/2/3"; {WANTED}'),
        ("1.5.2", f'found "1.5.2"; {WANTED}'),
        ("½½", f'found "½½"; {WANTED}'),
        ("1,5 cm", f'found "1,5 cm"; {WANTED}, with a point and no comma: "1.5 cm"'),
        ("1/0 in", 'found "1/0 in"; wanted a fraction that is not divided by nothing'),
        ("5 ft", 'found "5 ft"; wanted a length in inches, cm or mm'),
        ("1e3", 'found "1e3"; wanted a length in inches, cm or mm'),
        (
            "9999 in",
            'found "9999 in"; wanted a length of at most 1200 in; check its unit and decimal point',
        ),
        ("1" * 41, f'found "{"1" * 40}"; {WANTED}'),
    ],
)
def test_nonsense_is_refused_with_a_sentence(spelling: str, sentence: str) -> None:
    with pytest.raises(PatternError) as refused:
        inches(spelling)
    assert str(refused.value) == sentence


@pytest.mark.parametrize(
    ("length_in", "parts", "words"),
    [
        (0.0, 16, "0 in"),
        (0.03, 16, "0 in"),
        (0.04, 16, "1/16 in"),
        (1.26, 16, "1 1/4 in"),
        (1.99, 16, "2 in"),
        (0.39, 8, "3/8 in"),
        (0.69, 8, "3/4 in"),
        (-0.51, 16, "-1/2 in"),
        (-1.25, 8, "-1 1/4 in"),
    ],
)
def test_inches_are_said_to_the_nearest_part(length_in: float, parts: int, words: str) -> None:
    assert in_words(length_in, parts) == words


@pytest.mark.parametrize(
    ("spelling", "unit", "words"),
    [("15", Unit.MM, "15 mm"), ("½", Unit.IN, "½ in"), ("15mm", Unit.IN, "15mm"), ('5/8"', Unit.CM, '5/8"')],
)
def test_words_say_the_unit(spelling: str, unit: Unit, words: str) -> None:
    assert Length(spelling=spelling, unit=unit).words == words


@pytest.mark.parametrize(
    ("length_in", "unit", "spelling"),
    [(0.5, Unit.MM, "12.7"), (0.0, Unit.IN, "0"), (-0.0, Unit.IN, "0"), (1 / 3, Unit.IN, "0.333333")],
)
def test_a_computed_length_is_spelled_in_the_files_unit(length_in: float, unit: Unit, spelling: str) -> None:
    assert Length.of(length_in, unit).spelling == spelling


@given(
    st.decimals(min_value=-40, max_value=40, places=9),
    st.sampled_from(list(Unit)),
)
def test_inches_are_the_nearest_to_the_exact_ones(number: Decimal, unit: Unit) -> None:
    length = Length(spelling=f"{number:f}", unit=unit)
    assert length.exact_inches == Fraction(number) * unit.inches
    assert length.inches == float(length.exact_inches)
