"""The order in which copies are cut, where some come with others through two layers."""

import pytest

from patterns.cutting.placement import Placement
from projector.cutting.copies import Copies
from projector.cutting.work import CopyWork, CutWork
from tests.unit.projector.samples import pieces

GIVES = (2, 0, 1)  # the second comes with the first


@pytest.fixture
def copies() -> Copies:
    piece = next(iter(pieces().values()))
    cut = tuple(
        CopyWork(piece=piece.name, number=number, place=Placement(), gives=gives)
        for number, gives in enumerate(GIVES, start=1)
    )
    return Copies(pieces=(piece,) * len(GIVES), work=CutWork(copies=cut))


@pytest.mark.parametrize(
    ("number", "by", "beside"), [(0, 1, 2), (2, 1, 0), (1, 1, 2), (1, -1, 2), (2, -1, 0)]
)
def test_a_copy_that_comes_with_another_counts_as_that_one(
    copies: Copies, number: int, by: int, beside: int
) -> None:
    assert copies.order == (0, 2)
    assert copies.beside(number, by) == beside
