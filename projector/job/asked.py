"""A question that a step asks before it begins, the usual answers to it, and the keys that answer it."""

from argparse import ArgumentTypeError
from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace
from typing import Final

from projector.actions import Accept, Finish, Offer
from projector.bindings import BLANK, Binding
from projector.errors import ProjectorError
from projector.tracing.bindings import NAMING

REST: Final = Binding(
    shown="page down",
    says="that, and to all that follows what is shown",
    keys=("page down",),
    actions=(Finish(),),
)
MOUSE: Final = (
    Binding(shown="left button", says="that is it", keys=("left button",), actions=(Accept(),)),
    Binding(shown="right button", says="another answer", keys=("right button",), actions=(Offer(),)),
)
WORDS: Final = (replace(NAMING[0], says="the answer"), *NAMING[1:], REST, *MOUSE)
LENGTH: Final = (
    replace(NAMING[0], says="a length, such as 7 31/32 in or 20.3 cm", signs=NAMING[0].signs + '/.",%'),
    *NAMING[1:5],
    replace(BLANK, shown="F6", keys=("f6",)),  # "." may be meant
    *NAMING[6:],
    REST,
    *MOUSE,
)

Answers = tuple[str, ...]


def _any(text: str) -> object:
    return text


@dataclass(frozen=True, slots=True, kw_only=True)
class Asked:
    """A question, and the usual answers; where it is `closed`, there are no others.

    `reads` is what the command reads an answer with; its ArgumentTypeError says what is wrong.
    """

    question: str
    offers: tuple[str, ...]
    bindings: tuple[Binding, ...] = WORDS
    closed: bool = False
    reads: Callable[[str], object] = _any

    @property
    def in_short(self) -> str:
        """The question with its first usual answer."""
        return f"{self.question} {self.offers[0]}"

    def answer(self, typed: str) -> str:
        """What is meant by what was typed: of a few, the one that begins so. ProjectorError where it is none."""
        if not typed:
            raise ProjectorError("type an answer; tab shows the usual ones")
        if self.closed:
            return self._one_of_few(typed)
        try:
            self.reads(typed)
        except ArgumentTypeError as error:
            raise ProjectorError(str(error)) from error
        return typed

    def _one_of_few(self, typed: str) -> str:
        meant = [offer for offer in self.offers if offer.startswith(typed)]
        if typed not in self.offers and len(meant) != 1:
            raise ProjectorError(f"one of these: {', '.join(self.offers)}")
        return typed if typed in self.offers else meant[0]


def of_nothing(_: object, __: Answers) -> tuple[Asked, ...]:
    """No question: the step can begin."""
    return ()


def first_of(one: str, names: Sequence[str]) -> tuple[str, ...]:
    """The names, that one first."""
    return (one, *(name for name in names if name != one))
