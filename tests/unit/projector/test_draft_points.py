"""Traced points pulled and pieces moved while a pattern is drafted."""

import numpy as np

from projector.actions import (
    Accept,
    Aim,
    ChangeTool,
    Flip,
    Insert,
    Mirror,
    Move,
    Next,
    Open,
    PutDown,
    Redo,
    Remove,
    Show,
    Smooth,
    Straighten,
    SwitchChange,
    TakeUp,
    Turn,
    Undo,
)
from projector.drafting.bindings import PLACING, POINTS
from tests.unit.projector.drafts import (
    CALM,
    OVERTOP,
    SHOULDER,
    UNDERARM,
    after,
    aside,
    at,
    begun,
    first,
    typed,
)


def test_a_traced_point_is_pulled_and_everything_follows_it() -> None:
    station = begun()
    station = after(station, at(station, UNDERARM), TakeUp(), at(station, (11.5, 12.8)))
    front = station.shown.drafted.pieces["front"]
    assert front.seam_line[:, 0].max() > 13
    assert np.hypot(*(front.seam_line - (11.5, 12.8)).T).min() < 1e-6
    assert "curve point in hand, side 1" in first(station)
    assert aside(station).startswith("LOOK: front/side shorter than back/side by 9/16 in, ")
    assert station.work.pattern == OVERTOP
    left = station.after(PutDown())
    assert left.work.pattern != OVERTOP
    assert left.work.pattern.changes == OVERTOP.changes
    assert after(left, Undo()).work.pattern == OVERTOP
    assert after(station, Undo()).held is None


def test_what_lies_far_from_a_pulled_point_is_not_drafted_again() -> None:
    station = begun()  # its pieces may be remembered from long ago, and parts of them forgotten since
    pulled = after(station, at(station, UNDERARM), TakeUp(), at(station, (11.5, 12.8)))
    further = after(pulled, at(station, (11.6, 12.8)))
    now, before = further.shown.drafted.pieces, pulled.shown.drafted.pieces
    assert [name for name in now if now[name] is before[name]] == ["back", "front facing", "back facing"]
    shoulder = after(station, at(station, SHOULDER), TakeUp(), at(station, (3.7, 0.1)))
    assert shoulder.shown.drafted.pieces["front facing"] is not before["front facing"]


def test_a_point_pulled_too_far_stays_where_it_last_could_be() -> None:
    station = begun()
    far = after(
        station, at(station, UNDERARM), TakeUp(), at(station, (11.5, 12.8)), at(station, (-3.0, 12.6))
    )
    assert "across the centre line" in far.notice
    assert far.held is not None
    left = far.after(PutDown())
    assert np.hypot(*(left.work.drafted.pieces["front"].seam_line - (11.5, 12.8)).T).min() < 1e-6


def test_a_mouse_that_is_not_moved_shows_no_cross() -> None:
    names = [
        {layer.name for layer in one.scene(CALM)} for one in (begun(), begun().after(Aim(at_px=(90, 3))))
    ]
    assert names[1] - names[0] == {"cross", "points"}


def test_points_are_put_in_taken_away_smoothed_and_straightened() -> None:
    station = begun().after(ChangeTool())
    assert station.bindings == POINTS
    side = (11.5, 2.7)
    more = after(station, at(station, (9.5, 2.2)), Insert())
    assert len(more.work.points.piece.edges[1].path) == 5
    fewer = after(more, at(more, side), TakeUp(), Remove())
    assert len(fewer.work.points.piece.edges[1].path) == 4
    assert len(after(more, at(more, side), Straighten()).work.points.piece.edges[1].path) == 2
    assert after(more, at(more, side), Smooth()).work.pattern != more.work.pattern
    assert station.after(Remove()).notice == "take the point up first: enter"
    assert after(station, at(station, (40.0, 12.0)), TakeUp()).notice.startswith(
        "no traced point or edge is near the cross; with tab and c"
    )


