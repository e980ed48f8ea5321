"""The rules of a lay: what is broken, in sentences.

All of it is asked of the flat cloth: whatever the fold, what is taken from it must be apart, within the selvedges
and off the flaws.
"""

from collections.abc import Iterator

from patterns.laying import hang_rules, place_rules
from patterns.laying.lay import Lay
from patterns.laying.violation import Violation


def violations(lay: Lay) -> tuple[Violation, ...]:
    """Every rule that the lay breaks; empty for a lay that may be cut."""
    found = [violation for number in range(len(lay.placed)) for violation in _alone(lay, number)]
    for number in range(len(lay.placed)):
        found += place_rules.apart(lay, number, range(number))
    return (*found, *hang_rules.nap_of_fold(lay), *hang_rules.all_cut(lay))


def violations_of(lay: Lay, number: int) -> tuple[Violation, ...]:
    """What one piece breaks, by itself and beside the others: quick enough to ask while it is moved."""
    others = tuple(other for other in range(len(lay.placed)) if other != number)
    return (*_alone(lay, number), *place_rules.apart(lay, number, others))


def _alone(lay: Lay, number: int) -> Iterator[Violation]:
    yield from place_rules.on_the_cloth(lay, number)
    yield from place_rules.on_its_fold(lay, number)
    yield from hang_rules.along_its_grain(lay, number)
    yield from hang_rules.with_the_nap(lay, number)
    yield from hang_rules.in_step(lay, number)
