"""What cutting shows, and what each action does to the piece and its words."""

from dataclasses import replace

import numpy as np
import pytest
import shapely

from patterns.cutting.placement import Placement
from projector.actions import (
    Action,
    ChangeSide,
    ChangeStep,
    Drag,
    Flip,
    Freeze,
    Grab,
    Help,
    Home,
    Mirror,
    Move,
    Open,
    Show,
    Turn,
    Undo,
)
from projector.cloth.ground import Ground
from projector.cloth.laid_pieces import middle
from projector.cutting.piece_words import piece_labels
from projector.lighting.letters import words_width
from projector.lighting.lit_area import lit_area
from projector.lighting.reach import overhang_words
from projector.scene import Controls
from projector.session import Session
from projector.stations.cut import CutStation
from tests.unit.projector.samples import SCREEN_PX, a_map, an_alignment, pieces

ALIGNMENT = an_alignment()
GROUND = Ground(pieces=tuple(pieces().values()), alignment=ALIGNMENT, lit=lit_area(ALIGNMENT.map))
START = CutStation.begun(GROUND)


def after(*actions: Action, station: CutStation = START) -> CutStation:
    for action in actions:
        station = station.after(action)
    return station


def words(station: CutStation, controls: Controls | None = None) -> str:
    said = station.strip_words(controls or Controls())
    return " | ".join((*said.first, "/", *said.aside))


def test_every_piece_starts_whole_in_the_light_above_the_strip() -> None:
    for number in range(1, 4):
        station = after(Show(number=number))
        pixels = GROUND.lit.projector_map.screen_from_table(station.outline_in)
        assert ((pixels > 0) & (pixels < np.array(SCREEN_PX))).all()
        border = GROUND.lit.border_in
        assert station.outline_in[:, 1].min() > border[:, 1].min() + 3


def test_the_strip_says_which_how_many_how_it_lies_how_good_it_is_and_what_the_next_press_does() -> None:
    assert words(START) == (
        "front | cut 1 on fold | half, on the fold | not mirrored | / | tab: on to the cloth's fold | "
        "page down: pocket | steps 1/2 in, 5° | good to 1/32 in here | 1 of 4 | h: keys"
    )


def test_steps_are_to_the_right_and_away_from_the_person_in_the_size_in_force() -> None:
    assert after(Move(right=1)).placement.x_in - START.placement.x_in == pytest.approx(0.5)
    assert after(Move(away=1)).placement.y_in - START.placement.y_in == pytest.approx(0.5)
    fine = after(ChangeStep(), Move(right=-1))
    assert fine.placement.x_in - START.placement.x_in == pytest.approx(-1 / 32)
    assert "steps 1/32 in, 0.1°" in words(fine)
    other = after(Move(right=1, other_step=True))
    assert other.placement.x_in - START.placement.x_in == pytest.approx(1 / 32)
    across = after(ChangeSide(), Move(right=1))
    assert across.placement.y_in - START.placement.y_in == pytest.approx(0.5)


def test_a_turn_keeps_the_middle_and_full_turns_come_back_exactly() -> None:
    turned = after(Turn(anticlockwise=1))
    assert turned.placement.turn_deg == 5.0
    assert middle(turned.outline_in) == pytest.approx(middle(START.outline_in))
    round_trip = after(*[Turn(anticlockwise=1)] * 72)
    assert round_trip.placement.turn_deg == 0.0
    assert round_trip.outline_in == pytest.approx(START.outline_in)


def test_a_drag_moves_the_piece_with_the_pointer() -> None:
    start = GROUND.lit.projector_map.screen_from_table([[0.0, 0.0], [3.0, -2.0]])
    dragged = after(Grab(), Drag(from_px=tuple(start[0]), to_px=tuple(start[1])))
    assert dragged.placement.x_in - START.placement.x_in == pytest.approx(3.0)
    assert dragged.placement.y_in - START.placement.y_in == pytest.approx(-2.0)


def test_a_drag_is_undone_as_one() -> None:
    session = Session(START)
    session.take(Move(right=1))
    session.take(Grab())
    for step in range(5):
        session.take(Drag(from_px=(500.0 + step, 500.0), to_px=(501.0 + step, 500.0)))
    session.take(Undo())
    assert session.station.placement == after(Move(right=1)).placement
    session.take(Undo())
    assert session.station.placement == START.placement
    session.take(Undo())
    assert "nothing to undo" in words(session.station)


