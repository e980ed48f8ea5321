"""`trace` on the table without its window: what it begins with, what it keeps, and what it refuses."""

from collections.abc import Callable, Sequence
from dataclasses import replace
from pathlib import Path
from types import SimpleNamespace
from typing import Any

import numpy as np
import pytest

import projector.verbs.trace_window as verb
from patterns import read_pattern, write_pattern
from patterns.cutting.placement import Placement
from patterns.measures import Length
from patterns.parts import Allowance, Notch
from patterns.tracing.hand_trace import HandTrace
from projector.actions import Accept, Action, Aim, Finish, Insert, Quit, SetCurve, Undo
from projector.command_line import main
from projector.errors import ProjectorError
from projector.session import Session
from projector.stations.trace import TraceStation
from projector.tracing.file import keep_trace, kept_path, read_kept
from projector.tracing.photo_frame import PhotoFrame
from projector.tracing.traced_file import with_piece
from tests.unit.patterns.test_hand_trace import on_table, walked
from tests.unit.projector.commands import a_table, check_refusal, result
from tests.unit.projector.samples import an_alignment

Act = Callable[..., list[Session[TraceStation]]]
PIECE = walked().closed_up().piece("front")
LYING = walked().placement


@pytest.fixture
def act(monkeypatch: pytest.MonkeyPatch) -> Act:
    """Lets the windows that open take these actions, and then go; the sessions that were run."""

    def prepare(*actions: Action) -> list[Session[TraceStation]]:
        sessions: list[Session[TraceStation]] = []

        def run(session: Session[TraceStation], *_: Any) -> None:
            sessions.append(session)
            for action in (*actions, Quit()):
                if not session.finished:
                    session.take(action)

        monkeypatch.setattr(verb, "run", run)
        return sessions

    return prepare


def options(folder: Path, *more: str) -> tuple[str | Path, ...]:
    table = folder / "table.yaml"
    if not table.exists():
        a_table(folder)
    return ("trace", "--table", table, "--out", folder / "smock.yaml", "--window", "1920x1080", *more)


def begun(folder: Path, lies: HandTrace | Placement) -> Path:
    kept_in = kept_path(folder / "smock.yaml", "front")
    keep_trace(kept_in, lies, an_alignment())
    return kept_in


def test_leaving_early_keeps_what_was_set_and_goes_on_with_it(
    tmp_path: Path, act: Act, capsys: pytest.CaptureFixture[str]
) -> None:
    act(Accept(), Aim(at_px=(900, 900)), Accept(), Aim(at_px=(1000, 500)), SetCurve())
    code, out, err = result(capsys, *options(tmp_path))
    kept_in = kept_path(tmp_path / "smock.yaml", "front")
    assert (code, out) == (1, "")
    assert err == (
        "chalkbeam trace: left before the outline was written; what is traced so far waits in "
        f"{kept_in} for the next time\n"
    )
    assert not (tmp_path / "smock.yaml").exists()
    sessions = act(Undo())
    code, out, _ = result(capsys, *options(tmp_path, "--offset", "-1 in, 1 1/2 in"))
    assert out == f"{kept_in}: going on with the outline that was begun, not closed yet\n"
    station = sessions[0].station
    assert station.work == read_kept(kept_in).lies
    assert station.cross.offset_in == (-1.0, 1.5)


def test_a_finished_trace_is_a_piece_beside_those_of_its_file(
    tmp_path: Path, act: Act, capsys: pytest.CaptureFixture[str]
) -> None:
    out = tmp_path / "smock.yaml"
    write_pattern(out, with_piece(None, walked().closed_up().piece("back"), out))
    out.write_text(out.read_text() + "# the bosun's\n")
    kept_in = begun(tmp_path, walked().closed_up())
    act(Finish(), Finish())
    code, said, _ = result(
        capsys, *options(tmp_path, "--folded-away", "hem: 1/2 in", "--left-off", "sleeve hem: 1/4 in")
    )
    assert code == 0
    assert f"{out}: front with neck 4 7/8 in" in said
    pattern = read_pattern(out)
    assert [piece.name for piece in pattern.pieces] == ["back", "front"]
    assert pattern.pieces[1].edges[-1].path[0].y.inches == pytest.approx(22.5, abs=0.03)
    assert "# the bosun's" in out.read_text()
    assert read_kept(kept_in).lies == LYING


