"""What is checked while a pattern is drafted, the gravest first."""

from dataclasses import dataclass

from patterns.changes.truings import TRUABLE_IN
from patterns.checks.head_check import HeadCheck, head_check
from patterns.checks.joins import TRUE_IN
from patterns.cutting.drafted import DraftedPattern
from patterns.measures import said_in


@dataclass(frozen=True, slots=True, kw_only=True)
class Wearer:
    """The wearer's head in inches round, and a slit at the neck for it to go through."""

    head_in: float
    opening_in: float = 0.0


def neck_words(drafted: DraftedPattern, wearer: Wearer) -> str:
    """How long the neck is and whether it goes over the head; nothing where there is none."""
    head = _head(drafted, wearer)
    if head is None:
        return ""
    verdict = "goes over the head" if head.passed else "TOO SMALL for the head"
    return f"neck {said_in(head.neck_in, drafted.unit)}: {verdict}"


def head_warning(drafted: DraftedPattern, wearer: Wearer) -> str:
    """Why the neck may not go over the head; empty where it does, or there is none."""
    head = _head(drafted, wearer)
    return "" if head is None else head.warning


def warnings(drafted: DraftedPattern, wearer: Wearer) -> tuple[str, ...]:
    """What cannot be worn, then what cannot be sewn, then what should be looked at."""
    head = _head(drafted, wearer)
    cannot_be_worn = [head.warning] if head is not None and head.ease_in <= 0 else []
    may_not_go = [head.warning] if head is not None and head.warning and head.ease_in > 0 else []
    cannot_be_sewn = [one.warning for one in drafted.joins if abs(one.difference_in) > TRUABLE_IN]
    rest = [warning for warning in drafted.warnings if warning not in cannot_be_sewn]
    return (*cannot_be_worn, *cannot_be_sewn, *may_not_go, *rest)


def apart_words(drafted: DraftedPattern) -> tuple[str, ...]:
    """Which joined edges differ, and by how much, the worst first, in a few words each."""
    apart = [one for one in drafted.joins if one.apart_in > TRUE_IN]
    return tuple(
        f"{one.edges[0]} {'longer' if one.difference_in > 0 else 'shorter'} than {one.edges[1]} "
        f"by {said_in(abs(one.difference_in), drafted.unit)}"
        for one in sorted(apart, key=lambda one: -abs(one.difference_in))
    )


def _head(drafted: DraftedPattern, wearer: Wearer) -> HeadCheck | None:
    return head_check(drafted, wearer.head_in, wearer.opening_in)
