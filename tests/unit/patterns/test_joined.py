import io
from dataclasses import replace
from pathlib import Path

import numpy as np
import pytest
import shapely
import svgelements

from patterns.paper.joined import SCALE, Joined, joined_drawing, joined_views, views_from
from tests.unit.patterns.build import pattern_of

BLADE = (
    "      - {name: top, kind: seam, path: [[0, 0], [6, 1]]}\n"
    "      - {name: side, kind: seam, path: [[6, 1], [8, 20]]}\n"
    "      - {name: hem, kind: hem, path: [[8, 20], [0, 21]]}\n"
    "      - {name: centre, kind: fold, path: [[0, 21], [0, 0]]}\n"
)
AGAINST = (
    "      - {name: hem, kind: hem, path: [[0, 21], [8, 20]]}\n"
    "      - {name: side, kind: seam, path: [[8, 20], [6, 1]]}\n"
    "      - {name: top, kind: seam, path: [[6, 1], [0, 0]]}\n"
    "      - {name: centre, kind: fold, path: [[0, 0], [0, 21]]}\n"
)
PATTERN = (
    f"pattern: Oar\npieces:\n  front:\n    cut: 1 on fold\n    edges:\n{BLADE.replace('{', '{{').replace('}', '}}')}"
    "  back:\n    cut: 1 on fold\n    edges:\n{back}joins: [[front/side, back/side]]\n"
)


def views_of(folder: Path, back: str) -> tuple[Joined, ...]:
    return joined_views(pattern_of(folder, PATTERN.format(back=back)).draft())


@pytest.mark.parametrize("back", [BLADE, AGAINST])
def test_pieces_lie_side_by_side_along_a_straight_seam(tmp_path: Path, back: str) -> None:
    """Held against another library: they share the whole seam and no area, however they are walked."""
    views = views_of(tmp_path, back)
    assert [view.lines for view in views] == [("top", "top"), ("hem", "hem")]
    for view in views:
        one, two = shapely.Polygon(view.first), shapely.Polygon(view.second)
        assert two.area == pytest.approx(one.area)
        assert one.intersection(two).area == pytest.approx(0, abs=1e-9)
        seam = shapely.LineString(view.seam)
        assert two.boundary.buffer(1e-6).contains(seam)


@pytest.mark.parametrize("back", [BLADE, AGAINST])
@pytest.mark.parametrize("piece", ["front", "back"])
def test_either_piece_of_a_seam_has_the_other_laid_beside_it(tmp_path: Path, back: str, piece: str) -> None:
    """Held against another library, as above; the angle across is the same from both sides."""
    text = PATTERN.format(back=back)
    views = views_from(pattern_of(tmp_path, text).draft(), piece)
    assert [view.join.first.piece for view in views] == [piece] * 2
    sums = {view.lines: view.sum_deg for view in views}
    assert sums == {view.lines: view.sum_deg for view in views_of(tmp_path, back)}
    assert sums["hem", "hem"] == pytest.approx(182.2, abs=0.05)
    for view in views:
        one, two = shapely.Polygon(view.first), shapely.Polygon(view.second)
        assert one.intersection(two).area == pytest.approx(0, abs=1e-9)
        assert two.boundary.buffer(1e-6).contains(shapely.LineString(view.seam))


def test_the_drawing_has_every_view_at_a_quarter_of_its_size(tmp_path: Path) -> None:
    views = views_of(tmp_path, BLADE)
    svg = svgelements.SVG.parse(io.StringIO(joined_drawing(views, "Oar")), ppi=1)
    paths = [one for one in svg.elements() if isinstance(one, svgelements.Path)]
    areas = [shapely.Polygon([(p.x, p.y) for p in path.as_points()]).area for path in paths[:2]]
    assert areas == pytest.approx([shapely.Polygon(views[0].first).area * SCALE**2] * 2, rel=1e-4)
    assert len(paths) == 3 * len(views)
    said = [one.text for one in svg.elements() if isinstance(one, svgelements.Text)]
    across = "across front/side and back/side"  # 91.1 degrees between (-2, -19) and (-8, 1)
    assert said == ["front", "back", f"top, {across}", "front", "back", f"hem, {across}: 182.2 degrees"]
    boxes = np.array([path.bbox() for path in paths])
    assert boxes.min() >= 0
    assert (boxes.max(axis=0)[2:] <= (svg.width, svg.height)).all()


def test_a_piece_that_lies_wholly_on_another_is_named_there(tmp_path: Path) -> None:
    """A loop opened out across the end of a seam that turns: it may come to lie on the piece it is sewn to."""
    (view, _) = views_of(tmp_path, BLADE)
    inner = view.first.mean(axis=0) + (view.first - view.first.mean(axis=0)) / 4
    page = joined_drawing([replace(view, second=inner)], "Oar")
    assert page.count(">back<") == page.count(">front<") == 1


def test_each_outline_has_its_name_and_many_views_stand_in_rows(tmp_path: Path) -> None:
    """The names lie within their pieces, off the other one; no row is longer than four views."""
    views = views_of(tmp_path, AGAINST) * 5
    svg = svgelements.SVG.parse(io.StringIO(joined_drawing(views, "Oar")), ppi=1)
    outlines = [one for one in svg.elements() if isinstance(one, svgelements.Path)]
    rings = [shapely.Polygon([(p.x, p.y) for p in path.as_points()]) for path in outlines]
    names = [
        one for one in svg.elements() if isinstance(one, svgelements.Text) and one.text in ("front", "back")
    ]
    at = [shapely.Point(one.transform.point_in_matrix_space((0, 0))) for one in names]
    for view in range(len(views)):
        one, two = rings[3 * view], rings[3 * view + 1]
        assert [ring.contains(at[2 * view]) for ring in (one, two)] == [True, False]
        assert [ring.contains(at[2 * view + 1]) for ring in (one, two)] == [False, True]
    tops = {round(min(rings[i].bounds[1], rings[i + 1].bounds[1]), 3) for i in range(0, len(rings), 3)}
    assert len(tops) == 3
