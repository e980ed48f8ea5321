"""Lengths read back from sentences, for tests that the same garment is said alike in every unit."""

import re
from collections.abc import Iterable, Mapping

from patterns.measures import Unit, inches

LENGTH = re.compile(r"(?<![\w.])(-?(?:\d+ )?\d+/\d+|-?\d+(?:\.\d+)?) (in|cm|mm)\b")
INCH = re.compile(r"\d in\b|\d ?\"|inch", re.IGNORECASE)
METRIC = re.compile(r"\d (cm|mm)\b")
HALF_A_MARK_IN = {Unit.IN: 1 / 32, Unit.CM: 0.5 / 25.4, Unit.MM: 0.5 / 25.4}  # of a tape, which is rounded to


def lengths_in(sentence: str) -> list[float]:
    """Every length of the sentence, in inches."""
    return [inches(" ".join(found)) for found in LENGTH.findall(sentence)]


def unsaid(sentence: str) -> str:
    """The sentence without its lengths."""
    return LENGTH.sub("LENGTH", sentence)


def check_alike(by_unit: Mapping[Unit, Iterable[str]], leeway_in: float = 0.0) -> None:
    """The same sentences with the same lengths, each in its own unit, as far as a tape can tell."""
    usual = list(by_unit[Unit.IN])
    assert any(map(lengths_in, usual))
    for unit in (Unit.CM, Unit.MM):
        told = list(by_unit[unit])
        assert [one for one in told if INCH.search(one)] == []
        assert [unsaid(one) for one in told] == [unsaid(one) for one in usual]
        near = HALF_A_MARK_IN[Unit.IN] + HALF_A_MARK_IN[unit] + leeway_in + 1e-9
        for one, other in zip(told, usual, strict=True):
            apart = [abs(a - b) for a, b in zip(lengths_in(one), lengths_in(other), strict=True)]
            assert max(apart, default=0.0) <= near, (one, other)
