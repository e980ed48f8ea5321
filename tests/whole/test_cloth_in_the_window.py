"""The bright window on a cloth of the practice table, photographed from above, tells the look."""

import numpy as np
import pytest

from calibration.practice.table import Cloth, PracticeTable
from projector.lighting.cloth_photo import tones_of, window_frame
from projector.lighting.contrast import ENOUGH, best_look, line_contrast
from projector.lighting.looks import LOOKS
from tests.unit.projector.samples import SCREEN_PX

PPI = 9.0


@pytest.mark.parametrize("colour", [(235, 232, 225), (42, 46, 72)])
def test_plain_cloth_in_a_dim_room_wants_the_plain_look(colour: tuple[int, int, int]) -> None:
    table = PracticeTable.random(3, sheets=1, top_in=(84.0, 54.0))
    corners = np.array([[-40.0, -26.0], [40.0, -26.0], [40.0, 26.0], [-40.0, 26.0]])
    cloth = Cloth(outline_in=table.frame_in_room.inward(corners), colour=colour, cover=1.0)
    seen = table.photo_from_above(window_frame(SCREEN_PX), PPI, [cloth])
    height, width = seen.shape[:2]
    close_up = seen[height // 5 : height * 4 // 5, width // 2 : width * 9 // 10]
    tones = tones_of(close_up)
    assert not tones.printed
    assert best_look(tones).name == "light"
    assert all(line_contrast(look, tones) > ENOUGH for look in LOOKS.values())
