"""The finish of a pattern, switched at the drafting table."""

from projector.actions import ChangeHems, ChangeSeams, ChangeTool, Undo
from projector.drafting.words import list_rows
from projector.stations.draft import DraftStation
from projector.words.unbroken import spaced
from tests.unit.projector.drafts import OVERTOP, after, begun


def told(station: DraftStation) -> str:
    return spaced(list(list_rows(station.work))[1].text)


def test_seams_and_hems_are_switched_and_undone() -> None:
    station = begun()
    assert "seams" not in told(station)
    french = after(station, ChangeSeams(), ChangeSeams(), ChangeHems())
    assert told(french) == "seams french, hems double"
    edges = french.work.piece.edges
    assert (edges["side"].allowance_in, edges["hem"].folds_in) == (5 / 8, (1 / 4, 1 / 4))
    assert after(french, Undo(), Undo(), Undo()).work.pattern == OVERTOP


def test_the_keys_of_the_points_leave_the_finish_alone() -> None:
    points = after(begun(), ChangeTool())
    assert after(points, ChangeSeams(), ChangeHems()).work.pattern == OVERTOP
