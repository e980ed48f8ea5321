"""What is asked for while pieces lie on cloth and are cut."""

from dataclasses import dataclass


@dataclass(frozen=True, slots=True, kw_only=True)
class Untick:
    """What was ticked off last is not done after all."""


@dataclass(frozen=True, slots=True, kw_only=True)
class OtherSide:
    """To the other side of a line of the cloth, turned about and not turned over."""


@dataclass(frozen=True, slots=True, kw_only=True)
class ChangeEdge:
    """Marks lie on another edge of the cloth: the fold, the selvedge, a thread."""


@dataclass(frozen=True, slots=True, kw_only=True)
class LayOn:
    """The piece that is lit laid by the marks that are set."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Forget:
    """Marks forgotten, to be set anew."""


@dataclass(frozen=True, slots=True, kw_only=True)
class LayGauge:
    """The seam gauge laid at the cross, or lifted."""


@dataclass(frozen=True, slots=True, kw_only=True)
class CutInReaches:
    """A piece larger than the light cut in reaches, or no longer so."""


@dataclass(frozen=True, slots=True, kw_only=True)
class FindCloth:
    """The cloth found again by its two crosses."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Freeze:
    """Hold the light still, or let it move again."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Open:
    """From half on the fold to opened full, or back."""


@dataclass(frozen=True, slots=True, kw_only=True)
class OpenAll:
    """Every piece on the fold opened full, for a single layer of cloth; or all of them half again."""


@dataclass(frozen=True, slots=True, kw_only=True)
class ChangeLayers:
    """All copies of the piece by halves through two layers of cloth, or one by one again."""
