"""The lines of a piece drawn apart while a point is pulled: the same light, and only what moved drawn anew."""

from dataclasses import replace

import numpy as np
import pytest

from calibration.frames import Gray
from patterns.cutting.drafted import DraftedPiece
from patterns.cutting.marks import Line, LineKind, piece_lines
from patterns.cutting.placement import Placement
from projector.actions import Move, Open, PutDown, Show, TakeUp
from projector.drafting.moved_lines import OUTLINES, line_layers, parted
from projector.lighting.canvas import compose, tile, whole
from projector.lighting.piece_light import lines_light, some_lines_light
from projector.scene import Layer
from projector.stations.draft import DraftStation
from tests.unit.projector.drafts import CALM, LIT, SHOULDER, UNDERARM, after, at, begun
from tests.unit.projector.samples import SCREEN_PX, pieces

PLACES = {"underarm": UNDERARM, "shoulder": SHOULDER, "hem": (11.2, 25.0), "sleeve": (15.5, 4.0)}
PULLED_IN = 0.11
FRINGE = 0.25  # of full light: where two lines cross, the soft edge of the one no longer adds to the other's
JOINT = 16  # of 255: beside a corner that is drawn from both sides
CROSSINGS_PX = 250


def pulled(place: tuple[float, float], times: int = 1, *, opened: bool = False) -> DraftStation:
    """The front with its point at the place in hand, so many steps on."""
    station = after(begun(), *([Open()] if opened else []))
    station = after(station, at(station, place), TakeUp())
    return after(station, at(station, (place[0] + times * PULLED_IN, place[1] + times * PULLED_IN / 2)))


def light_of(layers: list[Layer]) -> Gray:
    return compose([tile(layer.draw(), SCREEN_PX) for layer in layers], whole(SCREEN_PX))


def outlines_of(piece: DraftedPiece, opened: bool) -> list[Line]:
    return [line for line in piece_lines(piece, opened) if line.kind in OUTLINES]


@pytest.mark.parametrize("opened", [False, True])
@pytest.mark.parametrize("place", PLACES.values(), ids=PLACES)
def test_an_outline_in_parts_has_the_light_of_the_whole(place: tuple[float, float], opened: bool) -> None:
    station = pulled(place)
    now, before = station.shown.piece, station.work.piece
    placement = replace(station.shown.laid.placement, opened=opened)
    for line, old in zip(outlines_of(now, opened), outlines_of(before, opened), strict=True):
        parts = parted([line], [old])
        assert all(parts) or opened
        drawn = [some_lines_light(some, before, placement, LIT) for some in (*parts, [line])]
        *tiles, entire = (tile(one, SCREEN_PX) for one in drawn)
        apart = compose(tiles, whole(SCREEN_PX)).astype(int)
        assert np.abs(apart - compose([entire], whole(SCREEN_PX))).max() <= JOINT


def test_an_outline_without_a_fold_is_parted_too() -> None:
    before = next(piece for piece in pieces().values() if piece.fold is None)
    middle = len(before.cut_line) // 2
    for moved_point in (middle, 0):
        cut_line = before.cut_line.copy()
        cut_line[moved_point] += 0.05
        line, old = (
            Line(kind=LineKind.CUT, points=points, closed=True) for points in (cut_line, before.cut_line)
        )
        still, moved = parted([line], [old])
        tiles = [
            tile(some_lines_light(some, before, Placement(), LIT), SCREEN_PX)
            for some in (still, moved, [line])
        ]
        apart, entire = (compose(some, whole(SCREEN_PX)).astype(int) for some in (tiles[:2], tiles[2:]))
        assert np.abs(apart - entire).max() <= JOINT


@pytest.mark.parametrize("place", PLACES.values(), ids=PLACES)
def test_a_piece_in_layers_looks_as_drawn_at_once_but_where_lines_cross(place: tuple[float, float]) -> None:
    station = pulled(place, times=0)
    placement = station.shown.laid.placement
    layers = list(line_layers(station.shown.piece, station.work.piece, placement, LIT))
    apart = light_of(layers).astype(int)
    at_once = tile(lines_light(station.shown.piece, placement, LIT), SCREEN_PX)
    astray = np.abs(apart - compose([at_once], whole(SCREEN_PX)))
    assert astray.max() < FRINGE * 255
    assert (astray > 0).sum() < CROSSINGS_PX


def test_only_what_moves_is_drawn_anew_while_a_point_is_pulled() -> None:
    one, other = ({layer.name: layer for layer in pulled(UNDERARM, times).scene(CALM)} for times in (1, 2))
    changed = {name for name in one if one[name].key != other[name].key}
    assert {"lines", "words", "traced"}.isdisjoint(changed)
    assert "moved lines" in changed
    moved = tile(one["moved lines"].draw(), SCREEN_PX).rect
    still = tile(one["lines"].draw(), SCREEN_PX).rect
    assert moved.area < 0.7 * still.area


def test_of_the_seam_line_the_edge_at_the_fold_alone_is_drawn_anew_where_it_alone_moves() -> None:
    station = after(begun(), Show(number=1))
    before, now = station.work.piece, station.after(Move(right=1)).work.piece
    line, old = (
        {one.kind: one for one in piece_lines(piece, False)}[LineKind.SEAM] for piece in (now, before)
    )
    parts = parted([line], [old])
    assert parts[1][0].points.tolist() == [[0, 8.125], [3.5, 0]]
    *tiles, entire = (
        tile(some_lines_light(some, before, Placement(), LIT), SCREEN_PX) for some in (*parts, [line])
    )
    apart = compose(tiles, whole(SCREEN_PX)).astype(int)
    assert np.abs(apart - compose([entire], whole(SCREEN_PX))).max() <= JOINT


def test_what_was_put_down_is_drawn_as_one_again() -> None:
    station = after(pulled(SHOULDER), PutDown())
    names = [layer.name for layer in station.scene(CALM)]
    assert "moved lines" not in names
    assert "lines" in names