def test_mirroring_keeps_the_fold_and_is_always_said() -> None:
    mirrored = after(Mirror())
    fold = pieces()["front"].cut_line[[0, -1]]
    assert mirrored.placement.placed(fold) == pytest.approx(START.placement.placed(fold))
    for station in (mirrored, after(Mirror(), Open()), after(Mirror(), Turn(anticlockwise=1), ChangeSide())):
        assert "| MIRRORED |" in words(station)
        assert "| MIRRORED |" in words(station.after(Freeze()), Controls(frozen=True, preview=True))
    assert "| not mirrored |" in words(after(Mirror(), Mirror()))


def test_mirroring_a_piece_without_a_fold_keeps_its_middle() -> None:
    pocket = after(Show(number=2))
    assert middle(after(Mirror(), station=pocket).outline_in) == pytest.approx(middle(pocket.outline_in))


def test_of_a_mirrored_pair_the_second_is_mirrored_and_each_says_which_it_is() -> None:
    left = after(Show(number=2))
    assert words(left).startswith("pocket | cut 2 mirrored | 1 of 2 | left, not mirrored")
    right = after(Flip(by=1), station=left)
    assert words(right).startswith("pocket | cut 2 mirrored | 2 of 2 | right, MIRRORED")
    assert right.placement.mirrored
    assert middle(right.outline_in) == pytest.approx(middle(left.outline_in), abs=0.5)


def test_opening_is_said_and_a_piece_without_a_fold_cannot_be_opened() -> None:
    opened = after(Open())
    assert words(opened).startswith("front | cut 1 on fold | opened full | not mirrored")
    assert np.ptp(opened.outline_in[:, 0]) == pytest.approx(2 * np.ptp(START.outline_in[:, 0]))
    tie = after(Show(number=3), Open())
    assert not tie.placement.opened
    assert "écharpe à nœud has no fold to open" in words(tie)


def test_each_piece_remembers_where_and_how_it_lay() -> None:
    station = after(Move(right=1), Mirror(), Flip(by=1), Turn(anticlockwise=1), Flip(by=-1))
    assert station.placement == after(Move(right=1), Mirror()).placement
    assert after(Flip(by=1), station=station).placement.turn_deg == 5.0
    assert after(Flip(by=-1)).shown == 3
    assert after(*[Flip(by=1)] * 4).shown == 0


def test_a_number_without_a_piece_is_said() -> None:
    station = after(Show(number=9))
    assert station.shown == 0
    assert "there is no piece 9" in words(station)


def test_home_brings_the_piece_back_upright_for_the_person_and_keeps_it_mirrored() -> None:
    station = after(Mirror(), Turn(anticlockwise=1), Move(right=1), Home())
    assert station.placement.mirrored
    assert station.placement.turn_deg == 0.0
    assert after(ChangeSide(), Home()).placement.turn_deg == 90.0


def test_a_preview_is_said() -> None:
    assert "preview, not true to size" in words(START, Controls(preview=True))


def test_the_part_beyond_the_light_is_said_in_inches() -> None:
    station = after(*[Move(right=-1)] * 60)
    assert "beyond the left edge" in words(station)
    assert "larger than the light" not in words(station)
    assert "beyond the near edge" in words(after(*[Move(away=-1)] * 20))
    huge = 100 * np.array([[-1.0, -1.0], [1.0, -1.0], [1.0, 1.0], [-1.0, 1.0]])
    (said,) = overhang_words(huge, GROUND.lit, GROUND.person(0))
    assert said.startswith("larger than the light: ")
    assert said.count("beyond") == 4


def test_what_is_not_all_lit_says_so_before_it_is_ticked_off() -> None:
    assert "NOT ALL OF IT IS LIT" not in words(after(Freeze()))
    first = after(*[Move(right=-1)] * 60, Freeze()).strip_words(Controls()).first
    assert first[:2] == ("FROZEN", "NOT ALL OF IT IS LIT")
    assert "cut along the solid line" not in first


