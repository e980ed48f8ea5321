"""Options that several verbs have."""

from argparse import ArgumentParser
from pathlib import Path
from typing import Any, Protocol

from projector.arguments import display_number, pixels

PAPER_NAMES = ("letter", "a4")


class TakesArguments(Protocol):
    """A parser, or a group of its arguments."""

    def add_argument(self, *names: str, **details: Any) -> object:
        """One more."""


class TakesGroups(Protocol):
    """The same where only one of some arguments may be given."""

    def add_mutually_exclusive_group(self) -> TakesArguments:
        """A group of such."""


def is_same_file(one: Path | None, other: Path | None) -> bool:
    """Whether the two, if both are given, name one file, which writing the first would lose."""
    return one is not None and other is not None and one.resolve() == other.resolve()


def add_paper(verb: TakesArguments) -> None:
    """The paper of the sheets."""
    verb.add_argument("--paper", choices=PAPER_NAMES, default="letter", help="the sheets' paper (letter)")


def add_table(verb: ArgumentParser, *, required: bool = True) -> None:
    """The table file to read, and which of its set-ups."""
    verb.add_argument(
        "--table", type=Path, required=required, metavar="T.yaml", help="the table file from align"
    )
    verb.add_argument(
        "--setup",
        metavar="NAME",
        help="which of the file's set-ups; needed where two have this screen's size",
    )


def add_where(verb: TakesGroups) -> None:
    """The display to light, or a window to look at."""
    where = verb.add_mutually_exclusive_group()
    where.add_argument(
        "--display", type=display_number, default=0, metavar="N", help="the projector's display, from 0 (0)"
    )
    where.add_argument(
        "--window", type=pixels, metavar="WxH", help="a preview window instead; it is not true to size"
    )
