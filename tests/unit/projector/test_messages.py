"""Words in pixels, for when there is no map."""

import numpy as np

from projector.lighting.letters import words_width
from projector.scene import Controls
from projector.stations.refusal import RefusalStation
from projector.words.messages import columns_light, message_light, wrapped

SCREEN = (1280, 720)


def test_long_words_are_broken_at_spaces_and_none_is_lost() -> None:
    text = "the quick tailor cut the cloth " * 6
    lines = wrapped(text.strip(), 20.0)
    assert len(lines) > 5
    assert " ".join(lines) == text.strip()
    assert all(words_width(line) <= 20.0 for line in lines)
    assert wrapped("one\n\ntwo", 50.0) == ["one", "", "two"]


def test_a_message_fits_the_screen_either_way_up() -> None:
    for upside_down in (False, True):
        drawing = message_light("align again " * 40, SCREEN, 0.5, upside_down=upside_down)
        points = np.vstack([part.points for part in drawing])
        assert ((points > 0) & (points < np.array(SCREEN))).all()


def test_upside_down_is_half_a_turn_about_the_middle() -> None:
    upright = message_light("first line\nsecond", SCREEN, 0.5)
    turned = message_light("first line\nsecond", SCREEN, 0.5, upside_down=True)
    for one, other in zip(upright, turned, strict=True):
        assert np.abs(np.array(SCREEN) - one.points - other.points).max() < 1e-6


def test_columns_meet_at_one_line() -> None:
    left, right, other_left, other_right = columns_light(
        [("f", "freeze"), ("page down", "next")], SCREEN, (0.5, 0.2), upside_down=False
    )
    assert abs(left.points[:, 0].max() - other_left.points[:, 0].max()) < 3
    assert abs(right.points[:, 0].min() - other_right.points[:, 0].min()) < 3


def test_a_refusal_shows_its_reason_and_nothing_else() -> None:
    station = RefusalStation(reason="the sheets moved", screen_px=SCREEN)
    (layer,) = station.scene(Controls())
    assert len(layer.draw()) == 2
    assert not station.finished
