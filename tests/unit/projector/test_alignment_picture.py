"""The picture of an alignment: arrows as long as they should be, a scale that holds, what it says, and its file."""

from dataclasses import replace
from pathlib import Path

import cv2
import numpy as np
import pytest

from calibration.frames import Array
from projector.errors import ProjectorError
from projector.lighting.ink import Pixels
from projector.lighting.lit_area import lit_area
from projector.pictures.alignment_picture import (
    ARROW_IN,
    OFF,
    RING_ROOM_PX,
    SCALE_IN,
    Known,
    alignment_picture,
    arrow_ends,
    arrow_words,
    round_factor,
    write_alignment_picture,
)
from projector.pictures.table_view import WIDTH_PX, view_of
from tests.unit.projector.forecasts import a_graded_alignment

ALIGNMENT = replace(
    a_graded_alignment(turn_deg=3.0),
    paper="letter",
    sheet_places=((0.0, 0.0, 0.0), (-15.0, 6.0, 90.0), (17.0, -5.0, -80.0)),
    sheets=3,
)
ARROWS_IN = np.array(
    [
        (1.0, 2.0, 0.004, 0.003),
        (-14.0, 5.0, -0.006, 0.008),
        (20.0, 10.0, 0.0, 0.002),
        (-20.0, -10.0, 0.001, 0.0),
    ]
)
KNOWN = Known(alignment=ALIGNMENT, arrows_in=ARROWS_IN, warnings=("no ruler test yet",))
VIEW = view_of(ALIGNMENT, lit_area(ALIGNMENT.map), 200.0)


def of_colour(
    picture: Pixels, colour: tuple[int, int, int]
) -> "np.ndarray[tuple[int, ...], np.dtype[np.bool_]]":
    return np.asarray(np.abs(picture.astype(int) - colour).max(axis=2) < 30)


def test_arrows_are_their_residuals_times_the_stated_factor_and_point_the_same_way() -> None:
    factor = round_factor(ARROWS_IN)
    starts, tips = arrow_ends(ARROWS_IN, VIEW)
    lengths_px = np.hypot(*(tips - starts).T)
    assert lengths_px / VIEW.px_per_in == pytest.approx(factor * np.hypot(*ARROWS_IN[:, 2:].T))
    assert starts == pytest.approx(VIEW.on_page(ARROWS_IN[:, :2]))
    back_in = VIEW.person.on_table((tips - starts) / (VIEW.px_per_in, -VIEW.px_per_in))
    assert back_in == pytest.approx(factor * ARROWS_IN[:, 2:])
    assert f"drawn {factor:g} times larger" in arrow_words(KNOWN)


@pytest.mark.parametrize(
    ("usual_in", "factor"), [(0.005, 200), (0.006, 200), (0.02, 50), (0.3, 2), (1.25, 1), (2e-5, 50_000)]
)
def test_the_factor_is_round_and_the_usual_arrow_short_enough(usual_in: float, factor: float) -> None:
    arrows = np.array([(0.0, 0.0, usual_in, 0.0)] * 20)
    assert round_factor(arrows) == pytest.approx(factor)
    assert 0.4 * ARROW_IN <= factor * usual_in <= ARROW_IN
    assert round_factor(arrows * (1, 1, 0, 0)) == 1.0


def test_an_arrow_its_ring_and_the_scale_are_drawn_where_they_belong() -> None:
    one = ARROWS_IN[:1]
    red = of_colour(alignment_picture(replace(KNOWN, arrows_in=one)), OFF)
    scale_row = int(np.flatnonzero(red.any(axis=1))[-1])
    on_table = np.flatnonzero(red[: scale_row - 30].any(axis=0))
    starts, tips = arrow_ends(one, VIEW)
    middle, length = (starts + tips)[0, 0] / 2, float(np.hypot(*(tips - starts)[0]))
    assert (on_table[0] + on_table[-1]) / 2 == pytest.approx(middle, abs=1)
    assert on_table[-1] - on_table[0] == pytest.approx(length + 2 * RING_ROOM_PX, abs=3)
    in_legend = np.flatnonzero(red[scale_row - 30 :].any(axis=0))
    scale_px = SCALE_IN * round_factor(one) * VIEW.px_per_in
    assert in_legend[-1] - in_legend[0] == pytest.approx(scale_px, abs=2.5)


def test_the_worst_mark_is_named_by_where_it_lies() -> None:
    assert arrow_words(KNOWN).endswith("worst mark (ringed): on sheet 2, 0.010 in off")
    taller = replace(KNOWN, arrows_in=ARROWS_IN * (1, 1, 3, 1))
    assert arrow_words(taller).endswith("on sheet 2, 0.020 in off")
    beside: Array = ARROWS_IN[2:]
    assert arrow_words(replace(KNOWN, arrows_in=beside)).endswith("in the light, 0.002 in off")
    unknown = replace(KNOWN, alignment=replace(ALIGNMENT, paper=""))
    assert "in the light, 0.010 in off" in arrow_words(unknown)
    on_mat = replace(KNOWN, alignment=replace(ALIGNMENT, mat=(0.5, 20.0, 10.0)), arrows_in=ARROWS_IN[2:])
    assert "worst mark (ringed): 40 across, 20 up, 0.002 in off" in arrow_words(on_mat)


def test_without_residuals_there_are_no_arrows_and_it_says_so() -> None:
    bare = Known(alignment=ALIGNMENT)
    assert not of_colour(alignment_picture(bare), OFF).any()
    assert arrow_words(bare) == (
        "How far each mark was off is not kept in a table file; align with --picture shows it."
    )


def test_the_light_is_upright_and_as_wide_as_the_page_allows() -> None:
    border = VIEW.on_page(lit_area(ALIGNMENT.map).border_in)
    assert border[:, 0].min() >= 60
    assert border[:, 0].max() <= WIDTH_PX - 60
    width, height = ALIGNMENT.map.screen_px
    along = VIEW.on_page(ALIGNMENT.map.table_from_screen([[0, height - 1], [width - 1, height - 1]]))
    assert along[1, 0] > along[0, 0] + 1000
    assert along[:, 1].min() > border[:, 1].mean()
    assert VIEW.bottom_px == pytest.approx(border[:, 1].max())


def test_a_mat_is_drawn_where_it_is_ruled_and_warnings_take_a_line() -> None:
    on_mat = replace(KNOWN, alignment=replace(ALIGNMENT, mat=(1.0, 20.0, 10.0), photos=0))
    assert alignment_picture(on_mat).shape != alignment_picture(replace(KNOWN, warnings=())).shape


def test_the_file_is_a_small_png_of_the_picture(tmp_path: Path) -> None:
    path = tmp_path / "picture.png"
    write_alignment_picture(path, KNOWN)
    assert path.stat().st_size < 200_000
    stored = cv2.imread(str(path), cv2.IMREAD_COLOR)
    assert stored is not None
    assert np.array_equal(stored[:, :, ::-1], alignment_picture(KNOWN))
    with pytest.raises(ProjectorError, match=r"picture\.png: cannot be written"):
        write_alignment_picture(tmp_path / "none" / "picture.png", KNOWN)
