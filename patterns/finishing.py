"""A pattern finished otherwise: its seams or its hems, and with them the allowances that say no more than that."""

from dataclasses import replace

from patterns.cutting.finish import Finish, HemFinish, SeamFinish
from patterns.parts import Kind
from patterns.pattern import Pattern


def with_next_seams(pattern: Pattern) -> Pattern:
    """The pattern with the seam finish that follows its own, in the order in which they are told."""
    finish, ways = pattern.finish or Finish(), list(SeamFinish)
    return with_finish(pattern, replace(finish, seam=ways[(ways.index(finish.seam) + 1) % len(ways)]))


def with_next_hems(pattern: Pattern) -> Pattern:
    """The pattern with its hems folded twice that were folded once, or the other way about."""
    finish, ways = pattern.finish or Finish(), list(HemFinish)
    return with_finish(pattern, replace(finish, hem=ways[(ways.index(finish.hem) + 1) % len(ways)]))


def with_finish(pattern: Pattern, finish: Finish) -> Pattern:
    """The pattern finished so. Allowances that were given as its finish so far has them follow; others stay."""
    so_far = (pattern.finish or Finish()).allowances(pattern.unit)
    given = tuple(
        one
        for one in pattern.allowances
        if one.kind is Kind.FOLD or one.allowance.inches != so_far[one.kind].inches
    )
    return replace(pattern, finish=finish, allowances=given)


def finish_words(pattern: Pattern) -> str:
    """How it is finished, and which allowances do not follow that; nothing where the pattern does not say.

    >>> from patterns import example, read_pattern
    >>> finish_words(with_next_hems(read_pattern(example("harbour overtop"))))
    'seams overlocked, hems double'
    """
    if pattern.finish is None:
        return ""
    said = f"seams {pattern.finish.seam.value}, hems {pattern.finish.hem.value}"
    given = [f"{one.kind.value} {one.allowance}" for one in pattern.allowances if one.kind is not Kind.FOLD]
    return f"{said}; allowances given: {', '.join(given)}" if given else said
