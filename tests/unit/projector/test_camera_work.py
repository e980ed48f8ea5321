"""The work beside the window: slow light, the camera read only in full light, refusals, failures."""

import time
from collections.abc import Callable, Iterator
from itertools import pairwise

import pytest

from calibration.cameras.watch import FRAMES, Watch
from calibration.errors import AlignmentError
from calibration.frames import Gray
from calibration.photos.sightings import PhotoSighting
from projector.actions import Accept
from projector.aligning import camera_work
from projector.aligning.camera_work import FADE_S, READING_S, CameraWork
from projector.stations.camera import CameraStation, Stage
from tests.unit.calibration.recorded import PAPER, SHEETS, developed, light, targets

STEP_S = 0.04
PATIENCE_S = 60.0


class Frames:
    """Frames one after the other; at the end the camera stops."""

    def __init__(self, frames: Iterator[Gray]) -> None:
        self.frames = frames
        self.read = 0

    def frame(self) -> Gray:
        self.read += 1
        try:
            return next(self.frames)
        except StopIteration:
            raise AlignmentError("the camera stopped") from None


class Clock:
    """Time that goes on when it is told to."""

    def __init__(self) -> None:
        self.now_s = 100.0

    def __call__(self) -> float:
        return self.now_s


def a_station() -> CameraStation:
    return CameraStation.begun(targets())


def a_watch() -> Watch:
    return Watch(paper=PAPER, sheets=SHEETS, targets=targets())


def working(
    frames: Frames, clock: Clock, judge: Callable[[PhotoSighting], str] = lambda sighting: "result"
) -> CameraWork[str]:
    return CameraWork(frames, a_watch(), judge, lambda result: f"verdict on {result}", clock)


def run(
    work: CameraWork[str], clock: Clock, station: CameraStation, ended: Callable[[CameraStation], bool]
) -> list[CameraStation]:
    """The stations that follow, one every step of the clock, while the thread has its time."""
    stations = [station]
    patience = time.monotonic() + PATIENCE_S
    while not ended(stations[-1]):
        assert time.monotonic() < patience, stations[-1].said
        stations.append(work.keep_up(stations[-1]))
        clock.now_s += STEP_S
        time.sleep(0.002)
    return stations


def test_the_light_comes_slowly_and_nothing_is_read_before_it_is_full() -> None:
    clock, frames = Clock(), Frames(iter(()))
    with working(frames, clock) as work:
        stations = run(work, clock, a_station(), lambda station: station.light > 0.9)
        assert frames.read == 0
        levels = [station.light for station in stations]
        assert len(levels) >= 0.9 * FADE_S / STEP_S
        assert all(0 <= after - before <= 1.01 * STEP_S / FADE_S for before, after in pairwise(levels))


def test_enough_still_frames_make_a_result_which_is_told_while_the_light_goes() -> None:
    clock, frames = Clock(), Frames(developed(light(), seed) for seed in range(FRAMES))
    with working(frames, clock) as work:
        stations = run(work, clock, a_station(), lambda station: station.finished)
    assert (work.result, work.failure) == ("result", None)
    stages = [station.stage for station in stations]
    assert stages == sorted(stages, key=list(Stage).index)
    assert stations[-1].said == "verdict on result"
    levels = [station.light for station in stations]
    rises = [(after > before) - (after < before) for before, after in pairwise(levels) if after != before]
    # WCAG 2.2, success criterion 2.3.1: a flash is a pair of opposing changes; one rise and one fall is the least
    assert rises == sorted(rises, reverse=True)
    assert max(abs(after - before) for before, after in pairwise(levels)) < 1.01 * STEP_S / FADE_S
    told = [station for station in stations if station.stage is Stage.DONE]
    assert len(told) * STEP_S >= READING_S


def test_what_does_not_do_is_said_and_watched_for_again(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(camera_work, "READING_S", 0.05)
    answers: list[str | AlignmentError] = [AlignmentError("the tape is wrong"), "second try"]

    def judge(sighting: PhotoSighting) -> str:
        answer = answers.pop(0)
        if isinstance(answer, AlignmentError):
            raise answer
        return answer

    clock = Clock()
    frames = Frames(developed(light(), seed) for seed in range(2 * FRAMES))
    with working(frames, clock, judge) as work:
        stations = run(work, clock, a_station(), lambda station: station.finished)
    assert "the tape is wrong" in {station.said for station in stations}
    assert work.result == "second try"


def test_a_camera_that_stops_is_said_on_the_table_and_stays_until_the_person_leaves() -> None:
    clock, frames = Clock(), Frames(developed(light(), seed) for seed in range(2))
    with working(frames, clock) as work:
        station = run(work, clock, a_station(), lambda one: one.stage is Stage.FAILED and one.light == 0)[-1]
        clock.now_s += 10 * READING_S
        assert not work.keep_up(station).finished
    assert station.said == "the camera stopped"
    assert str(work.failure) == "the camera stopped"
    assert work.result is None


def test_a_hurry_reaches_the_watch_once_and_its_refusal_the_table(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(camera_work, "READING_S", 0.05)
    clock = Clock()
    dark = developed(0.01 * light(), 1)
    frames = Frames(iter([dark]))
    refusal = "at least sheet 1 must be seen; get more into the camera's view"
    with working(frames, clock) as work:
        asked = a_station().after(Accept())
        stations = run(work, clock, asked, lambda station: station.stage is Stage.FAILED)
    assert [a.said != b.said and b.said == refusal for a, b in pairwise(stations)].count(True) == 1
    assert not any(station.hurried for station in stations[1:])


def test_a_bug_in_the_thread_is_not_swallowed() -> None:
    def broken() -> Iterator[Gray]:
        raise ZeroDivisionError("a slip of ours")
        yield

    clock = Clock()
    with working(Frames(broken()), clock) as work, pytest.raises(ZeroDivisionError, match="a slip of ours"):
        run(work, clock, a_station(), lambda station: station.finished)
