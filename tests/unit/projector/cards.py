"""The card station for tests."""

from patterns import example, read_pattern
from patterns.paper.card import CAUTIONS, card
from projector.lighting.lit_area import lit_area
from projector.stations.card import CardGround, CardStation
from tests.unit.projector.samples import an_alignment

OVERTOP = read_pattern(example("harbour overtop"))
STEPS = card(OVERTOP.drafted(), OVERTOP.finish)
ALIGNMENT = an_alignment()
GROUND = CardGround(
    name="Harbour overtop", steps=STEPS, cautions=CAUTIONS, alignment=ALIGNMENT, lit=lit_area(ALIGNMENT.map)
)


def begun(title: str = "") -> CardStation:
    return CardStation.begun(GROUND, title)
