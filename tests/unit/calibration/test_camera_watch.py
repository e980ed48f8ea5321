"""What is waited for, what is said meanwhile, and what the frames taken are worth."""

from dataclasses import replace

import numpy as np
import pytest

from calibration.cameras.watch import FRAMES, MOVED, Look, Watch
from calibration.errors import AlignmentError
from calibration.frames import Gray
from calibration.sheets.sheet import PAPERS, RULER_IN
from calibration.solving.from_photos import solved
from tests.unit.calibration.recorded import (
    PAPER,
    SCREEN_PX,
    SHEETS,
    Light,
    developed,
    light,
    moved,
    table,
    targets,
)


@pytest.fixture
def watch() -> Watch:
    return Watch(paper=PAPER, sheets=SHEETS, targets=targets())


def watched(watch: Watch, *frames: Gray) -> Watch:
    for frame in frames:
        watch = watch.after(frame)
    return watch


def frames(seen: Light, many: int, first: int = 0) -> list[Gray]:
    return [developed(seen, seed) for seed in range(first, first + many)]


def test_still_frames_of_all_that_is_needed_make_a_good_alignment(watch: Watch) -> None:
    almost = watched(watch, *frames(light(), FRAMES - 1))
    assert almost.look == Look(sheets=(1, 2, 3), light=True, frames=FRAMES - 1)
    assert not almost.complete
    done = watched(almost, developed(light(), FRAMES))
    assert done.complete
    truth = table()
    taped = {(2, 3): truth.tape(2, 3, to_nearest_in=1 / 32)}
    found = solved([done.sighting()], PAPER, SCREEN_PX, truth.printed_length(RULER_IN), taped).alignment
    errors_in = np.hypot(*truth.light_errors_in(found.map).T)
    assert np.sqrt((errors_in**2).mean()) < 0.015
    assert np.quantile(errors_in, 0.95) <= found.p95_in
    assert found.trustworthy


def test_a_push_starts_the_count_again(watch: Watch) -> None:
    before = watched(watch, *frames(light(), 3))
    pushed = before.after(developed(moved(light(), 2.0), 50))
    assert (pushed.look.frames, pushed.look.trouble) == (1, MOVED)
    again = pushed.after(developed(moved(light(), 2.0), 51))
    assert (again.look.frames, again.look.trouble) == (2, "")


def test_a_missing_sheet_is_waited_for_or_done_without_in_a_hurry(watch: Watch) -> None:
    missing = watch.after(developed(light(missing=3), 1))
    assert missing.look == Look(sheets=(1, 2), light=True)
    hurried = watched(missing.hurried(), *frames(light(missing=3), FRAMES, 10))
    assert hurried.complete
    assert [sheet.sheet for sheet in hurried.sighting().sheets] == [1, 2]


def test_a_gap_leaves_the_sheets_before_it(watch: Watch) -> None:
    look = Look(sheets=(1, 3), light=True)
    assert replace(watch, look=look).hurried().sheets == 1


@pytest.mark.parametrize(
    ("look", "lacking"),
    [(Look(sheets=(2, 3), light=True), "sheet 1"), (Look(sheets=(1, 2, 3)), "the squares of light")],
)
def test_a_hurry_needs_something_to_go_by(watch: Watch, look: Look, lacking: str) -> None:
    with pytest.raises(AlignmentError, match=f"^at least {lacking} must be seen; get more into the"):
        replace(watch, look=look).hurried()


def test_a_poor_picture_is_not_taken_but_in_a_hurry(watch: Watch) -> None:
    bright = watch.after(developed(2.2 * light(), 1))
    assert bright.look.trouble.startswith("too bright: ")
    assert (bright.look.sheets, bright.look.light, bright.look.frames) == ((1, 2, 3), True, 0)
    assert bright.hurried().after(developed(2.2 * light(), 2)).look.frames == 1


def test_the_wrong_paper_is_named(watch: Watch) -> None:
    other = replace(watch, paper=PAPERS["a4"]).after(developed(light(), 1))
    assert other.look.sheets == ()
    assert other.look.trouble == (
        "the sheets are on letter paper: leave, and start again with --paper letter"
    )


def test_a_dark_room_shows_nothing(watch: Watch) -> None:
    dark = watch.after(developed(0.01 * light(), 1))
    assert dark.look.sheets == ()
    assert dark.look.trouble.startswith("too dark: ")


def test_nothing_taken_has_no_corners(watch: Watch) -> None:
    with pytest.raises(ValueError, match="no frame is taken yet"):
        watch.sighting()
