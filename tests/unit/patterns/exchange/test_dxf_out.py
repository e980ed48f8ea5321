"""The exported DXF, audited and read by a library that knows nothing of us.

ASTM D6673, Standard Practice for Sewn Products Pattern Data Interchange, numbers the layers: 1 boundary, 2 turn points,
3 curve points, 4 notches, 6 mirror line, 7 grain line, 8 internal lines, 14 sew lines, 15 annotation.
"""

import io
from functools import lru_cache

import ezdxf.recover
import numpy as np
import pytest
import shapely
from ezdxf.document import Drawing
from ezdxf.entities.dxfentity import DXFEntity
from ezdxf.entities.polyline import Polyline

from patterns.curves import Array
from tests.unit.patterns.exchange.exchanged import drafted, exported, laid_out


@lru_cache
def read(name: str, opened: bool) -> Drawing:
    document, auditor = ezdxf.recover.read(io.BytesIO(exported(name, "dxf", opened=opened)))
    assert auditor.errors == auditor.fixes == []
    return document


def points_of(entity: DXFEntity) -> Array:
    assert isinstance(entity, Polyline)
    return np.array([tuple(vertex.dxf.location)[:2] for vertex in entity.vertices])


@pytest.mark.parametrize(("name", "opened"), [("gores", False), ("practice pocket", True)])
def test_each_piece_is_a_block_true_to_size_in_millimetres(name: str, opened: bool) -> None:
    document = read(name, opened)
    assert document.dxfversion == "AC1009"  # release 12
    inserts = list(document.modelspace().query("INSERT"))
    sheet = laid_out(name, opened=opened)
    assert len(inserts) == len(sheet.pieces)
    for insert, marked in zip(inserts, sheet.pieces, strict=True):
        piece, at = marked.piece, marked.placement
        assert tuple(insert.dxf.insert)[:2] == pytest.approx((at.x_in * 25.4, at.y_in * 25.4), abs=1e-4)
        block = document.blocks[insert.dxf.name]
        texts = [text.dxf.text for text in block.query('TEXT[layer=="1"]')]
        once = f"cut {piece.cut.count}" if marked.opened else piece.cut.words
        assert texts == [
            f"Piece Name: {piece.name}",
            "Size: 1",
            f"Quantity: {piece.cut.count}",
            f"Annotation: {once}",
        ]
        (boundary,), (sew,) = (block.query(f'POLYLINE[layer=="{layer}"]') for layer in (1, 14))
        half_area = piece.area_in2 * (2 if marked.opened else 1)
        assert shapely.Polygon(points_of(boundary) / 25.4).area == pytest.approx(half_area, abs=1e-3)
        assert isinstance(boundary, Polyline)
        assert boundary.is_closed
        seam = shapely.LineString(points_of(sew) / 25.4 * (1, -1))
        assert float(np.max(shapely.distance(seam, shapely.points(piece.seam_line)))) < 0.0005
        folded = piece.fold is not None and not marked.opened
        assert len(block.query('LINE[layer=="6"]')) == folded
        assert len(block.query('LINE[layer=="7"]')) == (piece.grain is not None)
        clips = sum(len(notch.clips) for notch in piece.notches) * (2 if marked.opened else 1)
        assert len(block.query('POINT[layer=="4"]')) == clips


def test_turn_points_are_the_corners_and_all_others_of_curves() -> None:
    block = read("practice pocket", False).blocks["POCKET"]
    turns = {tuple(point.dxf.location)[:2] for point in block.query('POINT[layer=="2"]')}
    corners = [(0, 0), (76.2, 0), (76.2, -139.7), (0, -165.1)]
    assert all(any(np.hypot(x - u, y - v) < 1e-3 for u, v in turns) for x, y in corners)
    assert len(block.query('POINT[layer=="3"]')) == 0
    side = read("gores", False).blocks["SIDE-FRONT"]
    assert len(side.query('POINT[layer=="3"]')) > 50


def test_it_says_its_units_once_in_a_text_that_belongs_to_no_piece() -> None:
    texts = [text.dxf.text for text in read("gores", False).modelspace().query("TEXT")]
    assert texts == ["Style Name: Wharf gores", "Units: METRIC"]


def test_names_are_given_in_the_words_of_the_file_and_blocks_in_the_letters_of_release_12() -> None:
    names = [insert.dxf.name for insert in read("gores", False).modelspace().query("INSERT")]
    assert names == ["CENTRE-FRONT", "SIDE-FRONT", "SIDE-BACK", "CENTRE-BACK", "WAISTBAND"]
    assert list(drafted("gores").pieces) == [name.lower().replace("-", " ") for name in names]
