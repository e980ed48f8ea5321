"""How far long work has come, as one line that is written over and gone at the end."""

import sys
from io import StringIO
from types import TracebackType
from typing import Self, TextIO


class Progress:
    """Tells each step that is done on a terminal, and nothing anywhere else; to be used with `with`."""

    def __init__(self, stream: TextIO) -> None:
        self._stream = stream
        self._about = ""
        self._shown = stream.isatty()
        self._length = 0

    def __enter__(self) -> Self:
        return self

    def __exit__(
        self, kind: type[BaseException] | None, error: BaseException | None, trace: TracebackType | None
    ) -> None:
        self._write("")
        if self._length:
            self._stream.write("\r")
            self._stream.flush()

    def of(self, about: str) -> None:
        """What the steps from here on are of."""
        self._about = about

    def __call__(self, step: str) -> None:
        """One step is done."""
        self._write(f"{self._about}: {step} ..." if self._about else f"{step} ...")

    def _write(self, words: str) -> None:
        if self._shown:
            self._stream.write(f"\r{words:<{self._length}}")
            self._stream.flush()
            self._length = max(self._length, len(words))


def on_terminal() -> Progress:
    """On standard error, so that what is printed stands alone."""
    return Progress(sys.stderr)


def quiet() -> Progress:
    """For a program that reads the result: nothing, terminal or not."""
    return Progress(StringIO())
