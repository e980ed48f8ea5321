"""Whether projector, table or sheets have moved since the alignment."""

from dataclasses import dataclass
from datetime import datetime

import numpy as np


@dataclass(frozen=True, slots=True, kw_only=True)
class DriftTest:
    """`moved_in`: inches by which the light has moved at the worst place; `what`: a sentence for the person.

    `moved` says whether the light is no longer where the alignment has it, so that cutting should wait; where the
    look could not tell, it is not `sure`, and has not found that it moved either.
    """

    looked_on: datetime
    moved_in: float
    what: str
    moved: bool
    sure: bool = True

    def __post_init__(self) -> None:
        if not 0 <= self.moved_in < np.inf:
            raise ValueError(f"a move is 0 in or more, found {self.moved_in}")
        if self.moved and not self.sure:
            raise ValueError("what has moved is sure, found a move that is not")
        if not self.what:
            raise ValueError("a drift test says in words what moved, found nothing")
