"""What the person at the table is told while a camera looks, and that the words never lie on the squares."""

import ast
import re
from dataclasses import replace
from pathlib import Path

import numpy as np
import pytest

from calibration.cameras.watch import FRAMES, MOVED, Look
from calibration.photos import photo, photo_faults
from calibration.sheets.sheet import PAPERS
from calibration.sheets.targets import Targets
from calibration.solving import solve, starts
from calibration.trust import look_again
from projector.actions import Accept, Blank, ChangeSide, Move
from projector.lighting.canvas import compose, tile, whole
from projector.scene import Controls
from projector.session import Session
from projector.stations.camera import CameraStation, Stage, live
from projector.words.messages import wrapped

SCREENS = [(1920, 1080), (1280, 800), (800, 450)]
LONG = (
    "found 3 of 24 corners on sheet 1, 12 are needed; it is half hidden, in glare or blurred: clear it and "
    "retake the photo, and then wait until all of the others are seen as well"
)


def a_station(screen_px: tuple[int, int] = (1920, 1080), sheets: int = 5) -> CameraStation:
    targets = Targets(screen_px=screen_px, sheets=sheets, paper=PAPERS["letter"], dark_rows=1)
    return CameraStation.begun(targets).lit(1.0)


def first_line(station: CameraStation) -> str:
    return station.lines(Controls())[0]


def light_of(station: CameraStation) -> "np.ndarray[tuple[int, ...], np.dtype[np.uint8]]":
    screen_px = station.targets.screen_px
    layers = station.scene(Controls())
    return compose([tile(layer.draw(), screen_px) for layer in layers], whole(screen_px))


@pytest.mark.parametrize(
    ("look", "said"),
    [
        (Look(sheets=(1, 2, 4)), "sheets 1, 2 and 4 seen; sheets 3 and 5 missing"),
        (Look(sheets=(2,), light=True), "sheet 2 seen; sheets 1, 3, 4 and 5 missing"),
        (Look(light=True), "sheets 1, 2, 3, 4 and 5 missing"),
        (
            Look(sheets=(1, 2, 3, 4, 5)),
            "all sheets seen, the squares of light not: dim the room, get all the light into view",
        ),
        (
            Look(sheets=(1, 2, 3, 4, 5), light=True, frames=7),
            f"all sheets seen; hold still: frame 7 of {FRAMES}",
        ),
        (
            Look(sheets=(1, 2, 4), light=True, frames=1),
            f"sheets 1, 2 and 4 seen; hold still: frame 1 of {FRAMES}",
        ),
        (Look(sheets=(1, 2, 3, 4, 5), light=True, frames=1, trouble=MOVED), MOVED),
        (Look(sheets=(1,), trouble="too dark: ..."), "too dark: ..."),
    ],
)
def test_what_is_seen_is_said(look: Look, said: str) -> None:
    assert first_line(a_station().saw(look)) == said


def test_first_the_person_is_told_what_to_do() -> None:
    assert first_line(a_station()) == (
        "lay each sheet in its white window, and keep hands and heads out of the light"
    )


def test_the_stages_have_their_words_and_a_refusal_gives_way_to_the_next_look() -> None:
    station = a_station()
    assert station.working().lines(Controls()) == ("all taken; working it out", "")
    refused = station.working().refused("sheet 2 lies there twice")
    assert (refused.stage, first_line(refused)) == (Stage.WATCHING, "sheet 2 lies there twice")
    assert first_line(refused.saw(Look(sheets=(1, 2, 3)))).startswith("sheets 1, 2 and 3 seen")
    assert station.failed("camera 0 stopped").lines(Controls()) == ("camera 0 stopped", "q: leave")
    assert first_line(station.done("good to 1/32 in")) == "good to 1/32 in"
    assert not station.done("good").finished
    assert station.done("good").told().finished


def test_a_refusal_never_asks_for_a_photo_where_a_camera_goes_on_looking() -> None:
    refused = a_station().refused("sheet 2 is hidden: clear it and retake the photo")
    assert first_line(refused) == "sheet 2 is hidden: clear it"
    sentences = spoken_of_photos()
    assert len(sentences) > 12
    for sentence in sentences:
        said = live(sentence)
        assert not re.search(r"photo|retake|--targets|[ ,]$|, [,;.]| {2}", said), said


