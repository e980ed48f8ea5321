"""`check`: each mode, by the function it calls and by what it prints."""

from argparse import ArgumentParser, Namespace

import pytest

from projector.command_line import VERBS


def typed(*arguments: str) -> Namespace:
    parser = ArgumentParser()
    VERBS["check"].options(parser)
    return parser.parse_args(("--table", "t.yaml", *arguments))


@pytest.mark.parametrize(
    ("arguments", "function"),
    [
        ((), "check.ruler_test"),
        (("--json", "--setup", "attic"), "check.ruler_test"),
        (("--taped", "36", "24", "33 15/16 in", "86.2 cm", "--json"), "check.taped"),
        (("--restore",), "check.restore"),
        (("--photo", "a.jpg", "b.jpg", "--realign", "--paper", "a4", "--sheets", "3"), "drift.drift"),
        (("--camera", "0", "--realign"), "camera.check_by_camera"),
        (("--camera", "frames/f_%03d.png"), "camera.check_by_camera"),
        (("--by-hand", "--json"), "by_hand.drift_by_hand"),
        (("--loop-frame", "loop.png"), "loop.loop_frame"),
        (("--loop-photo", "a.jpg", "--json"), "loop.loop_photo"),
        (("--loop", "--window", "1920x1080"), "by_hand.loop_by_hand"),
        (("--surface", "1/4 in", "--lens", "2 in, -30 in, 6cm", "--correct"), "surface.surface"),
        (("--surface", "0"), "surface.surface"),
        (("--forecast",), "picture.show_forecast"),
        (("--picture", "forecast.png"), "picture.write_forecast"),
    ],
)
def test_each_mode_has_its_function(arguments: tuple[str, ...], function: str) -> None:
    verb, options = VERBS["check"], typed(*arguments)
    assert verb.complaint(options) is None
    assert verb.runs(options) == f"projector.verbs.{function}"


def test_lengths_are_read_as_people_write_them() -> None:
    options = typed("--taped", "36", "24 1/16", "33 15/16 in", "86.2 cm")
    assert options.taped == [36.0, 24.0625, 33.9375, pytest.approx(33.937, abs=1e-3)]
    options = typed("--surface", "6 mm", "--lens", "2 in, -30 1/2, 6 cm")
    assert options.surface == pytest.approx(6 / 25.4)
    assert options.lens == (2.0, -30.5, pytest.approx(60 / 25.4))
