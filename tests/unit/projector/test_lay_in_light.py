"""Of lays for which as much is bought, the one that fits into the light is shown on the table."""

from dataclasses import replace
from pathlib import Path

from patterns.laying.folding import Fold
from patterns.laying.lay import Lay
from patterns.planning.plan import Compared
from projector.laying.searching import Searched
from projector.verbs.lay_window import best_in_light
from tests.unit.patterns.hand_lays import opened
from tests.unit.projector.lay_stations import a_lay, a_station


def found(*lays: Lay) -> Searched:
    return Searched(compared=tuple(Compared(fold=Fold.PARTIAL, lay=lay) for lay in lays))


def test_what_fits_into_the_light_wins_where_no_more_is_bought(tmp_path: Path) -> None:
    ground = a_station(tmp_path).ground
    lit = a_lay(tmp_path)
    front, pocket = lit.placed
    unlit = replace(lit, placed=(front, opened(pocket.piece, 2.0, -60.0)))
    longer = replace(lit, placed=(front, opened(pocket.piece, 2.0, 40.0)))
    assert best_in_light(found(unlit, lit), ground) is lit
    assert best_in_light(found(lit, unlit), ground) is lit
    assert best_in_light(found(unlit, longer), ground) is unlit
    assert best_in_light(found(unlit), ground) is unlit
