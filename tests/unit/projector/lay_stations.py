"""A lay station for tests: the half top on a partial fold, with a pair of pockets beside it."""

from pathlib import Path

from patterns.laying.cloth import Cloth
from patterns.laying.folding import Fold, Folding
from patterns.laying.lay import Lay
from patterns.measures import Unit
from patterns.saying import Say
from projector.laying.ground import LayGround
from projector.laying.work import LayWork, in_the_light
from projector.lighting.lit_area import lit_area
from projector.stations.lay import LayStation
from tests.unit.patterns.build import HALF_TOP, pattern_of
from tests.unit.patterns.hand_lays import on_fold, opened
from tests.unit.projector.samples import a_map, an_alignment

TOP_AND_POCKET = (
    HALF_TOP
    + """\
  pocket:
    cut: 1
    edges:
      - {name: top, kind: hem, path: [[0, 0], [5, 0]]}
      - {name: round, kind: seam, path: [[5, 0], [5, 6], [0, 6], [0, 0]]}
    grain: [[2, 5], [2, 1]]
"""
)
FOLDING = Folding(fold=Fold.PARTIAL, cloth=Cloth(bought_width_in=45), right_in=14)


def a_lay(folder: Path) -> Lay:
    pieces = pattern_of(folder, TOP_AND_POCKET).drafted().pieces
    front, pocket = pieces["front"], pieces["pocket"]
    placed = (on_fold(front, FOLDING.fold_lines[0], 1.0), opened(pocket, 2.0, 3.0))
    return Lay(folding=FOLDING, placed=placed, pieces=(front, pocket))


def a_station(folder: Path) -> LayStation:
    alignment = an_alignment(a_map())
    ground = LayGround(alignment=alignment, lit=lit_area(alignment.map), say=Say(Unit.IN))
    lay = a_lay(folder)
    cloth = in_the_light(lay, ground.lit, ground.person(0))
    return LayStation.begun(ground, LayWork(lay=lay, cloth=cloth))
