"""What a whole remnant is still good for: the strips of the pattern, or a scarf."""

import math
from collections.abc import Iterator, Sequence
from typing import Final

from patterns.changes import Strip
from patterns.cutting.drafted import DraftedPattern
from patterns.laying.remnant import Rectangle
from patterns.measures import NOTHING_IN
from patterns.saying import Say

LEAST_STRIP_IN: Final = (
    6.0  # from join to join of a binding: of shorter ones it is more seam than strip; common practice
)


def strip_words(pattern: DraftedPattern, remnant: Rectangle, say: Say) -> Iterator[str]:
    """Of each strip that is cut beside the pieces, whether the remnant gives it."""
    for strip in pattern.strips:
        wide, long = say(strip.width_in), say(strip.length_in)
        each = f"{strip.count} of " if strip.count > 1 else ""
        if not is_on_the_bias(pattern, strip):
            given = holds(remnant, [(strip.width_in, strip.length_in)] * strip.count)
            yield f"{_gives(given)} the {strip.name.replace('/', ' ')}, {each}{wide} by {long}"
            continue
        count, each_in = bias_strips(remnant, strip.width_in)
        given = count * each_in >= strip.count * strip.length_in
        has = f"holds {say(count * each_in)} of bias strip {wide} wide, joined from strips of {say(each_in)}"
        if not count:
            has = f"is too narrow for bias strips of {say(LEAST_STRIP_IN)}"
        yield f"{_gives(given)} the {strip.name.replace('/', ' ')}, {each}{long} long: it {has}"


def scarf_words(remnant: Rectangle, scarf_in: tuple[float, float], say: Say) -> str:
    """Whether it gives a rectangle of that size, whichever way it lies."""
    wide, long = scarf_in
    return f"{_gives(holds(remnant, [scarf_in]))} a scarf of {say(wide)} by {say(long)}"


def is_on_the_bias(pattern: DraftedPattern, strip: Strip) -> bool:
    """Whether it wraps bare edges; a band, which is sewn to an allowance, is cut with the grain."""
    edges = (pattern.pieces[ref.piece].edges[ref.edge] for ref in strip.edges)
    return all(edge.allowance_in <= NOTHING_IN for edge in edges)


def bias_strips(remnant: Rectangle, width_in: float) -> tuple[int, float]:
    """How many bias strips so wide, and how long each, to be joined end to end at the grain (common practice).

    They run at 45 degrees between the two long sides: each takes sqrt(2) widths of the length, and is as long as the
    diagonal of a square on the short side, less a width that goes into its slanting ends. None where they would be
    shorter than LEAST_STRIP_IN.
    """
    short, long = sorted((remnant.width_in, remnant.length_in))
    each_in = short * math.sqrt(2.0) - width_in
    if each_in < LEAST_STRIP_IN:
        return 0, 0.0
    return max(0, math.floor((long - short) / (width_in * math.sqrt(2.0)) + NOTHING_IN)), each_in


def holds(remnant: Rectangle, sizes_in: Sequence[tuple[float, float]]) -> bool:
    """Whether so many equal rectangles lie in it side by side, all along the cloth or all across it."""
    wide, long = sizes_in[0]
    return any(
        math.floor(remnant.width_in / across + NOTHING_IN)
        * math.floor(remnant.length_in / along + NOTHING_IN)
        >= len(sizes_in)
        for across, along in ((wide, long), (long, wide))
    )


def _gives(given: bool) -> str:
    return "what stays whole gives" if given else "what stays whole does not give"
