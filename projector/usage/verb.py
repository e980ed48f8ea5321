"""What the command line knows of a verb: names and options, nothing heavy, so that --help starts at once."""

from argparse import ArgumentParser, Namespace
from collections.abc import Callable
from typing import NamedTuple


def no_complaint(_: Namespace) -> None:
    """For verbs whose options all go together."""


class Verb(NamedTuple):
    """A plain tuple, since the machinery of dataclasses costs a tenth of the time that --help may take.

    `complaint` says what argparse cannot see, such as options that do not go together; None if nothing.
    `runs` is the full name of the function that does what was typed; it is imported only then.
    """

    name: str
    does: str
    example: str
    options: Callable[[ArgumentParser], None]
    runs: Callable[[Namespace], str]
    complaint: Callable[[Namespace], str | None] = no_complaint
