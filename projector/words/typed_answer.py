"""What is answered at the table by typing: the question, what is typed so far, and the usual answers."""

from dataclasses import dataclass, replace
from typing import ClassVar, Final, Self

from patterns.parts import LONGEST_NAME
from projector.actions import Action, Offer, Type, Undo
from projector.bindings import Binding

CARET: Final = "_"  # still: nothing on the table flashes


@dataclass(frozen=True, slots=True, kw_only=True)
class TypedAnswer:
    """`longest` is how many signs are taken: they must still be read on the table.

    While the text stands `as_offered`, what is typed takes its place; erasing keeps it to be mended.
    """

    longest: ClassVar[int] = LONGEST_NAME
    asks: str
    bindings: tuple[Binding, ...]
    offers: tuple[str, ...] = ()
    text: str = ""
    as_offered: bool = False

    @property
    def words(self) -> str:
        """The question, and what is typed so far."""
        return f"{self.asks} {self.text}{CARET}"

    def after(self, action: Action) -> Self:
        """The answer after what was typed, taken back or offered; the very same after anything else."""
        match action:
            case Type(text=sign):
                return self.typed(sign)
            case Offer():
                return self.offered()
            case Undo():
                return self.erased()
            case _:
                return self

    def typed(self, sign: str) -> Self:
        """With one more sign."""
        before = "" if self.as_offered else self.text
        return replace(self, text=(before + sign)[: self.longest], as_offered=False)

    def erased(self) -> Self:
        """With one sign fewer."""
        return replace(self, text=self.text[:-1], as_offered=False)

    def offered(self) -> Self:
        """With the next of the usual answers in place of what was typed."""
        if not self.offers:
            return self
        following = (self.offers.index(self.text) + 1) % len(self.offers) if self.text in self.offers else 0
        return replace(self, text=self.offers[following], as_offered=True)
