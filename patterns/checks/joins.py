"""How the edges that are sewn to one another compare, on the seam line."""

from dataclasses import dataclass
from typing import Final

from patterns.changes import Draft, Join
from patterns.changes.facings import facing_name
from patterns.changes.truings import TRUABLE_IN
from patterns.measures import Unit
from patterns.saying import Say

TRUE_IN: Final = 1 / 16  # joined edges this close sew together flat (common practice)


@dataclass(frozen=True, slots=True, kw_only=True)
class JoinReport:
    """Two joined edges with their lengths in inches; `warning` is empty where they are true, else says `unit`."""

    join: Join
    first_in: float
    second_in: float
    unit: Unit = Unit.IN

    @property
    def edges(self) -> tuple[str, str]:
        """Both edges, "front/side"."""
        return str(self.join.first), str(self.join.second)

    @property
    def difference_in(self) -> float:
        """Inches by which the first is longer than the second."""
        return self.first_in - self.second_in

    @property
    def ease_in(self) -> float:
        """Inches by which the second is meant to be longer."""
        return self.join.ease.inches if self.join.ease is not None else 0.0

    @property
    def apart_in(self) -> float:
        """Inches by which their difference is not the one that is meant; less than TRUE_IN sews together flat."""
        return abs(self.first_in - self.second_in + self.ease_in)

    @property
    def warning(self) -> str:
        """What a cutter should do about the difference."""
        apart = self.apart_in
        if apart <= TRUE_IN:
            return ""
        (first, second), say = self.edges, Say(self.unit)
        found = f"{first} is {say.finely(self.first_in)} and {second} {say.finely(self.second_in)} long: "
        if self.join.ease is not None:
            more = "more" if self.difference_in + self.ease_in < 0 else "less"
            return (
                f"{found}{say(apart, 32)} {more} than the ease of {self.join.ease.words} that is wanted; redraw "
                "one, or give the ease that it has"
            )
        if self._is_facing:
            mended = "move the facing below the changes of its neck, or redraw it"
            return f"{found}they differ by {say(apart, 32)}; {mended}"
        if apart <= TRUABLE_IN:
            trued = f"true them: {{true up: [{first}, {second}]}} among the changes does it"
            return f"{found}they differ by {say(apart, 32)}; {trued}"
        found += f"they differ by {say.beyond(TRUABLE_IN, apart, 32)}"
        return f"{found}, more than {say(TRUABLE_IN)}; they will not sew together flat, so redraw one"

    @property
    def _is_facing(self) -> bool:
        """Whether the second is called the facing of the first, as one is that a change has made."""
        first, second = self.join.first, self.join.second
        return first.edge == second.edge and second.piece == facing_name(first.piece)


def join_reports(draft: Draft, unit: Unit) -> tuple[JoinReport, ...]:
    """Each join whose pieces are there in this version."""
    return tuple(
        JoinReport(join=join, first_in=first.curve.length_in, second_in=second.curve.length_in, unit=unit)
        for join, first, second in draft.sewn_edges
    )
