import math
from pathlib import Path

import pytest

from patterns import PatternError
from tests.unit.patterns.build import pattern_of
from tests.unit.patterns.collared import COLLARED
from tests.unit.patterns.smock import drafted, smock

PANELS = (
    "pattern: Bollard skirt\nallowance: {seam: 1/2, hem: 1/2}\npieces:\n  panel:\n    cut: 3\n    edges:\n"
    "      - {name: waist, kind: edge, path: [[0, 0], [10, 0]]}\n"
    "      - {name: right, kind: seam, path: [[10, 0], [10, 20]]}\n"
    "      - {name: hem, kind: hem, path: [[10, 20], [0, 20]]}\n"
    "      - {name: left, kind: seam, path: [[0, 20], [0, 0]]}\n"
)
BOTH = "{binding: [front/neck, back/neck], width: 1/4 in"


def test_a_bound_edge_is_cut_on_its_seam_line(tmp_path: Path) -> None:
    front = drafted(tmp_path, f"{BOTH}}}").pieces["front"]
    assert front.edges["neck"].allowance_in == 0
    assert front.cut_line[0].tolist() == [0, 4]


@pytest.mark.parametrize(
    ("doubled", "width_in"), [("", 1.0), (", doubled: no", 1.0), (", doubled: yes", 1.75)]
)
def test_the_strip_goes_once_round_the_neck(tmp_path: Path, doubled: str, width_in: float) -> None:
    """Common practice: 4w, doubled 6w + 1/4; an inch more than the edge for closing it on itself."""
    pattern = smock(tmp_path, f"{BOTH}{doubled}}}")
    (strip,) = pattern.draft().strips
    necks = [pattern.drafted().pieces[piece].edges["neck"].length_in for piece in ("front", "back")]
    assert strip.name == "binding of front/neck and back/neck"
    assert strip.width_in == pytest.approx(width_in)
    assert strip.length_in == pytest.approx(2 * sum(necks) + 1)


def test_the_strip_follows_the_changes_after_it(tmp_path: Path) -> None:
    first, last = (
        smock(tmp_path, *changes).draft().strips[0].length_in
        for changes in (
            (f"{BOTH}}}", "{neck: v, piece: front, depth: 8}"),
            ("{neck: v, piece: front, depth: 8}", f"{BOTH}}}"),
        )
    )
    assert first == pytest.approx(last)


def test_the_sleeves_have_a_strip_each(tmp_path: Path) -> None:
    """By hand: two halves of hypot(2, 6) in go round one arm, and an inch closes the strip."""
    sleeves = "{binding: [front/sleeve hem, back/sleeve hem], width: 1/4 in}"
    (strip,) = smock(tmp_path, sleeves).draft().strips
    assert strip.count == 2
    assert strip.length_in == pytest.approx(2 * math.hypot(2, 6) + 1)


def test_armholes_of_mirrored_fronts_have_a_strip_each(tmp_path: Path) -> None:
    """By hand: an armhole of 2 x hypot(1, 8) in, and an inch; a neck that ends at the centre seam has one strip."""
    text = COLLARED + "changes: [{binding: [front/armhole, back/armhole], width: 1/4 in, doubled: yes}]\n"
    (strip,) = pattern_of(tmp_path, text).draft().strips
    assert (strip.count, strip.doubled, strip.wraps_in) == (2, True, 1 / 4)
    assert strip.length_in == pytest.approx(2 * math.hypot(1, 8) + 1)
    hem = COLLARED + "changes: [{binding: [front/hem, back/hem], width: 1/4 in}]\n"
    (strip,) = pattern_of(tmp_path, hem).draft().strips
    assert strip.count == 1
    assert strip.length_in == pytest.approx(4 * 9 + 1)


def test_a_band_goes_round_all_that_are_cut_of_a_panel(tmp_path: Path) -> None:
    """By hand: three panels, each 10 in wide at the hem; an inch closes the band."""
    (strip,) = pattern_of(tmp_path, f"{PANELS}changes: [{{hem band: 2, pieces: [panel]}}]\n").draft().strips
    assert strip.count == 1
    assert strip.length_in == pytest.approx(3 * 10 + 1)


def test_a_hem_band_is_a_strip_too(tmp_path: Path) -> None:
    (strip,) = smock(tmp_path, "{hem band: 4 in}").draft().strips
    assert strip.name == "hem band"
    assert strip.width_in == 4.5
    hems = [
        drafted(tmp_path, "{hem band: 4 in}").pieces[piece].edges["hem"].length_in
        for piece in ("front", "back")
    ]
    assert strip.length_in == pytest.approx(2 * sum(hems) + 1)


@pytest.mark.parametrize(
    ("changes", "sentence"),
    [
        (
            (f"{BOTH}}}", "{binding: front/neck, width: 1/2}"),
            "front/neck has a binding of front/neck and back/neck already; switch one of the two off",
        ),
        (
            ("{binding: front/hem, width: 1/2}", "{hem band: 2}"),
            "front/hem has a binding of front/hem already; switch one of the two off",
        ),
        (
            ("{facing: front, of: front/neck, depth: 2}", f"{BOTH}}}"),
            "front/neck is sewn to front facing/neck, so it cannot be bound; switch one of the two off",
        ),
        (
            (f"{BOTH}}}", "{facing: front, of: front/neck, depth: 2}"),
            "front/neck is bound, so it cannot be faced; switch one of the two off",
        ),
        (
            ("{binding: front/centre, width: 1/4}",),
            "front/centre is a fold, which has no edge to bind; bind another",
        ),
        (
            ("{binding: [front/neck, back/neck, front/sleeve hem], width: 1/4}",),
            "front/neck and front/sleeve hem do not run on into one another, so one strip cannot bind both; give each "
            "line a binding of its own",
        ),
        (
            ("{binding: front/side, width: 1/4}",),
            "front/side is sewn to back/side, so it cannot be bound; switch one of the two off",
        ),
    ],
)
def test_what_cannot_be_bound_says_why(tmp_path: Path, changes: tuple[str, ...], sentence: str) -> None:
    with pytest.raises(PatternError) as error:
        drafted(tmp_path, *changes)
    assert str(error.value) == sentence


def test_a_facing_that_is_off_leaves_its_neck_to_be_bound(tmp_path: Path) -> None:
    facing = "{facing: front, of: front/neck, depth: 2, off: yes}"
    assert drafted(tmp_path, facing, f"{BOTH}}}").pieces["front"].edges["neck"].allowance_in == 0