def test_an_edge_is_taken_away_from_its_points_and_moved_across_itself() -> None:
    """The hem pulled 3/4 in down, wherever along it the cross goes: its corners and the fold end come along."""
    station = begun()
    taken = after(station, at(station, (5.0, 25.5)), TakeUp())
    assert "the hem in hand, side 17 3/8 in, centre front" in first(taken).replace(" · ", ", ")
    pulled = after(taken, at(station, (5.3, 26.25)))
    assert pulled.work.pattern == OVERTOP
    before, now = (one.drafted.pieces["front"].edges for one in (pulled.work, pulled.shown))
    moves = now["hem"].curve.beziers - before["hem"].curve.beziers
    assert np.abs(moves[..., 1] - moves[0, 0, 1]).max() < 2e-3
    assert 0.70 < moves[0, 0, 1] < 0.80
    assert now["hem"].points[-1, 0] == 0.0
    assert now["centre front"].length_in - before["centre front"].length_in > 0.7
    assert "LOOK: front/side longer than back/side by 3/4 in" in aside(pulled)
    left = pulled.after(PutDown())
    assert left.work.pattern != OVERTOP
    assert after(left, Undo()).work.pattern == OVERTOP
    assert after(pulled, Undo()).held is None
    assert after(taken, ChangeTool()).work.pattern == OVERTOP
    points = after(station, ChangeTool(), at(station, (5.0, 25.5)), TakeUp())
    assert points.after(Remove()).notice == "take the point up first: enter"


def test_the_nearer_of_point_and_edge_is_taken() -> None:
    station = begun()
    grips = [
        after(station, at(station, place), TakeUp()).held
        for place in ((11.0, 13.0), (11.0, 17.5), (13.0, 13.0))
    ]
    assert [held is not None and held.point is not None for held in grips] == [True, False, True]


def test_a_facing_has_no_traced_points() -> None:
    station = after(begun(), Show(number=3), ChangeTool(), TakeUp())
    assert station.notice == "front facing is made by a change; pull its garment piece instead"


def test_the_piece_is_moved_and_the_whole_move_is_one_thing_to_undo() -> None:
    station = after(begun(), ChangeTool(), ChangeTool())
    assert station.bindings == PLACING
    start = station.work.laid.placement
    moved = after(station, Move(right=1), Move(right=1), Turn(anticlockwise=1), Mirror())
    assert moved.work.laid.placement.mirrored
    assert moved.work.laid.placement != start
    assert moved.work.pattern is OVERTOP
    back = moved.after(Undo())
    assert back.work.laid.placement == start
    assert back.after(Redo()).work.laid.placement == moved.work.laid.placement
    assert after(station, Show(number=3), Open()).work.laid.placement.opened


def test_pieces_stay_where_they_lie_while_they_are_drafted_anew() -> None:
    lying = after(begun(), ChangeTool(), ChangeTool(), Move(right=1), ChangeTool())
    place = lying.work.laid.placement
    station = after(lying, Move(right=1), SwitchChange(), Move(away=-1), Move(away=-1), SwitchChange())
    assert station.work.laid.placements[0] == place
    assert list(station.work.drafted.pieces) == ["front", "back", "back facing"]
    assert [piece.name for piece in station.work.laid.ground.pieces] == ["front", "back", "back facing"]
    facing = after(station, Show(number=3), Move(away=-1), Move(away=-1), SwitchChange())
    assert facing.work.piece.name == "back"  # the facing shown is no more


def test_the_words_stay_put_while_the_piece_changes_about_them() -> None:
    station = begun()
    assert after(station, Move(right=1)).work.worded is station.work.worded
    assert after(station, Flip(by=1)).work.worded.name == "back"
    shallow = typed(after(station, Flip(by=2), Accept()), "4 in").after(Accept())
    assert shallow.work.piece.name == shallow.work.worded.name == "front facing"


def test_with_an_end_of_the_neck_in_hand_it_is_said_where_it_lies() -> None:
    station = begun()
    held = after(station, at(station, SHOULDER), TakeUp())
    assert "high shoulder point" not in aside(held)
    pulled = after(held, at(station, (3.45, 0.3)))
    assert "neck ends 5/16 in below the high shoulder point" in aside(pulled)
    other = after(station, at(station, UNDERARM), TakeUp(), at(station, (11.5, 12.8)))
    assert "high shoulder point" not in aside(other)


def test_c_lays_the_cross_on_one_point_after_another_round_the_piece() -> None:
    station = begun().after(ChangeTool())
    places = []
    for _ in range(len(station.work.points.points) + 1):
        station = station.after(Next())
        places.append(station.cross.at_in)
    assert places[0] == places[-1]
    assert sorted(places[1:]) == sorted(map(tuple, station.work.points.places_in.tolist()))
    taken = after(station, TakeUp(), Move(right=1))
    assert taken.held is not None
    left = taken.after(Next())  # the point in hand is left where it is
    assert left.held is None
    assert left.work.pattern != OVERTOP
