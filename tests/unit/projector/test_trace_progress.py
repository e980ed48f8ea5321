"""`trace` while it takes its time, and what may be typed."""

import io
from pathlib import Path

import pytest

from projector.command_line import main
from projector.progress import Progress
from tests.unit.projector.fake_photos import (
    FRONT,
    TakePhotos,
    said,
)


class Terminal(io.StringIO):
    def isatty(self) -> bool:
        return True


def test_progress_is_one_line_on_a_terminal_and_gone_at_the_end() -> None:
    shown = Terminal()
    with Progress(shown) as progress:
        progress.of("front.jpg")
        progress("garment told from the table")
        progress("edge followed")
    lines = shown.getvalue().split("\r")
    assert [line.rstrip() for line in lines] == [
        *("", "front.jpg: garment told from the table ...", "front.jpg: edge followed ...", "", ""),
    ]
    assert len({len(line) for line in lines[1:-1]}) == 1
    assert "\n" not in shown.getvalue()


def test_nothing_of_it_is_said_to_a_file() -> None:
    silent = io.StringIO()
    with Progress(silent) as progress:
        progress("edge followed")
    assert silent.getvalue() == ""


@pytest.mark.parametrize("quiet", [True, False])
def test_trace_tells_its_steps_unless_its_result_is_read_by_a_program(
    quiet: bool, take: TakePhotos, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    (photo,) = take({"front.png": FRONT}).values()
    shown = Terminal()
    monkeypatch.setattr("sys.stderr", shown)
    asked = ["trace", "--photo", str(photo), "--out", str(tmp_path / "top.yaml")]
    assert main([*asked, "--json"] if quiet else asked) == 0
    steps = [line.strip() for line in shown.getvalue().split("\r") if line.strip()]
    expected = ["photo read", "2 sheets found", "fold and corners found"]
    assert steps == ([] if quiet else [f"front.png: {step} ..." for step in expected])


def test_an_interruption_leaves_nothing_half_written(
    take: TakePhotos, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    photos = take({"front.png": FRONT, "stopped.png": KeyboardInterrupt()})
    out = tmp_path / "top.yaml"
    before = set(tmp_path.iterdir())
    assert main(["trace", "--photo", *map(str, photos.values()), "--out", str(out)]) == 1
    assert said(capsys) == f"stopped; nothing was written to {out}"
    assert set(tmp_path.iterdir()) == before


@pytest.mark.parametrize(
    ("asked", "complaint"),
    [
        ([], "--photo or --camera is needed, or --table to trace with a cross of light"),
        (
            ["--taped", "hem width 11 in"],
            "--photo or --camera is needed, or --table to trace with a cross of light",
        ),
        (
            ["--table", "t.yaml", "--taped", "hem width 11 in"],
            "--taped goes with --photo or --camera; chalkbeam tape checks a piece of a file",
        ),
        (["--smooth", "side", "--again"], "--again goes with --photo or --camera"),
        (["--photo", "a.jpg", "--picture", "./a.jpg"], "--picture a.jpg would overwrite a.jpg; name another"),
        (["--table", "t.yaml", "--smooth", "side"], "--smooth does not go with the cross of light"),
        (["--photo", "a.jpg", "--camera", "0"], "--photo and --camera do not go together"),
        (["--camera", "0", "--use", "first"], "--use chooses between two photos, found one"),
        (["--camera", "-1"], "is no camera; they are numbered from 0"),
        (["--photo", "a.jpg", "b.jpg", "c.jpg"], "--photo takes one photo or two, found 3"),
        (["--photo", "a.jpg", "--use", "first"], "--use chooses between two photos, found one"),
        (["--photo", "a.jpg", "--fold", "left", "right"], "--fold names 2 sides for 1 photo"),
        (["--photo", "a.jpg", "b.jpg", "--fold", "none"], "--fold none is for one photo"),
        (["--photo", "a.jpg", "--fold", "up"], "argument --fold: invalid choice: 'up'"),
        (["--photo", "a.jpg", "--shoulder-forward", "0 in"], "it must be more than nothing"),
        (["--photo", "a.jpg", "--setup", "x"], "--setup goes with --table"),
        (["--photo", "a.jpg", "--standing"], "--standing goes with --table"),
        (["--table", "t.yaml", "--standing"], "--standing goes with --photo or --camera"),
    ],
)
def test_options_that_do_not_go_together_are_a_mistake_of_usage(
    asked: list[str], complaint: str, capsys: pytest.CaptureFixture[str]
) -> None:
    with pytest.raises(SystemExit) as ended:
        main(["trace", "--out", "p.yaml", *asked])
    assert ended.value.code == 2
    assert complaint in capsys.readouterr().err
