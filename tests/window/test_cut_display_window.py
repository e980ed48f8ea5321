"""The display that is cut on: a preview, one that goes away while in use, another size, a doubtful map."""

from pathlib import Path

import pytest

from calibration.table.saved import Alignment
from calibration.table.setups import TableFile
from calibration.table.table_file import save_alignment, save_table
from tests.unit.projector.samples import a_map, a_setup, an_alignment
from tests.window.cutting import PATTERN, a_session, expected
from tests.window.desk import Desk, a_desk
from tests.window.outputs import set_output
from tests.window.pictures import wait_for_picture


def test_a_preview_window_says_that_it_is_not_true_to_size(
    desk: Desk, table: Path, alignment: Alignment
) -> None:
    session = a_session(alignment, preview=True)
    with desk.program("cut", PATTERN, "--table", table, "--window", "1920x1080") as program:
        program.focus()
        wait_for_picture(desk, expected(session), "preview")
        assert "preview, not true to size" in str(session.scene()[1].key)


def test_a_window_that_is_moved_off_the_projector_goes_dark_and_says_why(
    desk: Desk, table: Path, alignment: Alignment
) -> None:
    session = a_session(alignment)
    with desk.program("cut", PATTERN, "--table", table) as program:
        window = program.focus()
        start = wait_for_picture(desk, expected(session), "start")
        desk.xdotool("windowmove", window, "40", "30")
        lines = start.max(axis=2) > 0
        desk.wait_for(
            lambda pixels: (
                (pixels.max(axis=2) > 0)[400:700].sum() > 0 and (pixels[lines].max(axis=1) > 0).mean() < 0.2
            ),
            "the reason instead of cut lines",
        )
        desk.keys("q")
        code, _, said = program.end()
        assert code == 1
        assert "the projector's display moved while it was in use" in said
        assert "Traceback" not in said


@pytest.mark.parametrize(
    ("size_px", "happened"),
    [(None, "was switched off or unplugged"), ((1280, 720), "changed from 1920x1080 to 1280x720")],
)
def test_a_display_that_is_unplugged_or_set_otherwise_goes_dark_and_says_why(
    tmp_path: Path, table: Path, alignment: Alignment, size_px: tuple[int, int] | None, happened: str
) -> None:
    with a_desk(tmp_path) as own, own.program("cut", PATTERN, "--table", table) as program:
        program.focus()
        lines = wait_for_picture(own, expected(a_session(alignment)), "start").max(axis=2) > 0
        set_output(own.display, size_px)
        own.wait_for(
            lambda pixels: bool(pixels.any() and (pixels[lines].max(axis=1) > 0).mean() < 0.2),
            "the reason instead of cut lines",
        )
        own.keys("Right", "Next", "q")
        code, _, said = program.end()
    assert code == 1
    assert f"the projector's display {happened} while it was in use" in said


def test_without_a_trustworthy_map_there_are_words_and_no_cut_lines(desk: Desk, tmp_path: Path) -> None:
    alignment = an_alignment(trustworthy=False)
    table = tmp_path / "doubtful.yaml"
    save_alignment(table, alignment)
    lines = expected(a_session(alignment)).max(axis=2) > 0
    with desk.program("cut", PATTERN, "--table", table) as program:
        program.focus()
        shown = desk.wait_for(lambda pixels: bool(pixels.any()), "a message")
        assert (shown[lines].max(axis=1) > 0).mean() < 0.2
        desk.keys("q")
        code, _, said = program.end()
        assert code == 1
        assert said.startswith("chalkbeam cut: This alignment cannot be trusted, so no cut lines are shown")


def test_a_display_of_another_size_is_refused_with_both_sizes(desk: Desk, tmp_path: Path) -> None:
    table = tmp_path / "small.yaml"
    small = a_setup(an_alignment(a_map(screen_px=(1280, 720))))
    save_table(table, TableFile(setups=(small,)))
    with desk.program("cut", PATTERN, "--table", table) as program:
        assert program.end() == (
            1,
            "",
            "chalkbeam cut: display 0 is 1920x1080, but the table file is for 1280x720; "
            "set the display to 1280x720, or align again at 1920x1080\n",
        )
    with desk.program("cut", PATTERN, "--table", table, "--display", "3") as program:
        assert program.end()[2].startswith(
            "chalkbeam cut: found 1 display(s), numbered from 0, but --display 3"
        )
