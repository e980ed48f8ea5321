"""Which look stands out on a cloth, told from a photo of it half in the light; and when none does."""

import json
from dataclasses import replace
from pathlib import Path

import numpy as np
import pytest

from projector.errors import ProjectorError
from projector.lighting.cloth_photo import is_burnt, tones_of, window_frame
from projector.lighting.contrast import ClothTones, best_look, faint_contrast, line_contrast, room_share
from projector.lighting.looks import LOOKS, USUAL
from projector.outputs import write_picture
from tests.unit.projector.cloth_photos import (
    BLACK_VELVET,
    LIT_ROOM,
    NAVY_WOOL,
    POPPIES,
    SCENES,
    WHITE_COTTON,
    Scene,
)
from tests.unit.projector.commands import a_table, check_refusal, result


def plain(unlit: float, lit: float) -> ClothTones:
    return ClothTones(unlit=(unlit,), lit=(lit,))


@pytest.mark.parametrize(("unlit", "lit", "ratio"), [(0.0, 1.0, 21.0), (0.0, 0.3, 21.0), (0.25, 1.0, 3.5)])
def test_full_light_on_plain_cloth_is_as_the_rules_reckon_with_lit_cloth_for_white(
    unlit: float, lit: float, ratio: float
) -> None:
    assert line_contrast(USUAL, plain(unlit, lit)) == pytest.approx(ratio)


def test_half_the_light_is_half_of_what_is_added() -> None:
    half = replace(USUAL, gain=0.5)
    assert line_contrast(half, plain(0.2, 1.0)) == pytest.approx((0.6 + 0.05) / (0.2 + 0.05))


def test_faint_lines_of_the_bold_look_stand_out_more() -> None:
    tones = plain(0.2, 1.0)
    assert faint_contrast(USUAL, tones) == pytest.approx((0.4 + 0.05) / 0.25)
    assert faint_contrast(LOOKS["dark"], tones) == pytest.approx((0.6 + 0.05) / 0.25)


def test_a_single_line_is_lost_on_a_print_where_two_rails_are_not() -> None:
    print_tones = ClothTones(unlit=(0.02, 0.02, 0.1, 0.1), lit=(0.14, 0.14, 0.8, 0.8))
    assert print_tones.printed
    # with lit white for 1 the dark tone is 0.025 and 0.175, the pale one's ground 0.125
    assert line_contrast(USUAL, print_tones) == pytest.approx((0.175 + 0.05) / (0.125 + 0.05))
    assert line_contrast(LOOKS["printed"], print_tones) == pytest.approx((0.175 + 0.05) / (0.025 + 0.05))
    assert best_look(print_tones).name == "printed"


@pytest.mark.parametrize("name", SCENES)
def test_a_photo_gives_the_contrast_of_the_scene(name: str) -> None:
    scene = SCENES[name]
    found = tones_of(scene.photo())
    assert found.printed == (len(scene.tones) > 1)
    unlit, lit = scene.luminance(0.0), scene.luminance(1.0)
    half = len(found.lit) // 2  # the first tone covers most of each scene
    assert found.unlit[half] / found.lit[half] == pytest.approx(unlit[0] / lit[0], rel=0.08)
    if not found.printed:
        true = line_contrast(USUAL, plain(unlit[0], lit[0]))
        assert line_contrast(USUAL, found) == pytest.approx(true, rel=0.12)


@pytest.mark.parametrize("scene", [WHITE_COTTON, NAVY_WOOL, POPPIES])
def test_how_long_the_photo_was_exposed_changes_nothing(scene: Scene) -> None:
    usual, shorter = (tones_of(replace(scene, exposure=share * scene.exposure).photo()) for share in (1, 0.5))
    for look in LOOKS.values():
        assert line_contrast(look, shorter) == pytest.approx(line_contrast(look, usual), rel=0.08)


def test_the_look_is_the_plain_one_in_a_dim_room_and_the_bold_one_in_a_lit_one() -> None:
    names = {name: best_look(tones_of(scene.photo())).name for name, scene in SCENES.items()}
    assert names == {
        "white cotton": "light",
        "navy wool": "light",
        "black velvet": "light",
        "a room that is lit": "dark",
        "poppies": "printed",
    }


