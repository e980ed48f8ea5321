"""A lay plan, read back from its SVG by an independent parser."""

from dataclasses import replace
from io import StringIO
from itertools import combinations
from pathlib import Path

import numpy as np
import pytest
import shapely
from shapely import affinity
from svgelements import SVG, Text
from svgelements import Path as SvgPath

from patterns import example, read_pattern
from patterns.curves import Array
from patterns.laying.cloth import Cloth, Flaw, Repeat
from patterns.laying.folding import Fold, Folding
from patterns.laying.lay import Lay
from patterns.measures import Unit
from patterns.paper import svg
from patterns.paper.lay_cloth import LayDrawing
from patterns.paper.lay_plan import Block, LayPlan, lay_plan
from patterns.paper.page import Page, PageWords, page_svg
from patterns.planning.plan import plan as planned
from patterns.saying import Say
from tests.unit.patterns.build import HALF_TOP, pattern_of
from tests.unit.patterns.hand_lays import on_fold

CLOTH = Cloth(
    bought_width_in=60,
    has_nap=True,
    repeat=Repeat(along_in=6),
    flaws=(Flaw(left_in=40, bottom_in=2, right_in=42, top_in=3),),
)


@pytest.fixture
def plan(tmp_path: Path) -> LayPlan:
    folding = Folding(fold=Fold.PARTIAL, cloth=CLOTH, right_in=12)
    front = pattern_of(tmp_path, HALF_TOP).drafted().pieces["front"]
    lay = Lay(folding=folding, placed=(on_fold(front, folding.fold_lines[0], 1.0),))
    return LayPlan(
        title="Prompt corner",
        subtitle="winter",
        lay=lay,
        length_in=34,
        buy="1 yd",
        remnant_in=(0.5, 0, 36, 34),
        blocks=(Block(heading="Fold", says=("Turn the right selvedge over.",), first=1),),
        say=Say(Unit.IN),
    )


def texts_of(page: Page) -> list[str]:
    return [str(one.text) for one in SVG.parse(StringIO(page_svg(page))).elements() if isinstance(one, Text)]


def paths_of(page: Page) -> list[Array]:
    """(n, 2) page inches of each path, y down."""
    drawn = SVG.parse(StringIO(page_svg(page)), ppi=1)
    return [
        np.array([(point.x, point.y) for point in one.as_points()])
        for one in drawn.elements()
        if isinstance(one, SvgPath)
    ]


def test_a_piece_is_drawn_where_it_lies_at_the_scale_asked_for(plan: LayPlan) -> None:
    curves = [path for path in paths_of(lay_plan(plan, scale=8)) if len(path) > 20]
    drawn = shapely.LinearRing(curves[0] * (8, -8))
    outline = shapely.LinearRing(plan.lay.placed[0].outline_in)
    across, up = np.array(drawn.bounds[:2]) - outline.bounds[:2]
    assert shapely.hausdorff_distance(drawn, affinity.translate(outline, across, up)) < 1e-3


def test_all_that_a_cutter_needs_is_written(plan: LayPlan) -> None:
    written = texts_of(lay_plan(plan))
    for words in (
        "Prompt corner",
        "winter",
        "36 in single",
        "12 in double (hatched)",
        f"{Say(Unit.IN)(plan.lay.used_in)} used",
        "to buy: 1 yd",
        "stays whole",
        "35 1/2 in x 34 in",
        "fold of the cloth",
        "selvedge",
        "nap",
        "flaw",
        "cut 1 on fold",
        "Turn the right selvedge over.",
    ):
        assert words in written, words
    assert any(text.split() == ["1", "front"] for text in written)
    assert "mirrored" not in written  # a half lies on a right-hand fold in one way only


def test_nothing_is_drawn_off_the_page(plan: LayPlan) -> None:
    for scale in (None, 4, 20):
        page = lay_plan(plan, scale)
        points = np.vstack(paths_of(page))
        assert (points >= 0).all()
        assert (points <= page.size_in).all()


def test_cloth_of_any_length_fits_a_sheet_at_its_own_scale(plan: LayPlan) -> None:
    for length_in in (20, 100, 700, 1200):
        width, height = lay_plan(replace(plan, length_in=length_in)).size_in
        assert width < 14
        assert height < 13


def test_plain_cloth_has_no_signs_that_it_does_not_need(plan: LayPlan) -> None:
    cloth = Cloth(bought_width_in=60)
    folding = Folding(fold=Fold.SINGLE, cloth=cloth)
    bare = replace(plan, lay=replace(plan.lay, folding=folding), remnant_in=None)
    written = texts_of(lay_plan(bare))
    assert "60 in single" in written
    assert not {"nap", "flaw", "stays whole", "fold of the cloth"} & set(written)


def test_names_beside_small_pieces_are_each_nearest_to_their_own() -> None:
    drafted = read_pattern(example("harbour overtop")).drafted()
    lay = planned(drafted, Cloth(bought_width_in=60), Fold.SINGLE)
    drawing = LayDrawing(lay=lay, length_in=40, remnant_in=None, buy="", say=Say(Unit.IN))
    items = list(drawing.items(np.zeros(2), 10))
    words = [item.label for item in items if isinstance(item, PageWords)]
    names = {label.text.split(maxsplit=1)[-1]: label for label in words if label.text[0].isdigit()}
    areas = {one.piece.name: shapely.Polygon(one.outline_in / 10) for one in lay.placed}
    boxes = {}
    for piece, area in areas.items():
        label = names[piece]
        wide, high = svg.LETTER_PART * (len(label.text) + 1) * label.height_in, 1.4 * label.height_in
        x, y = label.at
        boxes[piece] = shapely.box(x - wide / 2, y - high / 2, x + wide / 2, y + high / 2)
        others = [other for name, other in areas.items() if name != piece]
        assert boxes[piece].distance(area) < min(boxes[piece].distance(other) for other in others)
    assert len(boxes) == 4
    assert not any(one.intersects(other) for one, other in combinations(boxes.values(), 2))


def test_cloth_at_hand_is_not_to_be_bought(plan: LayPlan) -> None:
    cloth = replace(plan.lay.cloth, length_in=40.0)
    at_hand = replace(plan, lay=replace(plan.lay, folding=replace(plan.lay.folding, cloth=cloth)))
    written = texts_of(lay_plan(at_hand))
    assert "40 in at hand" in written
    assert not any(text.startswith("to buy") for text in written)
