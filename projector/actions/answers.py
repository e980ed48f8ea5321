"""What goes on, takes back, answers a question or leaves."""

from dataclasses import dataclass


@dataclass(frozen=True, slots=True, kw_only=True)
class Accept:
    """The cross lies on the mark, or what was typed is right."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Next:
    """On to the next thing to do, in order; what is to be done here is done."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Back:
    """The thing before, as it stands; nothing is taken back."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Offer:
    """Another of the usual answers in place of what was typed."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Cancel:
    """No answer to what is asked for."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Finish:
    """Good enough: keep the result and leave."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Type:
    """Write this sign where words or numbers are asked for."""

    text: str


@dataclass(frozen=True, slots=True, kw_only=True)
class ChangeTool:
    """The arrow keys work on something else."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Undo:
    """Take the last change back."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Redo:
    """Make the change again that was taken back last."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Quit:
    """Leave; what was placed is kept."""