def test_the_room_may_keep_so_much_of_its_light_that_three_to_one_is_left() -> None:
    tones = plain(0.45, 1.0)  # 0.55 of light is added: u of the room's leaves (0.55 + u + w) / (u + w) = 3
    assert line_contrast(USUAL, tones) == pytest.approx(2.1)
    share = room_share(USUAL, tones)
    assert share == 0.5
    white = 0.55 + share * 0.45
    assert (1 + 0.05) / (share * 0.45 / white + 0.05) >= 3
    assert (1 + 0.05) / (0.625 * 0.45 / (0.55 + 0.625 * 0.45) + 0.05) < 3
    assert room_share(USUAL, plain(0.1, 1.0)) == 1.0
    assert room_share(replace(USUAL, gain=0.08), plain(0.5, 1.0)) == 0.0


def test_cloth_without_a_window_is_refused_and_so_is_a_tiny_photo() -> None:
    dark = NAVY_WOOL.photo()[:, :200]
    with pytest.raises(ProjectorError, match="found no bright window on the cloth"):
        tones_of(dark)
    with pytest.raises(ProjectorError, match="150x120 pixels, and 200 at least"):
        tones_of(WHITE_COTTON.photo()[:120, :150])


def test_a_window_that_hardly_shows_in_a_bright_room_is_none() -> None:
    with pytest.raises(ProjectorError, match="darken the room"):
        tones_of(replace(WHITE_COTTON, room=7.0, exposure=0.1).photo())


def test_a_burnt_photo_is_known() -> None:
    assert is_burnt(tones_of(replace(WHITE_COTTON, exposure=3.0).photo()))
    assert not is_burnt(tones_of(WHITE_COTTON.photo()))


def test_the_frame_is_a_window_of_full_light_in_the_dark() -> None:
    frame = window_frame((1920, 1080))
    assert frame.shape == (1080, 1920, 3)
    assert frame[540, 960].tolist() == [255, 247, 219]
    assert (frame[:, :, 0] > 0).mean() == pytest.approx(1 / 6, abs=1e-3)
    assert set(np.unique(frame[:, :, 0])) == {0, 255}


def test_the_command_says_the_look_and_the_contrast_of_each(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    photo = tmp_path / "poppies.png"
    write_picture(photo, POPPIES.photo())
    code, out, err = result(capsys, "check", "--cloth", photo)
    assert (code, err) == (0, "")
    assert out.startswith(f"{photo}: printed cloth, best seen with --look printed\n  light ")
    assert "take it if the cloth is sheer" in out
    code, out, err = result(capsys, "check", "--cloth", photo, "--json")
    found = json.loads(out)
    assert found["look"] == "printed"
    assert list(found["contrast"]) == list(LOOKS)
    assert found["contrast"]["printed"] > found["needed"] == 3
    assert found["warnings"] == []


def test_the_command_warns_and_says_what_to_do_where_no_line_would_stand_out(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    photo = tmp_path / "cloth.jpg"
    write_picture(photo, LIT_ROOM.photo())
    code, out, err = result(capsys, "check", "--cloth", photo)
    assert code == 0
    assert "plain cloth, best seen with --look dark" in out
    assert "the cut line's light is 2.1 times that of the cloth, and 3 times is needed" in err
    assert "dim the room to about 1/2 of its light" in err
    assert "white paper under sheer cloth" in err


def test_the_frame_is_written_for_the_table_and_no_cloth_is_a_sentence(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    table, frame = a_table(tmp_path), tmp_path / "window.png"
    code, out, err = result(capsys, "check", "--table", table, "--cloth-frame", frame)
    assert (code, err) == (0, "")
    assert "show it on the projector at 1920x1080" in out
    assert frame.exists()
    black = tmp_path / "black.png"
    write_picture(black, BLACK_VELVET.photo()[:, :200])
    check_refusal(capsys, tmp_path, ("check", "--cloth", black), "found no bright window on the cloth")


@pytest.mark.parametrize(
    ("arguments", "complaint"),
    [
        (("--cloth", "a.jpg", "--table", "t.yaml"), "--cloth needs no table file; leave --table out"),
        (("--cloth-frame", "a.png"), "the following arguments are required: --table"),
        ((), "the following arguments are required: --table"),
    ],
)
def test_what_does_not_go_together(
    arguments: tuple[str, ...], complaint: str, capsys: pytest.CaptureFixture[str]
) -> None:
    with pytest.raises(SystemExit) as ended:
        result(capsys, "check", *arguments)
    assert ended.value.code == 2
    assert complaint in capsys.readouterr().err
