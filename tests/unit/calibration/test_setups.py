"""Set-ups: which one is meant, what is in force, and what is warned of."""

from dataclasses import replace
from datetime import UTC, datetime, timedelta

import numpy as np
import pytest

from calibration import Alignment, AlignmentError
from calibration.table.setups import MOST_PAST, MOST_TESTS, PastAlignment, Setup, TableFile
from calibration.trust.closed_loop import LoopTest
from calibration.trust.drift import DriftTest
from calibration.trust.ruler_test import RulerTest
from calibration.trust.surface import Surface
from tests.unit.calibration.test_table_file import ALIGNMENT

NOW = datetime(2026, 12, 24, 18, 0, tzinfo=UTC)


def named(name: str, screen_px: tuple[int, int] = (1920, 1080), screen_name: str = "") -> Setup:
    found = replace(ALIGNMENT.map, screen_px=screen_px)
    return Setup(alignment=replace(ALIGNMENT, name=name, map=found, screen_name=screen_name))


TWO_SCREENS = TableFile(setups=(named("table"), named("attic", (1280, 720))))
ONE_SCREEN = TableFile(setups=(named("table"), named("attic, low lamp"), named("barn", (1280, 720))))


def test_the_screen_or_the_name_says_which_set_up_is_meant() -> None:
    assert TWO_SCREENS.setup(screen_px=(1280, 720)).name == "attic"
    assert TWO_SCREENS.setup(screen_px=(1920, 1080)).name == "table"
    assert ONE_SCREEN.setup("attic, low lamp").name == "attic, low lamp"
    assert ONE_SCREEN.setup("barn", (1920, 1080)).name == "barn"
    assert TableFile(setups=(named("table"),)).setup().name == "table"


def test_of_two_screens_of_one_size_the_name_that_the_display_has_tells() -> None:
    table = TableFile(
        setups=(named("loft", screen_name="Lamp A"), named("quay", screen_name="Lamp B"), named("old"))
    )
    assert table.setup(screen_px=(1920, 1080), screen_name="Lamp B").name == "quay"
    assert table.setup("old", (1920, 1080), "Lamp B").name == "old"
    for unknown in ("", "Lamp C"):
        with pytest.raises(AlignmentError, match="found 3 set-ups that may be meant"):
            table.setup(screen_px=(1920, 1080), screen_name=unknown)
    assert TWO_SCREENS.setup(screen_px=(1280, 720), screen_name="Lamp C").name == "attic"


@pytest.mark.parametrize(
    ("table", "name", "screen_px", "says"),
    [
        (
            TWO_SCREENS,
            "loft",
            None,
            'found no set-up "loft"; there is "table" (1920x1080), "attic" (1280x720)',
        ),
        (
            TWO_SCREENS,
            None,
            None,
            'found 2 set-ups that may be meant: "table" (1920x1080), "attic" (1280x720); name one with --setup',
        ),
        (
            ONE_SCREEN,
            None,
            (1920, 1080),
            'found 2 set-ups that may be meant: "table" (1920x1080), "attic, low lamp" (1920x1080); '
            "name one with --setup",
        ),
        (
            TWO_SCREENS,
            None,
            (800, 600),
            'the screen is 800x600, but the table file has "table" (1920x1080), "attic" (1280x720); '
            "set the screen to its size, or align again at 800x600",
        ),
        (TableFile(), None, None, "the table file holds no set-up; align the table first"),
        (TableFile(), "loft", None, 'found no set-up "loft"; there is none'),
    ],
)
def test_where_none_or_several_may_be_meant_all_are_listed(
    table: TableFile, name: str | None, screen_px: tuple[int, int] | None, says: str
) -> None:
    with pytest.raises(AlignmentError) as error:
        table.setup(name, screen_px)
    assert str(error.value) == says


@pytest.mark.parametrize("name", ["", "  ", "two\nlines", "n" * 41])
def test_a_name_is_words_that_can_be_said(name: str) -> None:
    with pytest.raises(AlignmentError, match="is no name for a set-up; give 1 to 40 letters"):
        named(name)


def test_a_set_up_takes_the_place_of_the_one_of_its_name() -> None:
    changed = replace(named("attic", (1280, 720)), surface=Surface(height_in=0.25))
    assert TWO_SCREENS.with_setup(changed).setups == (TWO_SCREENS.setups[0], changed)
    assert [one.name for one in TWO_SCREENS.with_setup(named("barn")).setups] == ["table", "attic", "barn"]


def ruler_test(days_ago: float = 0.0, over_in: float = 0.0) -> RulerTest:
    return RulerTest(
        tested_on=NOW - timedelta(days=days_ago),
        lengths=((36.0, 36.0 + over_in), (24.0, 24.0)),
        diagonals=((30.0, 30.0), (30.0, 30.0)),
    )


def loop_test(p95_in: float) -> LoopTest:
    return LoopTest(looked_on=NOW, marks=9, rms_in=p95_in / 2, p95_in=p95_in, most_in=p95_in)


def drift_test(moved: bool) -> DriftTest:
    return DriftTest(looked_on=NOW, moved_in=0.2, what="The projector has moved.", moved=moved)


UNSURE = replace(drift_test(moved=False), sure=False)


SOUND = named("table").tested(ruler_test())


