"""What aligning by hand shows, and what each action does."""

import numpy as np
import pytest

from calibration.hand.by_hand import HandAlignment
from projector.actions import Accept, Action, ChangeSide, ChangeStep, Drag, Finish, Help, Move, TakeUp, Undo
from projector.scene import Controls
from projector.session import Session
from projector.stations.align import AlignStation
from tests.unit.projector.samples import SCREEN_PX, a_map

CALM = Controls()
MAP = a_map(k1=0.004)
BEGUN = AlignStation.begun(HandAlignment.over_mat(SCREEN_PX, 1.0, (36.0, 24.0)), "table")


def lines(station: AlignStation, controls: Controls = CALM) -> tuple[str, ...]:
    words = station.words(controls)
    return (*words.first, *words.aside)


def after(*actions: Action, station: AlignStation = BEGUN) -> AlignStation:
    for action in actions:
        station = station.after(action)
    return station


def placed(count: int, astray: int = -1) -> AlignStation:
    """So many crosses exactly on their marks, but for one that is 12 pixels off."""
    station = BEGUN
    for number in range(count):
        mark = station.alignment.next_mark()
        assert mark is not None
        x, y = MAP.screen_from_table((np.array(mark.at_in) - (18, 12))[None])[0]
        beside = 12.0 if number == astray else 0.0
        drag = Drag(from_px=station.cross_px, to_px=(float(x) + beside, float(y)))
        station = after(drag, Accept(), station=station)
    return station


def test_steps_move_the_cross_in_pixels_and_turn_with_the_person() -> None:
    x, y = BEGUN.cross_px
    assert after(Move(right=1)).cross_px == (x + 10, y)
    assert after(Move(away=1)).cross_px == (x, y - 10)
    assert after(ChangeStep(), Move(right=1)).cross_px == (x + 0.5, y)
    assert after(Move(right=1, other_step=True)).cross_px == (x + 0.5, y)
    assert after(ChangeSide(), Move(right=1, away=1)).cross_px == (x - 10, y + 10)


def test_the_cross_stays_on_the_screen() -> None:
    far = after(Drag(from_px=(0.0, 0.0), to_px=(9000.0, -9000.0)))
    assert far.cross_px == (SCREEN_PX[0] - 1.0, 0.0)


def test_the_words_name_the_mark_and_then_the_next() -> None:
    first, said, ways = lines(BEGUN)
    mark = BEGUN.alignment.next_mark()
    assert mark is not None
    assert first == f"put the cross on the mat's lines {mark.name}, from its near left corner"
    assert "0 placed" in said
    assert ways == "arrows step 10 px, s: 0.5 px  ·  enter accepts  ·  backspace undoes  ·  h: keys"
    assert lines(after(Accept()))[0] != first


def test_after_some_crosses_the_next_starts_on_its_mark_and_the_forecast_is_said() -> None:
    station = placed(8)
    mark = station.alignment.next_mark()
    assert mark is not None
    true = MAP.screen_from_table((np.array(mark.at_in) - (18, 12))[None])[0]
    assert np.hypot(*(true - station.cross_px)) < 6
    assert "8 placed, good to about" in lines(station)[1]
    assert "d saves" in lines(station)[2]


def test_undo_takes_the_last_cross_back_to_where_it_was() -> None:
    two = placed(2)
    back = after(Undo(), station=two)
    assert len(back.alignment.crosses) == 1
    assert back.cross_px == two.alignment.crosses[-1].at_px
    assert after(Accept(), station=back).alignment.crosses == two.alignment.crosses
    assert after(Undo()).notice == "nothing to undo"


def layer_points(station: AlignStation, name: str) -> "np.ndarray[tuple[int, ...], np.dtype[np.float64]]":
    layer = next(layer for layer in station.scene(CALM) if layer.name == name)
    return np.vstack([np.zeros((0, 2)), *(part.points for part in layer.draw())])


def test_a_cross_gone_astray_is_ringed_and_named_and_one_key_takes_it_up() -> None:
    station = placed(10, astray=5)
    astray = station.alignment.crosses[5]
    assert station.report.worst == astray.mark
    assert f"{astray.mark.name}, ringed, disagrees with the others by" in lines(station)[1]
    assert lines(station)[1].endswith("in: r redoes it")
    ring = layer_points(station, "doubted")
    assert np.allclose(ring.mean(axis=0), astray.at_px, atol=3)
    taken = after(TakeUp(), station=station)
    assert (taken.mark, taken.cross_px) == (astray.mark, astray.at_px)
    assert lines(taken)[0].startswith("again, put the cross on")
    assert len(layer_points(taken, "doubted")) == 0
    assert len(taken.alignment.placed) == 10
    again = after(Drag(from_px=(0.0, 0.0), to_px=(-12.0, 0.0)), Accept(), station=taken)
    assert again.report.worst is None
    assert len(again.alignment.placed) == 10
    assert again.mark == again.alignment.next_mark()


