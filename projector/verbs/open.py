"""The verb `open`: the whole job in one window, step by step, from where it was left."""

import re
from argparse import Namespace
from collections.abc import Sequence
from contextlib import redirect_stderr
from dataclasses import replace
from io import StringIO
from itertools import pairwise
from pathlib import Path
from typing import Final

from patterns.samples import example
from projector.command_line import parsed, run_parsed
from projector.errors import MENDABLE, LightLostError, ProjectorError
from projector.job.found import PRACTICE, Found, patterns_in, without_folder
from projector.job.left import TABLE, Left, keep_left, left_path, read_left
from projector.job.steps import STEPS, next_after, number_of
from projector.outputs import write_bytes
from projector.session import Session
from projector.standing import Standing
from projector.stations.job import JobStation
from projector.usage.verb import Verb
from projector.window import (
    InWindow,
    OnDisplay,
    OpenWindow,
    display_name,
    display_size,
    display_sizes,
    opened,
    run,
)

ONE_MOMENT: Final = "One moment."
NO_PATTERN: Final = "no pattern in this folder yet: trace one, or copy a pattern file into it"


def open_job(arguments: Namespace) -> int:
    """Run the verb; the exit code."""
    kept_in = left_path()
    left = left_now(arguments, read_left(kept_in))
    if not Path(left.folder).is_dir():
        raise ProjectorError(f"{left.folder}: no such folder; make it, or name another")
    where = _where(left)
    screen_px = _size(where)
    screen_name = display_name(where.number) if isinstance(where, OnDisplay) else ""
    with opened(where, screen_px) as window:
        _Job(left, kept_in, window, screen_px, screen_name).run()
    return 0


class _Job:
    """From the page to a step and back, until the person leaves."""

    def __init__(
        self, left: Left, kept_in: Path, window: OpenWindow, screen_px: tuple[int, int], screen_name: str
    ) -> None:
        self._left = left
        self._kept_in = kept_in
        self._window = replace(window, standing=Standing(left.side, self._stood))
        self._screen_px = screen_px
        self._screen_name = screen_name
        self._forgets = ""

    def run(self) -> None:
        """Begin in the step that was open, if one was, as it was opened."""
        notice, framed = "", number_of(self._left.step)
        if framed is not None:
            page = JobStation.begun(self._found(), self._screen_px, framed)
            notice, framed = self._open(page.again(self._left.answers))
        while (station := self._page(notice, framed)) is not None:
            notice, framed = self._open(station)

    def _page(self, notice: str, framed: int | None) -> JobStation | None:
        """The page as it was left; None where the person left it for good."""
        self._keep(replace(self._left, step=None, answers=()))
        station = JobStation.begun(self._found(), self._screen_px, framed, notice or self._forgets)
        session = Session(station, preview=not self._window.watches_place)
        run(session, self._window, self._screen_px, lambda _: None)
        return None if session.left else session.station

    def _open(self, station: JobStation) -> tuple[str, int | None]:
        """Do what was chosen on the page; what is said there afterwards, and the step to frame if not the next."""
        if station.wants is not None:
            self._keep(station.wants)
            return "" if self._found().patterns else NO_PATTERN, None
        if station.opens is None:
            return station.notice, station.chosen
        step = STEPS[station.chosen]
        self._window.glimpse(replace(station, question=None, notice=ONE_MOMENT))
        try:
            verb, typed = understood(station.opens)
            left = replace(self._left, step=step.name, answers=station.answers)
            self._keep(learned(left, station.opens))
            self._prepare(step.name)
            self._run_command(verb, typed)
        except LightLostError:
            raise
        except MENDABLE as error:
            return without_folder(str(error), self._left), station.chosen
        except BaseException:
            self._keep(
                replace(self._left, step=None, answers=())
            )  # what fell by a bug must not open by itself
            raise
        found = self._found()
        return step.kept(found), next_after(found, station.chosen)

    def _prepare(self, step: str) -> None:
        practice = Path(self._left.folder) / PRACTICE
        if step == "practise" and not practice.exists():
            write_bytes(practice, example("practice pocket").read_bytes())

    def _run_command(self, verb: Verb, typed: Namespace) -> None:
        typed.open_window = self._window
        preview = not self._window.watches_place
        typed.window = self._screen_px if preview else None
        typed.display = self._left.display or 0
        run_parsed(verb, typed)

    def _found(self) -> Found:
        return Found.of(self._left, self._screen_px, self._screen_name)

    def _stood(self, side: int) -> None:
        self._keep(replace(self._left, side=side))

    def _keep(self, left: Left) -> None:
        self._left = left
        self._forgets = keep_left(self._kept_in, left)


def learned(left: Left, command: Sequence[str]) -> Left:
    """What a command says of the ones to come: the paper, what the light is aligned by, the pattern that is traced."""
    said = dict(pairwise(command))
    match command[0]:
        case "sheet":
            return replace(left, paper=said["--paper"])
        case "align":
            mat = (said["--mat-pitch"], said["--mat-size"]) if "--mat-pitch" in said else None
            return replace(left, mat=mat, camera=said.get("--camera"))
        case "trace":
            return replace(left, pattern=Path(said["--out"]).name)
        case _:
            return left


def understood(command: Sequence[str]) -> tuple[Verb, Namespace]:
    """The command; ProjectorError where what was answered makes none, with the parser's own reason."""
    complaint = StringIO()
    try:
        with redirect_stderr(complaint):
            return parsed(command)
    except SystemExit as error:
        reason = complaint.getvalue().strip().rpartition("error: ")[2]
        raise ProjectorError(re.sub(r"^argument --[a-z-]+: ", "", reason)) from error


def left_now(arguments: Namespace, kept: Left | None) -> Left:
    """Where it was left, with what was asked for now in its place; a pattern file stands for its folder too."""
    asked = (arguments.folder or Path(kept.folder if kept else ".")).resolve()
    here = str(asked.parent if asked.is_file() else asked)
    left = kept if kept is not None and kept.folder == here else _begun_in(here, kept)
    if asked.is_file() and asked.name not in (left.pattern, TABLE):
        left = replace(left, pattern=asked.name, pattern_version=None, step=None, answers=())
    if arguments.display is not None:
        left = replace(left, display=arguments.display, window_px=None)
    if arguments.window is not None:
        left = replace(left, window_px=arguments.window, display=None)
    if arguments.paper is not None:
        left = replace(left, paper=arguments.paper)
    if arguments.camera is not None:
        left = replace(left, camera=arguments.camera, mat=None)
    if arguments.mat_pitch is not None:
        left = replace(left, mat=(arguments.mat_pitch, arguments.mat_size), camera=None)
    return left


def _begun_in(folder: str, kept: Left | None) -> Left:
    """A folder that was not open last: with the same light, on the pattern of it that was written last."""
    paths = [Path(folder) / name for name in patterns_in(Path(folder))]
    latest = max(paths, key=lambda path: path.stat().st_mtime, default=None)
    left = (
        Left(folder=folder)
        if kept is None
        else replace(kept, folder=folder, step=None, answers=(), pattern_version=None)
    )
    return replace(left, pattern=None if latest is None else latest.name)


def _where(left: Left) -> OnDisplay | InWindow:
    """Where the light goes; of several displays the last, since the projector is plugged in after the others."""
    if left.window_px is not None:
        return InWindow(size_px=left.window_px)
    return OnDisplay(number=len(display_sizes()) - 1 if left.display is None else left.display)


def _size(where: OnDisplay | InWindow) -> tuple[int, int]:
    return where.size_px if isinstance(where, InWindow) else display_size(where.number)
