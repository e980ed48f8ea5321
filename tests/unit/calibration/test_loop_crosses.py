"""Crosses of light for the margins of sheets that lie where the alignment had them."""

from dataclasses import replace

import numpy as np
import pytest

from calibration.errors import AlignmentError
from calibration.sheets.sheet import PAPERS
from calibration.solving.joint_model import lie
from calibration.trust.loop_crosses import loop_crosses, loop_frame, margin_places
from tests.unit.projector.samples import a_map, an_alignment

PAPER = PAPERS["a4"]
PLACES = ((0.0, 0.0, 0.0), (15.0, 4.0, 90.0), (-60.0, 0.0, 10.0))
ALIGNMENT = replace(an_alignment(a_map()), sheet_places=PLACES, printed_scale=0.998)


def test_each_cross_lies_within_a_pixel_of_its_margin_and_knows_where() -> None:
    crosses = loop_crosses(ALIGNMENT, PAPER)
    assert [cross.sheet for cross in crosses] == [1] * 4 + [2] * 4  # the third lies beyond the light
    for cross, (x, y) in zip(crosses, [*margin_places(PAPER)] * 2, strict=True):
        np.testing.assert_allclose(cross.on_sheet_in[0], np.array((x, y)) * 0.998, atol=0.04)
        x0, y0, turn = PLACES[cross.sheet - 1]
        place = np.array((x0, y0, np.deg2rad(turn)))
        np.testing.assert_allclose(lie(place, cross.on_sheet_in), cross.table_in, atol=1e-9)
        np.testing.assert_allclose(
            ALIGNMENT.map.screen_from_table(cross.table_in), cross.screen_px, atol=1e-6
        )


def test_the_frame_is_black_and_white_about_the_very_centres() -> None:
    frame = loop_frame(ALIGNMENT, PAPER)
    assert frame.shape == (1080, 1920)
    assert set(np.unique(frame)) == {0, 255}
    for cross in loop_crosses(ALIGNMENT, PAPER):
        u, v = cross.screen_px[0]
        column, row = int(u + 0.5), int(v + 0.5)
        window = frame[row - 8 : row + 8, column - 8 : column + 8]
        np.testing.assert_array_equal(window, window[::-1])
        np.testing.assert_array_equal(window, window[:, ::-1])
        assert 0.1 < (window == 255).mean() < 0.4


def test_sheets_beyond_the_light_are_refused() -> None:
    with pytest.raises(AlignmentError) as refusal:
        loop_crosses(replace(ALIGNMENT, sheet_places=PLACES[2:]), PAPER)
    assert str(refusal.value) == (
        "The light reaches the margins of the saved sheets at 0 places; 3 are needed: align from a photo of "
        "sheets that lie within the light"
    )
