"""What was, for undoing, and what was undone, for redoing: as much of both as there is."""

from dataclasses import dataclass, replace
from typing import Generic, TypeVar

T = TypeVar("T")


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class History(Generic[T]):
    """A value with those before it, the latest last, and those undone since, the next to be redone last."""

    now: T
    before: tuple[T, ...] = ()
    undone: tuple[T, ...] = ()

    def then(self, new: T) -> "History[T]":
        """A change is made; what was undone can no longer be redone. An equal value is no change."""
        return self if new == self.now else History(now=new, before=(*self.before, self.now))

    def back(self) -> "History[T]":
        """The last change undone; the same where there is none."""
        if not self.before:
            return self
        return replace(self, now=self.before[-1], before=self.before[:-1], undone=(*self.undone, self.now))

    def forth(self) -> "History[T]":
        """The last undone change made again; the same where there is none."""
        if not self.undone:
            return self
        return replace(self, now=self.undone[-1], before=(*self.before, self.now), undone=self.undone[:-1])

    def recalling(self, left: "History[T]") -> "History[T]":
        """One that was left, if it ended in what is now; else itself."""
        return left if left.now == self.now else self
