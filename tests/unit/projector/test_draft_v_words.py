"""The words at the two points of a V: read from each side, neither on the other, and off the piece."""

from itertools import product

import numpy as np
import pytest

from patterns.cutting.labels import Label
from patterns.cutting.placement import Placement
from patterns.measures import Unit
from patterns.saying import Say
from projector.drafting.light import VPoints, v_labels
from projector.lighting.letters import words_width
from projector.person import Person

SAY = Say(Unit.IN)
SHALLOW = VPoints(stitched=np.array([0.0, 2 + 5 / 16]), cut=np.array([0.0, 1.75]))
DEEP = VPoints(stitched=np.array([0.0, 8.0]), cut=np.array([0.0, 6.75]))


def boxes(labels: tuple[Label, ...], person: Person) -> list[tuple[float, float, float, float]]:
    """Left, near, right, far of each as the person sees it."""
    found = []
    for label in labels:
        x, y = person.seen(label.at[None])[0].tolist()
        half = label.height_in * words_width(label.text) / 2
        found.append((x - half, y - label.height_in / 2, x + half, y + label.height_in / 2))
    return found


@pytest.mark.parametrize(
    ("points", "facing", "turn"), [*product((SHALLOW, DEEP), (0.0, 90.0, 180.0, 270.0), (0.0, 30.0, 60.0))]
)
def test_the_words_never_lie_on_each_other_nor_on_the_piece(
    points: VPoints, facing: float, turn: float
) -> None:
    person, placement = Person(facing_deg=facing), Placement(turn_deg=turn)
    labels = v_labels(points, SAY, placement, person)
    assert [label.text.split()[0] for label in labels] == ["stitched", "cut"]
    (left, near, right, far), (left_2, near_2, right_2, far_2) = boxes(labels, person)
    between = (max(left - right_2, left_2 - right), max(near - far_2, near_2 - far))
    assert max(between) >= 0.3 - 1e-9  # inches: letters of half an inch have tails
    outwards = placement.direction(np.array([-1.0, 0.0]))
    for box in boxes(labels, person):
        corners = person.on_table(np.array([*product(box[::2], box[1::2])]))
        assert ((corners - placement.placed(points.cut[None])) @ outwards > 0.2).all()


def test_the_words_step_with_their_number_while_the_point_moves_smoothly() -> None:
    depths = [6.73, 6.75, 6.77, 6.79, 6.81, 6.83]
    labels = [
        v_labels(VPoints(stitched=DEEP.stitched, cut=np.array([0.0, depth])), SAY, Placement(), Person())[1]
        for depth in depths
    ]
    assert [label.text for label in labels] == [*["cut 6 3/4 in"] * 3, *["cut 6 13/16 in"] * 3]
    assert len({tuple(label.at.tolist()) for label in labels}) == 2
    down_in = [float(-Person().seen(label.at[None])[0, 1]) for label in labels]
    assert down_in == pytest.approx([6.75] * 3 + [6.8125] * 3)
