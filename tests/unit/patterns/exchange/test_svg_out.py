"""The exported SVG, read by a library that knows nothing of us, beside the drafted pieces."""

from xml.etree import ElementTree

import numpy as np
import pytest
import shapely
import svgelements

from patterns.curves import Array
from tests.unit.patterns.exchange.exchanged import as_stream, drafted, exported, laid_out

PX_PER_IN = 96.0  # CSS Values and Units Level 3, section 6.2
TRUE_IN = 0.0005  # two chords of one curve
SVG = "{http://www.w3.org/2000/svg}"


def read(name: str, *, opened: bool = False) -> svgelements.SVG:
    return svgelements.SVG.parse(as_stream(exported(name, "svg", opened=opened)), ppi=PX_PER_IN)


def lines(svg: svgelements.SVG, kind: str) -> list[Array]:
    """(n, 2) inches along each line of the groups of one class."""
    groups = [one for one in svg.elements() if isinstance(one, svgelements.Group)]
    named = [group for group in groups if group.values.get("class") == kind]
    paths = [path for group in named for path in group if isinstance(path, svgelements.Path)]
    return [_points(svgelements.Path(part)) for path in paths for part in path.as_subpaths()]


def _points(path: svgelements.Path) -> Array:
    places = []
    for segment in path:
        if isinstance(segment, svgelements.Move):
            places.append(segment.end)
        elif segment.start != segment.end:
            count = 2 if isinstance(segment, (svgelements.Line, svgelements.Close)) else 100
            places += [segment.point(t) for t in np.linspace(0, 1, count)[1:]]
    return np.array([(place.x, place.y) for place in places]) / PX_PER_IN


@pytest.mark.parametrize(("name", "opened"), [("harbour overtop", False), ("practice pocket", True)])
def test_it_is_true_to_size(name: str, opened: bool) -> None:
    svg, sheet = read(name, opened=opened), laid_out(name, opened=opened)
    assert (svg.width / PX_PER_IN, svg.height / PX_PER_IN) == pytest.approx(sheet.size_in, abs=1e-4)
    drawn = {kind: shapely.MultiLineString(lines(svg, kind)) for kind in ("cut", "seam")}
    for marked in sheet.pieces:
        halves = (1.0, -1.0) if marked.opened else (1.0,)
        origin = np.array([marked.placement.x_in, -marked.placement.y_in])
        for kind, ring in (("cut", marked.piece.cut_line), ("seam", marked.piece.seam_line)):
            for half in halves:
                meant = shapely.points(ring * (half, 1.0) + origin)
                assert float(shapely.distance(drawn[kind], meant).max()) < TRUE_IN
    total = sum(float(shapely.LineString(line).length) for line in lines(svg, "seam"))
    edges = [
        edge.length_in * (2 if marked.opened else 1)
        for marked in sheet.pieces
        for edge in marked.piece.edges.values()
        if edge.kind.value != "fold"
    ]
    assert total == pytest.approx(sum(edges), abs=0.01)


def test_each_kind_of_line_of_each_piece_has_a_group_of_its_own() -> None:
    root = ElementTree.fromstring(exported("harbour overtop", "svg"))
    ids = [element.get("id") for element in root.iter() if element.get("id")]
    assert len(ids) == len(set(ids))
    cuts = [group for group in root.iter(f"{SVG}g") if group.get("class") == "cut"]
    assert [group.get("id") for group in cuts] == [
        "front-cut",
        "back-cut",
        "front-facing-cut",
        "back-facing-cut",
    ]
    front = next(group for group in root.iter(f"{SVG}g") if group.get("id") == "front")
    kinds = [group.get("class") for group in front.iter(f"{SVG}g")][1:]
    assert sorted(filter(None, kinds)) == [
        "clip", "cut", "fold", "fold-sign", "fold-tick", "grain", "notch", "seam", "words",
    ]  # fmt: skip


def test_it_says_in_words_what_each_piece_and_edge_is() -> None:
    root = ElementTree.fromstring(exported("harbour overtop", "svg"))
    texts = [text.text for text in root.iter(f"{SVG}text")]
    assert texts.count("half, on the fold") == texts.count("cut 1 on fold") == 4
    assert "overarm, 12 5/8 in, allowance 1/2 in" in texts
    assert "centre front, 17 5/8 in, fold" in texts
    whole = [
        text.text for text in ElementTree.fromstring(exported("gores", "svg", opened=True)).iter(f"{SVG}text")
    ]
    assert "cut 1 on fold" not in whole  # opened out and cut on a fold it would be twice as wide
    assert {"opened full", "whole", "cut 1", "cut 2 mirrored"} <= set(whole)


@pytest.mark.parametrize(
    ("name", "opened"), [("harbour overtop", False), ("gores", True), ("pennants", False)]
)
def test_no_piece_lies_over_another_or_off_the_sheet(name: str, opened: bool) -> None:
    sheet = laid_out(name, opened=opened)
    boxes = [shapely.box(*low, *high) for low, high in (marked.box_in for marked in sheet.pieces)]
    page = shapely.box(0, -sheet.size_in[1], sheet.size_in[0], 0)
    for i, box in enumerate(boxes):
        assert page.covers(box)
        assert all(box.distance(other) > 0.49 for other in boxes[:i])
    assert len(boxes) == len(drafted(name).pieces)
