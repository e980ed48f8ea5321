"""What is shown of the traced outline: only where changes have left it, held against shapely's distances."""

from dataclasses import replace

import numpy as np
import shapely

from patterns.changes import Change
from patterns.pattern import Pattern
from projector.drafting.light import SAME_IN, traced_runs
from projector.drafting.work import DraftWork
from projector.stations.draft import DraftStation
from tests.unit.projector.drafts import CALM, GROUND, OVERTOP


def work_with(*changes: Change) -> DraftWork:
    pattern: Pattern = replace(OVERTOP, changes=changes, versions=(), joins=())
    return DraftWork.begun(pattern, None, GROUND.under)


def test_nothing_is_shown_where_nothing_has_changed() -> None:
    work = work_with()
    assert traced_runs(work.points.piece, work.points.curves, work.piece) == ()
    (traced,) = (layer for layer in DraftStation.begun(GROUND, work).scene(CALM) if layer.name == "traced")
    assert traced.draw() == ()


def test_what_is_shown_lies_apart_from_the_seam_line_and_nothing_else_does() -> None:
    work = work_with(*OVERTOP.changes)
    runs = traced_runs(work.points.piece, work.points.curves, work.piece)
    ring = shapely.LinearRing(work.piece.seam_line)
    assert runs
    for run in runs:
        away = np.asarray(shapely.distance(ring, shapely.points(run)))
        assert (away[1:-1] > SAME_IN).all()
        assert away.max() > 4 * SAME_IN
    shown = shapely.MultiLineString([run.tolist() for run in runs]).buffer(1e-6)
    for edge, curve in zip(work.points.piece.edges, work.points.curves, strict=True):
        if edge.name != "centre front":
            hidden = [point for point in curve.points if not shown.contains(shapely.Point(point))]
            assert (shapely.distance(ring, shapely.points(np.array(hidden))) <= SAME_IN).all()


def test_a_traced_line_that_crosses_the_seam_line_is_shown_on_either_side_of_it() -> None:
    work = work_with()
    curves = [replace(curve) for curve in work.points.curves]
    number = next(i for i, edge in enumerate(work.points.piece.edges) if edge.name == "side")
    places = work.points.curves[number].points
    middle = places[len(places) // 2]
    wave = np.array([places[0], middle + (0.6, -2.0), middle - (0.6, -2.0), places[-1]])
    curves[number] = type(curves[number]).straight(wave)
    runs = traced_runs(work.points.piece, curves, work.piece)
    within = shapely.Polygon(work.piece.seam_line)
    sides = [set(np.asarray(within.contains(shapely.points(run[1:-1]))).tolist()) for run in runs]
    assert all(len(side) == 1 for side in sides)
    assert set().union(*sides) == {True, False}
