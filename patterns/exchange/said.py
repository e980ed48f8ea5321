"""What a file says in words of a piece and its edges, as values; nothing where it makes no sense to us."""

import re
from typing import Final

from patterns.errors import PatternError
from patterns.exchange.drawn import SaidEdge
from patterns.measures import Length
from patterns.parts import Allowance, CutCount, Kind

_CUT: Final = re.compile(
    r"(?:cut\s+)?(?P<count>\d{1,2})(?P<fold>\s+on\s+fold)?(?P<mirrored>\s+mirrored)?", re.I
)


def cut_count(text: str) -> CutCount | None:
    """How many are to be cut, from words.

    >>> cut_count("cut 2 mirrored"), cut_count("1 on fold").on_fold, cut_count("some")
    (CutCount(count=2, on_fold=False, mirrored=True), True, None)
    """
    match = _CUT.fullmatch(text.strip())
    if match is None:
        return None
    try:
        return CutCount(
            count=int(match["count"]), on_fold=bool(match["fold"]), mirrored=bool(match["mirrored"])
        )
    except PatternError:
        return None


def said_edge(name: str, kind: str, allowance: str) -> SaidEdge | None:
    """An edge by its name, the word for its kind, and its allowance: "1/2 in", or "1/4 in + 1/4 in"."""
    kinds = {one.value: one for one in Kind}
    if not name.strip() or kind.strip() not in kinds:
        return None
    return SaidEdge(name=name.strip(), kind=kinds[kind.strip()], allowance=_allowance(allowance))


def _allowance(text: str) -> Allowance | None:
    if not text.strip():
        return None
    try:
        return Allowance(parts=tuple(Length(spelling=part.strip()) for part in text.split("+")))
    except PatternError:
        return None