def spoken_of_photos() -> list[str]:
    """What is said of photos where a camera's frames are read and judged, each as its pieces stand in the source."""
    texts = []
    for module in (photo, photo_faults, solve, starts, look_again):
        tree = ast.parse(Path(str(module.__file__)).read_text(encoding="utf-8"))
        documented = (ast.Module, ast.ClassDef, ast.FunctionDef)
        notes = {ast.get_docstring(n, clean=False) for n in ast.walk(tree) if isinstance(n, documented)}
        spoken = (
            ast.unparse(node) if isinstance(node, ast.JoinedStr) else str(node.value)
            for node in ast.walk(tree)
            if isinstance(node, ast.JoinedStr)
            or (isinstance(node, ast.Constant) and isinstance(node.value, str) and node.value not in notes)
        )
        texts += [text for text in spoken if "retake" in text]
    return texts


def test_a_preview_says_so_at_every_stage() -> None:
    for station in (a_station(), a_station().working(), a_station().done("good")):
        assert "preview, not true to size" in station.lines(Controls(preview=True))[1]


def test_enter_asks_to_use_what_is_seen_while_watching() -> None:
    station = a_station()
    assert station.after(Accept()).hurried
    assert not station.after(Accept()).heard().hurried
    assert not station.working().after(Accept()).hurried
    assert station.after(Move(right=1)) is station


def test_only_what_changed_is_drawn_again() -> None:
    station = a_station()
    keys = [layer.key for layer in station.scene(Controls())]
    seen = [layer.key for layer in station.saw(Look(sheets=(1,))).scene(Controls())]
    assert [a == b for a, b in zip(keys, seen, strict=True)] == [True, False, False]
    assert station.lit(1.0) is station


@pytest.mark.parametrize("upside_down", [False, True])
@pytest.mark.parametrize("screen_px", SCREENS)
@pytest.mark.parametrize("words", ["too dark: white is 60 of 255; raise the exposure", LONG])
def test_words_and_plan_stay_in_their_band_and_the_squares_are_untouched(
    words: str, screen_px: tuple[int, int], upside_down: bool
) -> None:
    station = replace(a_station(screen_px).refused(words), side=2 * upside_down)
    below = station.targets.dark_from_px
    shown = light_of(station)
    assert np.array_equal(shown[:below], station.picture[:below])
    band = shown[below:]
    assert (band > 200).sum() > 500
    rim = round(0.01 * screen_px[0])
    assert not band[:, :rim].any()
    assert not band[:, -rim:].any()
    assert not band[0].any()
    assert not band[-1].any()
    between = screen_px[0] * 0.15
    gap = band[:, ::-1] if upside_down else band
    assert not gap[:, round(between) : round(between * 1.1)].any()


def test_turned_words_are_the_same_turned_by_half() -> None:
    station = a_station()
    below = station.targets.dark_from_px
    upright = light_of(station)[below:].astype(int)
    turned = light_of(station.after(ChangeSide()))[below:][::-1, ::-1].astype(int)
    assert np.abs(upright - turned).mean() < 4
    assert np.abs(upright - turned[::-1, ::-1]).mean() > 20


def test_a_sheet_that_is_seen_is_ticked_in_the_plan() -> None:
    station = a_station(sheets=3)
    before, after = (light_of(one) for one in (station, station.saw(Look(sheets=(2,)))))
    below = station.targets.dark_from_px
    height = station.targets.screen_px[1]
    plan_px = 0.2 * station.targets.screen_px[0]
    changed = np.argwhere(before[below:, : round(plan_px)] != after[below:, : round(plan_px)])
    (up, left), (down, right) = changed.min(axis=0), changed.max(axis=0)
    assert 0 < down - up < 0.4 * (height - below)
    assert 0 < right - left < 0.4 * (height - below)


def test_the_light_fades_and_a_blank_takes_all_of_it() -> None:
    station = a_station()
    half = light_of(station.lit(0.5))
    below = station.targets.dark_from_px
    assert set(np.unique(half[:below])) == {0, 128}
    session = Session(station)
    session.take(Blank())
    assert session.scene() == ()


def test_the_long_sentence_of_this_test_needs_more_than_a_line() -> None:
    assert len(wrapped(LONG, 0.8 * 1920 / 30)) > 1