def test_a_cross_that_was_taken_up_can_be_put_back_and_one_placed_again_undone() -> None:
    station = placed(10, astray=5)
    put_back = after(TakeUp(), Move(right=1), Undo(), station=station)
    assert put_back.alignment == station.alignment
    assert put_back.mark == station.mark
    again = after(TakeUp(), Move(right=-1), Accept(), Undo(), station=station)
    assert again.alignment == station.alignment
    assert again.mark == station.alignment.crosses[5].mark


def test_nothing_is_taken_up_where_all_agree() -> None:
    station = after(TakeUp(), station=placed(8))
    assert "no mark disagrees with the others" in lines(station)
    assert len(layer_points(station, "doubted")) == 0


def test_the_plan_shows_the_next_mark_where_it_lies_on_the_mat() -> None:
    for station, across, up in ((placed(0), -1, 1), (placed(2), 1, -1)):
        plan = next(layer for layer in station.scene(CALM) if layer.name == "plan").draw()
        outline, ring = plan[0].points, plan[-1].points
        right, down = ring.mean(axis=0) - outline.mean(axis=0)
        assert np.sign((right, down)).tolist() == [across, up]


@pytest.mark.parametrize("turns", [0, 1])
def test_the_plan_stays_clear_of_words_and_cross(turns: int) -> None:
    for station in (placed(0), placed(3), placed(10, astray=5)):
        station = after(*[ChangeSide()] * turns, station=station)
        layers = {layer.name: layer for layer in station.scene(Controls(preview=True))}
        plan, words = (
            np.vstack([part.points for part in layers[name].draw()])[:, 1] for name in ("plan", "words")
        )
        y = station.cross_px[1]
        assert plan.max() < words.min() if turns == 0 else words.max() < plan.min()
        assert plan.max() < y - 20 or y + 20 < plan.min()
        assert 0 < min(plan.min(), words.min()) < max(plan.max(), words.max()) < SCREEN_PX[1]


@pytest.mark.parametrize("turns", [0, 1])
def test_words_and_plan_are_off_every_cross_however_many_there_are(turns: int) -> None:
    for count in (4, 12, 25):
        station = after(*[ChangeSide()] * turns, station=placed(count, astray=5))
        crosses = [*(cross.at_px for cross in station.alignment.placed), station.cross_px]
        words, plan = (layer_points(station, name) for name in ("words", "plan"))
        said = np.vstack([words, plan])
        assert np.linalg.norm(said[:, None] - crosses, axis=2).min() > 20
        assert (said > 0).all()
        assert (said < SCREEN_PX).all()
        assert len(words)
        assert len(plan) or count == 25


def test_words_stay_where_they_are_while_the_cross_is_nudged() -> None:
    station = placed(12)
    begun = layer_points(station, "words")
    for _ in range(3):
        station = after(Move(right=1, other_step=True), station=station)
        assert np.array_equal(layer_points(station, "words"), begun)


def test_too_early_to_finish_is_said_and_changes_nothing() -> None:
    station = after(Finish(), station=placed(3))
    assert not station.finished
    assert "3 crosses placed" in lines(station)[1]
    assert after(Move(right=1), station=station).notice == ""


def test_finishing_gives_an_alignment_that_is_true() -> None:
    station = after(Finish(), station=placed(16))
    assert station.finished
    assert station.result is not None
    points = np.array([[5.0, 5.0], [18.0, 12.0], [30.0, 20.0]])
    landed = MAP.table_from_screen(station.result.map.screen_from_table(points)) + np.array([18, 12])
    assert np.abs(landed - points).max() < 0.02


def test_when_every_mark_has_its_cross_there_is_none_to_move() -> None:
    station = placed(len(BEGUN.alignment.marks))
    assert lines(station)[0] == "every mark has its cross: d saves"
    cross = next(layer for layer in station.scene(Controls()) if layer.name == "cross")
    assert cross.draw() == ()
    assert "Every mark has its cross" in after(Accept(), station=station).notice


@pytest.mark.parametrize("turns", [0, 1])
def test_words_stay_clear_of_the_cross_and_on_the_screen(turns: int) -> None:
    for y in (0.0, 300.0, 520.0, 560.0, 800.0, 1079.0):
        station = after(*[ChangeSide()] * turns)
        station = after(Drag(from_px=(0.0, station.cross_px[1]), to_px=(0.0, y)), station=station)
        layers = {layer.name: layer for layer in station.scene(Controls(preview=True))}
        words = np.vstack([part.points for part in layers["words"].draw()])
        assert ((words > 0) & (words < np.array(SCREEN_PX))).all()
        assert not words[:, 1].min() - 20 < y < words[:, 1].max() + 20


def test_help_and_frozen_are_shown() -> None:
    session = Session(BEGUN)
    session.take(Help())
    (page,) = session.scene()
    assert len(page.draw()) == 2 * len(BEGUN.bindings)
    assert lines(BEGUN, Controls(frozen=True))[0] == "FROZEN: f frees it"
    assert "not true to size" in lines(BEGUN, Controls(preview=True))[2]
