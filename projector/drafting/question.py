"""What is asked for at the drafting table, and answered by typing: a number, or all that a change says."""

from collections.abc import Callable
from dataclasses import dataclass, replace
from typing import ClassVar

from patterns.changes.change_list import with_change, with_change_added
from patterns.changes.said_change import said_change
from patterns.errors import PatternError
from patterns.measures import Length
from projector.drafting.bindings import TYPING_CHANGE, TYPING_NUMBER
from projector.drafting.offers import offers, said
from projector.drafting.work import DraftWork
from projector.words.typed_answer import TypedAnswer


@dataclass(frozen=True, slots=True, kw_only=True)
class DraftQuestion(TypedAnswer):
    """`answer` makes of the work and what was typed the work that follows; PatternError for what is no answer."""

    longest: ClassVar[int] = 160
    answer: Callable[[DraftWork, str], DraftWork]


def of_number(work: DraftWork) -> DraftQuestion:
    """How long the chosen number is to be; PatternError where none is chosen."""
    length = work.length
    name = work.stop.field.replace("_", " ")

    def answer(then: DraftWork, text: str) -> DraftWork:
        try:
            typed = Length(spelling=text, unit=then.pattern.unit)
        except PatternError as error:
            raise PatternError("that is no length: write 8 1/4 in or 21 cm") from error
        return then.with_length(typed)

    return DraftQuestion(asks=f"{name} {length.words}, now:", bindings=TYPING_NUMBER, answer=answer)


def of_change(work: DraftWork) -> DraftQuestion:
    """All that the chosen change says; PatternError where none is chosen."""
    number, off = work.stop.number, work.change.off

    def answer(then: DraftWork, text: str) -> DraftWork:
        change = replace(said_change(text, then.pattern.unit), off=off)
        return then.with_pattern(with_change(then.pattern, number, change))

    return DraftQuestion(asks="now:", bindings=TYPING_CHANGE, answer=answer, text=said(work.change))


def of_new_change(work: DraftWork) -> DraftQuestion:
    """What a change more, after the chosen one, is to say."""
    at = work.stop.number + 1 if work.stops else 0

    def answer(then: DraftWork, text: str) -> DraftWork:
        change = said_change(text, then.pattern.unit)
        return then.with_pattern(with_change_added(then.pattern, at, change), at).showing_change()

    return DraftQuestion(
        asks="add:", bindings=TYPING_CHANGE, answer=answer, offers=offers(work, at)
    ).offered()
