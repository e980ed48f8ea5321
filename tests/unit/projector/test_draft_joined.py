"""The piece that is sewn to the shown one, seen joined to it while it is drafted."""

from dataclasses import replace

import numpy as np
import pytest
import shapely

from calibration.frames import Array
from projector.actions import Flip, ShowJoined, TakeUp
from projector.lighting.strokes import Stroke
from projector.stations.draft import DraftStation
from tests.unit.projector.drafts import CALM, LIT, OVERTOP, SHOULDER, after, aside, at, begun, first


def joined_in(station: DraftStation) -> Array:
    """(n, 2) table inches of the light of the joined piece; none where it is not seen."""
    for layer in station.scene(CALM):
        if layer.name == "joined":
            points = [part.points for part in layer.draw() if isinstance(part, Stroke)]
            return LIT.projector_map.table_from_screen(np.concatenate(points))
    return np.zeros((0, 2))


def test_the_back_lies_along_the_overarm_of_the_front_and_then_of_its_side_and_then_is_gone() -> None:
    """Its light touches that of the seam, whose place on the table is known."""
    station, said = begun(), []
    assert not len(joined_in(station))
    for _ in range(len(station.work.joined)):
        station = station.after(ShowJoined())
        said.append(first(station).split(", ")[1])
        lit = shapely.points(joined_in(station))
        seam = station.work.joined[station.beside - 1].seam
        along = shapely.LineString(station.work.laid.placement.placed(seam))
        assert (shapely.distance(along, lit) < 0.02).sum() >= 2
    assert [one.split(" ", 2)[:2] for one in said] == [["back", "joined:"]] * 4
    assert {one.split(": ")[1].rstrip("0123456789.° of") for one in said} == {"neck", "sleeve hem", "hem"}
    assert all(one.endswith("° of 180°") for one in said)
    assert not len(joined_in(station.after(ShowJoined())))


def test_it_follows_the_point_in_hand() -> None:
    """The end of the seam that is pulled takes the joined piece with it."""
    held = after(begun(), ShowJoined(), at(begun(), SHOULDER), TakeUp())
    pulled = held.after(at(held, (SHOULDER[0] + 0.5, SHOULDER[1] + 0.25)))
    before, now = held.joined, pulled.joined
    assert before is not None
    assert now is not None
    assert now.seam[0] - before.seam[0] == pytest.approx([0.5, 0.25], abs=1e-6)
    assert not np.allclose(joined_in(held), joined_in(pulled))


def test_another_piece_is_shown_alone() -> None:
    station = begun().after(ShowJoined())
    assert not len(joined_in(station.after(Flip(by=1))))


def test_a_piece_that_is_sewn_to_nothing_says_so() -> None:
    alone = begun(replace(OVERTOP, joins=())).after(ShowJoined())
    assert not len(joined_in(alone))
    assert "nothing is sewn to front: no join names an edge of it" in aside(alone)