@pytest.mark.parametrize(
    ("setup", "warnings"),
    [
        (named("table"), ("no ruler test yet",)),
        (SOUND, ()),
        (SOUND.tested(ruler_test(days_ago=30)), ()),
        (SOUND.tested(ruler_test(days_ago=40)), ("ruler test is 40 days old",)),
        (SOUND.tested(ruler_test(over_in=1 / 8)), ("RULER TEST FAILED",)),
        (SOUND.tested(ruler_test(days_ago=40, over_in=1 / 8)), ("RULER TEST FAILED",)),
        (SOUND.tested(ruler_test(over_in=1 / 8)).tested(ruler_test()), ()),
        (SOUND.tested(drift_test(moved=True)), ("MOVED since the alignment",)),
        (SOUND.tested(drift_test(moved=True)).tested(drift_test(moved=False)), ()),
        (SOUND.tested(UNSURE), ("not sure whether it has moved",)),
        (SOUND.tested(UNSURE).tested(drift_test(moved=False)), ()),
        (SOUND.tested(drift_test(moved=True)).tested(UNSURE), ("MOVED since the alignment",)),
        (SOUND.tested(loop_test(1 / 32)), ()),
        (replace(SOUND, surface=Surface(height_in=0.25)), ("cloth is 1/4 in above the aligned plane",)),
        (
            replace(SOUND, surface=Surface(height_in=-0.125, corrected=True)),
            ("light set for 1/8 in below the aligned plane",),
        ),
        (SOUND.tested(loop_test(0.04)), ("LOOP TEST FAILED",)),
        (
            named("table").tested(drift_test(moved=True)).tested(loop_test(0.04)),
            ("MOVED since the alignment", "no ruler test yet", "LOOP TEST FAILED"),
        ),
    ],
)
def test_what_is_old_or_failed_is_warned_of_the_gravest_first(
    setup: Setup, warnings: tuple[str, ...]
) -> None:
    assert setup.warnings(NOW) == warnings


def test_the_claim_in_force_is_the_worse_of_forecast_and_loop() -> None:
    assert SOUND.in_force() == SOUND.alignment
    assert SOUND.tested(loop_test(0.01)).in_force().p95_in == SOUND.alignment.p95_in == 0.03
    assert SOUND.tested(loop_test(0.025)).in_force().p95_in == 0.05
    assert SOUND.tested(loop_test(0.025)).tested(loop_test(0.01)).in_force().p95_in == 0.03


def test_no_better_is_claimed_than_a_failed_test_has_found() -> None:
    assert SOUND.tested(ruler_test(over_in=1 / 8)).in_force().p95_in == 1 / 8
    assert SOUND.tested(ruler_test(over_in=1 / 8)).tested(ruler_test()).in_force().p95_in == 0.03
    assert SOUND.tested(drift_test(moved=True)).in_force().p95_in == 0.2
    assert SOUND.tested(drift_test(moved=False)).in_force().p95_in == 0.03
    assert SOUND.tested(UNSURE).in_force().p95_in == 0.03
    assert SOUND.tested(drift_test(moved=True)).tested(UNSURE).in_force().p95_in == 0.2


def test_a_ruler_test_that_was_passed_has_checked_the_size() -> None:
    unchecked = Setup(alignment=replace(SOUND.alignment, size_checked=False))
    assert not unchecked.in_force().size_checked
    assert unchecked.tested(ruler_test()).in_force().size_checked
    failed = unchecked.tested(ruler_test()).tested(ruler_test(over_in=1 / 8))
    assert not failed.in_force().size_checked


def test_the_map_in_force_is_the_surface_s_only_where_that_is_asked_for() -> None:
    at = [[20.0, 5.0]]
    flat = SOUND.alignment.map.screen_from_table(at)
    raised = Surface(height_in=0.5, lens_in=(0.0, -10.0, 70.0))
    told = replace(SOUND, surface=raised)
    assert np.array_equal(told.in_force().map.screen_from_table(at), flat)
    corrected = replace(SOUND, surface=replace(raised, corrected=True))
    assert np.abs(corrected.in_force().map.screen_from_table(at) - flat).max() > 1.0
    assert corrected.alignment == SOUND.alignment


def test_a_new_alignment_has_a_longer_past_and_no_tests() -> None:
    tested = replace(
        SOUND.tested(drift_test(moved=True)).tested(loop_test(0.04)), surface=Surface(height_in=1.0)
    )
    newer: Alignment = replace(SOUND.alignment, p95_in=0.01)
    setup = tested.realigned(newer)
    assert setup == Setup(alignment=newer, past=(PastAlignment.of(SOUND.alignment),))
    assert setup.past[0].p95_in == 0.03


def test_the_past_and_the_tests_do_not_grow_for_ever() -> None:
    setup = SOUND
    for number in range(MOST_PAST + 5):
        setup = setup.realigned(replace(SOUND.alignment, marks=number))
    assert [one.marks for one in setup.past][:2] == [MOST_PAST + 3, MOST_PAST + 2]
    assert len(setup.past) == MOST_PAST
    for number in range(MOST_TESTS + 5):
        setup = setup.tested(ruler_test(days_ago=MOST_TESTS + 5 - number))
    assert len(setup.ruler_tests) == MOST_TESTS
    assert setup.ruler_tests[0] == ruler_test(days_ago=1)
