"""What is to be seen, and how."""

from dataclasses import dataclass


@dataclass(frozen=True, slots=True, kw_only=True)
class Flip:
    """So many pieces on."""

    by: int


@dataclass(frozen=True, slots=True, kw_only=True)
class Show:
    """The piece with this number, counted from 1."""

    number: int


@dataclass(frozen=True, slots=True, kw_only=True)
class ShowJoined:
    """The next of the pieces that are sewn to the shown one, joined to it at an end of their seam; at last none."""


@dataclass(frozen=True, slots=True, kw_only=True)
class ChangeSide:
    """The person walked round the table by a quarter turn: words and steps turn towards them."""


@dataclass(frozen=True, slots=True, kw_only=True)
class ChangeLook:
    """The next of the looks: for another kind of cloth."""


@dataclass(frozen=True, slots=True, kw_only=True)
class ChangeLine:
    """So many steps wider (+1) or narrower (-1)."""

    by: int


@dataclass(frozen=True, slots=True, kw_only=True)
class ChangeText:
    """So many steps larger (+1) or smaller (-1)."""

    by: int


@dataclass(frozen=True, slots=True, kw_only=True)
class ShowRepeats:
    """Repeats of the cut line beside it, or none."""


@dataclass(frozen=True, slots=True, kw_only=True)
class ShowGrid:
    """A grid of inches, of centimetres, or none."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Blank:
    """Light off, or on again."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Help:
    """The keys, on the table."""
