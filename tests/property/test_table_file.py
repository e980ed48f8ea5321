"""Whatever is known of a table is read as it was written, whatever its set-ups are called."""

import tempfile
from dataclasses import replace
from datetime import datetime, timedelta, timezone
from pathlib import Path

from hypothesis import given, settings
from hypothesis import strategies as st

from calibration.table.setups import MOST_LETTERS, PastAlignment, Setup, TableFile
from calibration.table.table_file import load_table, save_table
from calibration.trust.closed_loop import LoopTest
from calibration.trust.drift import DriftTest
from calibration.trust.ruler_test import MISREAD_SHARE, RulerTest
from calibration.trust.surface import Surface
from tests.unit.projector.samples import an_alignment

names = st.text(min_size=1, max_size=MOST_LETTERS).filter(lambda name: name.strip() and name.isprintable())
zones = st.integers(-12 * 60, 14 * 60).map(lambda minutes: timezone(timedelta(minutes=minutes)))
dates = st.datetimes(datetime(2000, 1, 1), datetime(2100, 1, 1), timezones=zones).map(
    lambda date: date.replace(microsecond=0)
)
words = st.text(st.characters(codec="utf-8", exclude_categories=["Cc", "Cs"]), min_size=1, max_size=60)
shares = st.floats(0, 1)


@st.composite
def taped(draw: st.DrawFn) -> tuple[float, float]:
    shown_in = draw(st.floats(1, 60))
    return shown_in, shown_in * (1 + draw(st.floats(-0.9, 0.9)) * MISREAD_SHARE)


@st.composite
def setups(draw: st.DrawFn, name: str) -> Setup:
    ruler_tests = st.builds(
        RulerTest,
        tested_on=dates,
        lengths=st.lists(taped(), min_size=1, max_size=3).map(tuple),
        diagonals=st.tuples(taped(), taped()),
    )
    loop_tests = st.builds(
        lambda looked_on, marks, most_in, share, by: LoopTest(
            looked_on=looked_on,
            marks=marks,
            rms_in=share * most_in,
            p95_in=share * most_in,
            most_in=most_in,
            by=by,
        ),
        dates,
        st.integers(1, 99),
        st.floats(0, 5),
        shares,
        st.sampled_from(["photo", "eye"]),
    )
    drift_tests = st.builds(
        lambda looked_on, moved_in, what, told: DriftTest(
            looked_on=looked_on, moved_in=moved_in, what=what, moved=told[0], sure=told[1]
        ),
        dates,
        st.floats(0, 9),
        words,
        st.sampled_from([(False, False), (False, True), (True, True)]),
    )
    past = st.builds(
        PastAlignment,
        aligned_on=dates,
        p95_in=st.floats(0, 9),
        verdict=words,
        sheets=st.integers(0, 7),
        photos=st.integers(0, 9),
        marks=st.integers(0, 999),
    )
    return Setup(
        alignment=replace(an_alignment(), name=name, verdict=draw(words), aligned_on=draw(dates)),
        ruler_tests=tuple(draw(st.lists(ruler_tests, max_size=2))),
        loop_tests=tuple(draw(st.lists(loop_tests, max_size=2))),
        drift_tests=tuple(draw(st.lists(drift_tests, max_size=2))),
        surface=draw(st.builds(Surface, height_in=st.floats(-2, 2), corrected=st.booleans())),
        past=tuple(draw(st.lists(past, max_size=2))),
    )


@st.composite
def tables(draw: st.DrawFn) -> TableFile:
    named = draw(st.lists(names, min_size=1, max_size=3, unique=True))
    return TableFile(setups=tuple(draw(setups(name)) for name in named))


@settings(max_examples=20)
@given(tables())
def test_reading_is_the_inverse_of_writing(table: TableFile) -> None:
    with tempfile.TemporaryDirectory() as folder:
        path = Path(folder) / "table.yaml"
        save_table(path, table)
        assert load_table(path) == table
        for setup in table.setups:
            assert load_table(path).setup(setup.name) == setup


@settings(max_examples=100)
@given(st.lists(taped(), min_size=1, max_size=3).map(tuple), taped(), taped())
def test_a_ruler_test_always_says_the_same_as_it_judges(
    lengths: tuple[tuple[float, float], ...], one: tuple[float, float], other: tuple[float, float]
) -> None:
    test = RulerTest(tested_on=datetime(2026, 1, 1), lengths=lengths, diagonals=(one, other))
    assert test.passed is test.words.startswith("Ruler test passed")
    assert ("FAILED" in test.words) is not test.passed
    turned = RulerTest(tested_on=datetime(2026, 1, 1), lengths=lengths[::-1], diagonals=(other, one))
    assert turned.passed is test.passed
