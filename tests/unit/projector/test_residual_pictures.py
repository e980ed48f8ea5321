"""Arrows of an alignment's own marks: from a photo's fit to the picture's file, and from crosses placed by hand."""

from argparse import Namespace
from dataclasses import replace
from datetime import UTC, datetime
from pathlib import Path

import cv2
import numpy as np
import pytest

from calibration.hand.by_hand import HandAlignment
from calibration.sheets.sheet import PAPERS
from calibration.solving.from_photos import solved
from projector.pictures.alignment_picture import Known, alignment_picture
from projector.verbs.align import finish
from tests.unit.calibration.corners import SCREEN_PX as CORNERS_SCREEN_PX
from tests.unit.calibration.corners import seen, table
from tests.unit.projector.samples import SCREEN_PX, a_map


def test_aligning_with_a_picture_draws_the_arrows_of_this_very_fit(tmp_path: Path) -> None:
    found = solved([seen(table(3), 3)], PAPERS["letter"], CORNERS_SCREEN_PX)
    picture = tmp_path / "arrows.png"
    finish(found, Namespace(table=tmp_path / "table.yaml", setup="attic", picture=picture, json=True))
    stored = cv2.imread(str(picture))
    assert stored is not None
    alignment = replace(found.alignment, name="attic")
    drawn = alignment_picture(Known(alignment=alignment, arrows_in=found.residual_arrows))
    assert np.array_equal(stored[:, :, ::-1], drawn)
    others = alignment_picture(Known(alignment=alignment, arrows_in=found.residual_arrows[::2]))
    assert not np.array_equal(drawn, others)


def by_hand(slip_px: float) -> HandAlignment:
    """A mat's marks with crosses where the map puts them; the sixth slips to the right."""
    true = a_map(corners_in=((-4, 27), (40, 27), (39, -3), (-3, -3)))
    alignment = HandAlignment.over_mat(SCREEN_PX, 1.0, (36.0, 24.0))
    for number in range(16):
        mark = alignment.next_mark()
        assert mark is not None
        at = true.screen_from_table([mark.at_in])[0] + ((slip_px, 0.0) if number == 5 else (0.0, 0.0))
        alignment = alignment.with_cross((float(at[0]), float(at[1])), mark)
    return alignment


def test_crosses_by_hand_have_arrows_from_their_marks_to_their_light() -> None:
    slipped = by_hand(6.0)
    arrows_in = slipped.residual_arrows
    assert arrows_in[:, :2] == pytest.approx(np.array([cross.mark.at_in for cross in slipped.placed]))
    lengths_in = np.hypot(*arrows_in[:, 2:].T)
    assert lengths_in.argmax() == 5
    assert arrows_in[5, 2] > abs(arrows_in[5, 3])
    found = slipped.finished("sail loft", datetime(2026, 3, 4, tzinfo=UTC))
    crosses_in = found.map.table_from_screen([cross.at_px for cross in slipped.placed])
    assert arrows_in[:, :2] + arrows_in[:, 2:] == pytest.approx(np.asarray(crosses_in))
    assert np.hypot(*by_hand(0.0).residual_arrows[:, 2:].T).max() < lengths_in.max() / 5
