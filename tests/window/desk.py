"""A desk for tests: a virtual display, the real program in it, real keys, and the pixels that are shown."""

import os
import shutil
import subprocess
import sys
import time
from collections.abc import Callable, Iterator, Sequence
from contextlib import contextmanager
from dataclasses import dataclass, field
from pathlib import Path

import cv2
import numpy as np
import numpy.typing as npt

SIZE_PX = (1920, 1080)
SCREEN_NAME = "screen"  # what the virtual display's one output calls itself
PATIENCE_S = 30.0
LOOK_EVERY_S = 0.02
PEDAL_S = 0.3
NEEDED = ("Xvfb", "xdotool")

Pixels = npt.NDArray[np.uint8]


def check_tools() -> None:
    """Fail, never skip, where the display or the keys are missing."""
    missing = [tool for tool in NEEDED if shutil.which(tool) is None]
    if missing:
        raise RuntimeError(
            f"the window tests need {' and '.join(missing)}; on Debian: apt install xvfb xdotool"
        )


@dataclass(frozen=True, slots=True, kw_only=True)
class Desk:
    """One virtual display; `memory` is its picture, kept by the server in a file."""

    display: str
    memory: Path

    def pixels(self) -> Pixels:
        """(h, w, 3) red, green, blue of the whole display, now."""
        raw = np.fromfile(self.memory, dtype=np.uint8)
        header = raw[:100].view(">u4")
        start = int(header[0]) + 12 * int(header[19])
        width, height, row = int(header[4]), int(header[5]), int(header[12])
        image = raw[start : start + row * height].reshape(height, row)[:, : 4 * width]
        return np.asarray(cv2.cvtColor(image.reshape(height, width, 4), cv2.COLOR_BGRA2RGB), dtype=np.uint8)

    def xdotool(self, *arguments: str) -> str:
        """One call of xdotool, never waiting for ever."""
        done = subprocess.run(
            ["xdotool", *arguments],
            env={**os.environ, "DISPLAY": self.display},
            capture_output=True,
            text=True,
            timeout=PATIENCE_S,
            check=True,
        )
        return done.stdout.strip()

    def keys(self, *names: str) -> None:
        """Press the keys one after the other."""
        self.xdotool("key", "--delay", "15", *names)

    def pedal(self, *names: str) -> None:
        """Press the keys as a foot or a thumb does: none so soon again that it may be a worn switch's."""
        for name in names:
            time.sleep(PEDAL_S)
            self.keys(name)

    def drag(self, start: tuple[int, int], end: tuple[int, int]) -> None:
        """With the left button down, in three moves."""
        middle = ((start[0] + end[0]) // 2, (start[1] + end[1]) // 2)
        steps = ["mousemove", str(start[0]), str(start[1]), "mousedown", "1"]
        for x, y in (middle, end):
            steps += ["mousemove", str(x), str(y)]
        self.xdotool(*steps, "mouseup", "1")

    def wait_for(self, shows: Callable[[Pixels], bool], what: str) -> Pixels:
        """The picture, once it shows what is wanted."""
        end = time.monotonic() + PATIENCE_S
        while time.monotonic() < end:
            pixels = self.pixels()
            if shows(pixels):
                return pixels
            time.sleep(LOOK_EVERY_S)
        raise AssertionError(f"after {PATIENCE_S:.0f} s the display still does not show {what}")

    @contextmanager
    def program(self, *arguments: str | Path) -> Iterator["Program"]:
        """The program, run as a person would; ended when the test is over."""
        process = subprocess.Popen(
            [sys.executable, "-m", "projector", *map(str, arguments)],
            env={**os.environ, "DISPLAY": self.display},
            stdout=subprocess.PIPE,
            stderr=subprocess.PIPE,
            text=True,
        )
        program = Program(desk=self, process=process)
        try:
            yield program
        finally:
            if process.poll() is None:
                process.kill()
            program.end()


@dataclass(slots=True, kw_only=True)
class Program:
    """A running program."""

    desk: Desk
    process: "subprocess.Popen[str]"
    said: tuple[str, str] | None = field(default=None)

    def focus(self) -> str:
        """Wait for the window and give it the keys; its number."""
        window = self.desk.xdotool("search", "--sync", "--onlyvisible", "--class", "chalkbeam").split()[-1]
        self.desk.xdotool("windowfocus", "--sync", window)
        return window

    def end(self) -> tuple[int, str, str]:
        """Exit code, output and errors, once it has ended by itself."""
        if self.said is None:
            self.said = self.process.communicate(timeout=PATIENCE_S)
        return self.process.returncode, *self.said


@contextmanager
def a_desk(folder: Path, size_px: tuple[int, int] = SIZE_PX) -> Iterator[Desk]:
    """A display of its own number, with its memory in the folder."""
    check_tools()
    reader, writer = os.pipe()
    command: Sequence[str] = (
        "Xvfb", "-displayfd", str(writer), "-screen", "0", f"{size_px[0]}x{size_px[1]}x24",
        "-fbdir", str(folder), "-nolisten", "tcp", "-br",
    )  # fmt: skip
    server = subprocess.Popen(
        command, pass_fds=(writer,), stdout=subprocess.DEVNULL, stderr=subprocess.DEVNULL
    )
    os.close(writer)
    try:
        with os.fdopen(reader) as numbers:
            number = numbers.readline().strip()
        if not number:
            raise RuntimeError("Xvfb did not start; run it by hand to see why: Xvfb -displayfd 1")
        yield Desk(display=f":{number}", memory=folder / "Xvfb_screen0")
    finally:
        server.terminate()
        server.wait(timeout=PATIENCE_S)