def test_the_drawing_of_a_turned_table_file_is_upright_in_its_own_frame() -> None:
    alignment = an_alignment(turn_deg=30.0)
    ground = Ground(pieces=GROUND.pieces, alignment=alignment, lit=GROUND.lit)
    station = CutStation.begun(ground)
    assert station.placement.turn_deg == 30.0
    moved = station.after(Move(right=1)).placement
    assert (moved.x_in - station.placement.x_in, moved.y_in - station.placement.y_in) == pytest.approx(
        (0.5 * np.cos(np.pi / 6), 0.25)
    )


def test_help_lies_beside_the_piece_and_in_its_place_where_there_is_no_room() -> None:
    shown, helped = START.scene(Controls()), START.scene(Controls(helping=True))
    assert [layer.name for layer in helped] == ["main", "help", "strip"]
    assert shown[0].key == helped[0].key
    small = an_alignment(a_map(corners_in=((-14, 8), (15, 9), (13, -8), (-13, -9))))
    crowded = CutStation.begun(Ground(pieces=GROUND.pieces, alignment=small, lit=lit_area(small.map)))
    alone = crowded.scene(Controls(helping=True))
    assert [layer.name for layer in alone] == ["help", "strip"]
    for scene in (helped, alone):
        page = scene[-2]
        assert len(page.draw()) == 2 * len(START.bindings)
        on_screen = [part.points for part in page.draw()]
        assert all(((points > 0) & (points < np.array(SCREEN_PX))).all() for points in on_screen)


def test_a_layer_is_the_same_until_what_it_shows_changes() -> None:
    assert [layer.key for layer in START.scene(Controls())] == [
        layer.key for layer in START.scene(Controls())
    ]
    session = Session(START)
    before = [layer.key for layer in session.scene()]
    session.take(Move(right=1))
    moved = [layer.key for layer in session.scene()]
    assert before[0] != moved[0]
    assert before[1] == moved[1]
    session.take(Freeze())
    assert session.frozen
    frozen = [layer.key for layer in session.scene()]
    assert frozen[0] == moved[0]
    assert frozen[1] != moved[1]
    session.take(Freeze())
    session.take(Help())
    assert [layer.name for layer in session.scene()] == ["main", "help", "strip"]


def test_words_on_the_piece_turn_to_the_person() -> None:
    person = GROUND.person(2)
    for turn in (0.0, 75.0, 180.0, -100.0):
        for label in person.labels(START.piece, Placement(turn_deg=turn)):
            right, up = person.seen(np.asarray(label.along)[None])[0]
            assert right > 1e-9 or up > 0


def test_the_gravest_warning_is_in_the_strip_and_only_that() -> None:
    ground = replace(GROUND, warnings=("MOVED since the alignment", "no ruler test yet"))
    said = words(replace(START, ground=ground))
    assert "MOVED since the alignment" in said
    assert "no ruler test yet" not in said


def test_the_name_of_a_piece_that_leaves_the_light_stays_in_it_and_on_the_piece() -> None:
    inside = [(label.text, tuple(label.at), label.height_in) for label in piece_labels(START)]
    usual = START.person.labels(START.piece, START.placement)
    assert inside == [(label.text, tuple(label.at), label.height_in) for label in usual], "it is not moved"
    for actions in ([Move(right=-1)] * 54, [Move(right=1)] * 54, [Move(away=1)] * 36, [Move(away=-1)] * 30):
        station = after(*actions)
        lit = shapely.Polygon(GROUND.lit.border_in).intersection(shapely.Polygon(station.outline_in))
        labels = piece_labels(station)
        assert [label.text for label in labels] == [text for text, _, _ in inside]
        for label in labels:
            half = label.height_in * words_width(label.text) / 2
            ends = [label.at - half * np.asarray(label.along), label.at + half * np.asarray(label.along)]
            assert lit.contains(shapely.LineString(ends)), (actions[0], label.text)


def test_keys_that_go_to_another_window_are_told_first_and_what_is_frozen_stays_said() -> None:
    session = Session(START)
    session.take(Freeze())
    session.unheard = True
    said = session.station.strip_words(Controls(frozen=True, unheard=True))
    assert said.first == ("KEYS GO TO ANOTHER WINDOW: click here",)
    assert {"FROZEN", "front", "half, on the fold"} <= set(said.aside)
    session.unheard = False
    heard = {layer.key for layer in session.scene() if layer.name == "strip"}
    session.unheard = True
    assert heard != {layer.key for layer in session.scene() if layer.name == "strip"}
