"""Whether projector, table or sheets have moved since the alignment."""

from dataclasses import dataclass
from datetime import datetime

import numpy as np


@dataclass(frozen=True, slots=True, kw_only=True)
class DriftTest:
    """`moved_in`: inches by which the light has moved at the worst place; `what`: a sentence for the person.

    `moved` says whether the light is no longer where the alignment has it, so that cutting should wait.
    """

    looked_on: datetime
    moved_in: float
    what: str
    moved: bool

    def __post_init__(self) -> None:
        if not 0 <= self.moved_in < np.inf:
            raise ValueError(f"a move is 0 in or more, found {self.moved_in}")
        if not self.what:
            raise ValueError("a drift test says in words what moved, found nothing")
