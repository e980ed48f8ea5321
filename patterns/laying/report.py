"""What is said of a lay: the fold, the cloth to buy, the waste, what stays whole."""

from collections.abc import Iterator

from patterns.cutting.drafted import DraftedPattern
from patterns.laying.buying import Buying, bought_length_in, needed_in, said_to_buy
from patterns.laying.lay import Lay
from patterns.laying.remnant_uses import scarf_words, strip_words
from patterns.saying import Say


def cloth_lines(
    pattern: DraftedPattern,
    lay: Lay,
    buying: Buying,
    say: Say,
    scarf_in: tuple[float, float] | None,
) -> Iterator[str]:
    """What to buy, what of it is wasted, and what stays whole and is good for."""
    cloth, remnant = lay.cloth, buying.remnant
    nap = " with a nap" if cloth.has_nap else ""
    if cloth.length_in is None:
        yield f"Buy {buying.words} of cloth{nap} {say(cloth.bought_width_in)} wide; {say(lay.used_in)} are used."
    else:
        ready = "washed and squared" if cloth.shrinkage.along else "squared"
        yield (
            f"Of {say(needed_in(cloth.length_in, cloth))} of cloth{nap} {say(cloth.bought_width_in)} wide, "
            f"{say(cloth.length_in)} once it is {ready}, {say(lay.used_in)} are used."
        )
    if cloth.shrinkage.along or cloth.shrinkage.across:
        along, across = cloth.shrinkage.along, cloth.shrinkage.across
        yield f"Wash it first: it shrinks by {100 * along:g} % along and {100 * across:g} % across, which is counted."
    yield f"Waste {100 * buying.wasted:.0f} %."
    if remnant.area_in2 > 0:
        yield f"A rectangle {say(remnant.width_in)} wide and {say(remnant.length_in)} long stays whole."
    uses = list(strip_words(pattern, remnant, say))
    uses += [scarf_words(remnant, scarf_in, say)] if scarf_in is not None else []
    yield from (f"{use[0].upper()}{use[1:]}." for use in uses)
    if len(uses) > 1:
        yield "Each of these is reckoned by itself."


def used_words(lay: Lay, say: Say) -> str:
    """How much cloth it uses, of what is at hand or is to be bought."""
    used, at_hand_in = say(lay.used_in), lay.cloth.length_in
    if at_hand_in is not None:
        return f"{used} of {say(at_hand_in)} used"
    bought_in = bought_length_in(lay.used_in, lay.cloth, lay.terms.sold_by)
    return f"{used} used, {said_to_buy(bought_in, lay.terms.sold_by)} to buy"