def test_a_traced_piece_is_pulled_where_it_lies_and_saved_as_it_goes(
    tmp_path: Path, act: Act, capsys: pytest.CaptureFixture[str]
) -> None:
    out = tmp_path / "smock.yaml"
    write_pattern(out, with_piece(None, PIECE, out))
    begun(tmp_path, LYING)
    before = out.read_bytes()
    u, v = an_alignment().map.screen_from_table(LYING.placed(np.array([[8.0, 2.0]])))[0].tolist()
    sessions = act(Aim(at_px=(u, v)), Insert())
    assert result(capsys, *options(tmp_path))[0] == 0
    (session,) = sessions
    assert session.station.notice == ""
    overarm = read_pattern(out).pieces[0].edges[1]
    assert [point.x.spelling for point in overarm.path] == ["3", "8", "13"]
    act(Aim(at_px=(u, v)), Insert(), Undo())
    again = out.read_bytes()
    assert result(capsys, *options(tmp_path))[0] == 0
    assert out.read_bytes() == again != before


def test_what_cannot_be_begun_is_a_sentence(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    out = tmp_path / "smock.yaml"
    write_pattern(out, with_piece(None, PIECE, out))
    asked = options(tmp_path)
    check_refusal(capsys, tmp_path, asked, f"{out} has a piece front already")
    kept_in = begun(tmp_path, LYING)
    out.unlink()
    check_refusal(
        capsys, tmp_path, asked, f"{out} has no piece front any more, though {kept_in} says where it lies"
    )
    kept_in.write_text("?")
    check_refusal(capsys, tmp_path, asked, f"{kept_in}: found no trace in it; delete the file to trace anew")
    kept_in.unlink()
    check_refusal(capsys, tmp_path, (*asked, "--piece", "a/b"), 'without "/"')
    nowhere = (*asked[:4], tmp_path / "none" / "smock.yaml", *asked[5:])
    check_refusal(capsys, tmp_path, nowhere, f"{tmp_path / 'none'}: no such folder; make it")
    a_table(tmp_path, an_alignment(trustworthy=False))
    check_refusal(capsys, tmp_path, asked, "this alignment cannot be trusted to trace by: good; align again")


@pytest.mark.parametrize(
    ("typed", "complaint"),
    [
        (("--out", "p.yaml"), "--photo or --camera is needed, or --table to trace with a cross of light"),
        (("--out", "p.yaml", "--table", "t.yaml", "--picture", "f.png"), "--picture goes with --photo"),
        (("--out", "p.yaml", "--photo", "f.jpg", "--offset", "1,1"), "--offset goes with --table"),
        (("--out", "p.yaml", "--table", "t.yaml", "--left-off", "hem"), "is not an edge and a length"),
        (("--out", "p.yaml", "--table", "t.yaml", "--folded-away", "hem: -1"), "no length to measure by"),
    ],
)
def test_options_that_do_not_go_together(
    typed: Sequence[str], complaint: str, capsys: pytest.CaptureFixture[str]
) -> None:
    with pytest.raises(SystemExit) as usage:
        main(["trace", *typed])
    assert usage.value.code == 2
    assert complaint in capsys.readouterr().err


def from_photo(monkeypatch: pytest.MonkeyPatch, frame: PhotoFrame | None, out: Path) -> None:
    """As if a photo had been traced, its sheets lying so."""

    def traced(_: Any) -> tuple[SimpleNamespace, SimpleNamespace]:
        write_pattern(out, with_piece(None, PIECE, out))
        return SimpleNamespace(camera=None), SimpleNamespace(piece=PIECE, placement=LYING)

    def framed(*_: Any) -> PhotoFrame:
        if frame is None:
            raise ProjectorError("the sheets have moved")
        return frame

    monkeypatch.setattr(verb, "traced_from_photo", traced)
    monkeypatch.setattr(verb, "photo_frame", framed)


def test_a_photos_outline_lies_on_the_garment_at_once_and_the_next_time(
    tmp_path: Path, act: Act, capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    out = tmp_path / "smock.yaml"
    from_photo(monkeypatch, PhotoFrame(first=(1.0, 2.0, 90.0), moved_in=0.01), out)
    sessions = act()
    assert result(capsys, *options(tmp_path, "--photo", "front.jpg"))[0] == 0
    work = sessions[0].station.work
    assert not isinstance(work, HandTrace)
    assert (work.piece, sessions[0].station.notice) == (PIECE, "")
    assert work.placement.turn_deg == pytest.approx(LYING.turn_deg + 90)
    again = act()
    assert result(capsys, *options(tmp_path))[0] == 0
    assert again[0].station.work == work
    assert again[0].station.notice == "front where it was traced"


def test_a_photo_whose_sheets_have_moved_is_not_shown_but_its_pattern_stays(
    tmp_path: Path, act: Act, capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    out = tmp_path / "smock.yaml"
    from_photo(monkeypatch, None, out)
    sessions = act()
    code, _, err = result(capsys, *options(tmp_path, "--photo", "front.jpg"))
    assert (code, sessions) == (1, [])
    assert err == f"chalkbeam trace: {out} is written, but the sheets have moved\n"
    assert read_pattern(out).pieces == (PIECE,)
    out.unlink()
    from_photo(monkeypatch, PhotoFrame(first=(0.0, 0.0, 0.0), moved_in=None), out)
    sessions = act()
    assert result(capsys, *options(tmp_path, "--photo", "front.jpg"))[0] == 0
    assert sessions[0].station.notice == verb.UNPROVED


def test_a_photo_does_not_take_the_place_of_an_outline_begun_by_hand(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    kept_in = begun(tmp_path, walked())
    sentence = f"{kept_in} has an outline that was begun with the cross; leave --photo out to go on with it"
    check_refusal(capsys, tmp_path, options(tmp_path, "--photo", "front.jpg"), sentence)


def test_an_outline_taken_anew_keeps_what_was_authored(
    tmp_path: Path, act: Act, capsys: pytest.CaptureFixture[str]
) -> None:
    out = tmp_path / "smock.yaml"
    notch = Notch(edge="side", at=Length(spelling="6"))
    wide = Allowance(parts=(Length(spelling="5/8"),))
    side = replace(PIECE.edges[3], allowance=wide)
    authored = replace(PIECE, edges=(*PIECE.edges[:3], side, *PIECE.edges[4:]), notches=(notch,))
    write_pattern(out, with_piece(None, authored, out))
    kept_in = begun(tmp_path, LYING)
    sessions = act()
    assert result(capsys, *options(tmp_path, "--again"))[0] == 1
    assert sessions[0].station.work == HandTrace()
    keep_trace(kept_in, walked().moved(4, on_table((13.5, 3.5))).closed_up(), an_alignment())
    act(Finish(), Finish())
    assert result(capsys, *options(tmp_path, "--again"))[0] == 0
    (piece,) = read_pattern(out).pieces
    assert (piece.notches, piece.edges[3].allowance) == ((notch,), wide)
    assert piece.edges[1].path != PIECE.edges[1].path
    (tmp_path / "smock.front.trace.json").unlink()
    out.unlink()
    check_refusal(capsys, tmp_path, options(tmp_path, "--again"), "smock.yaml")
