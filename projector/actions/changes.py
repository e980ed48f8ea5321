"""What changes a pattern: its steps, its finish, its version."""

from dataclasses import dataclass


@dataclass(frozen=True, slots=True, kw_only=True)
class ChangeVersion:
    """Draft another version of the pattern: first all changes, then each that is named."""


@dataclass(frozen=True, slots=True, kw_only=True)
class ChangeSeams:
    """Another finish of the seams, and the allowances that go with it."""


@dataclass(frozen=True, slots=True, kw_only=True)
class ChangeHems:
    """Hems folded once, or twice."""


@dataclass(frozen=True, slots=True, kw_only=True)
class AddChange:
    """Ask for a change more, after the one that is chosen."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Rewrite:
    """Ask for all that the chosen change says."""


@dataclass(frozen=True, slots=True, kw_only=True)
class SwitchChange:
    """The chosen change off, or on again."""
