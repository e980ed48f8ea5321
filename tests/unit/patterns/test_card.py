from pathlib import Path

import pytest

from patterns import example, read_pattern
from patterns.cutting.finish import Finish, HemFinish, SeamFinish
from patterns.paper.card import card
from patterns.sewing.step import Step
from tests.unit.patterns.build import pattern_of

OVERTOP = read_pattern(example("harbour overtop"))
DRAFTED = OVERTOP.drafted()
FRENCH = Finish(seam=SeamFinish.FRENCH, hem=HemFinish.DOUBLE)


def step(steps: tuple[Step, ...], title: str) -> str:
    (found,) = (one for one in steps if one.title == title)
    return " ".join(found.sentences)


def test_the_steps_are_in_the_order_in_which_they_are_sewn() -> None:
    assert [one.title for one in card(DRAFTED)] == [
        "Set the machine",
        "Hold a tape against every piece",
        "Finish the single edges while the pieces lie flat",
        "Sew the front facing to the front's neck",
        "Sew the back facing to the back's neck",
        "Sew the overarm",
        "Sew the side",
        "Turn up the sleeve hem",
        "Turn up the hem",
    ]


def test_lengths_are_those_that_were_drafted() -> None:
    """A neck on the fold is sewn whole, so twice its half; 17.464 in is 17 7/16 in to the nearest 1/16."""
    neck = DRAFTED.pieces["front"].edges["neck"].length_in
    assert 2 * neck == pytest.approx(17.464, abs=1e-3)
    steps = card(DRAFTED)
    assert "17 7/16 in of neck on 17 7/16 in of facing" in step(
        steps, "Sew the front facing to the front's neck"
    )
    overarm = step(steps, "Sew the overarm")
    assert "front 12 5/8 in on back 12 5/8 in, and on through the opened facing, 2 1/2 in more" in overarm
    hems = sum(DRAFTED.pieces[name].edges["hem"].length_in for name in ("front", "back"))
    assert 2 * hems == pytest.approx(44.953, abs=1e-3)
    assert "44 15/16 in round." in step(steps, "Turn up the hem")
    assert "12 in round each." in step(steps, "Turn up the sleeve hem")


def test_a_facing_beside_a_bound_neck_is_caught_in_the_shoulder(tmp_path: Path) -> None:
    text = example("harbour overtop").read_text(encoding="utf-8")
    bound = "- {binding: [back/neck], width: 1/4 in}"
    text = text.replace("- {facing: back, of: back/neck, depth: 2 1/2 in}", bound)
    text = text.replace("  - [front facing/overarm, back facing/overarm]\n", "")
    says = step(card(pattern_of(tmp_path, text).drafted()), "Sew the overarm")
    assert "front 12 5/8 in on back 12 5/8 in; left and right alike." in says
    assert "Fold the front facing back over the end at the neck, and catch its 2 1/2 in in the seam." in says
    assert "Fold the" not in step(card(DRAFTED), "Sew the overarm")


def test_facings_need_no_join_of_their_own_to_be_sewn_on_through(tmp_path: Path) -> None:
    text = example("harbour overtop").read_text(encoding="utf-8")
    text = text.replace("  - [front facing/overarm, back facing/overarm]\n", "")
    says = step(card(pattern_of(tmp_path, text).drafted()), "Sew the overarm")
    assert "and on through the opened facing, 2 1/2 in more" in says


def test_only_a_point_is_pivoted_at_and_clipped_to() -> None:
    steps = card(DRAFTED)
    assert "Clip to the point" in step(steps, "Sew the front facing to the front's neck")
    assert "point" not in step(steps, "Sew the back facing to the back's neck")
    rounded = card(OVERTOP.drafted("round neck"))
    assert "point" not in step(rounded, "Sew the front facing to the front's neck")


def test_the_card_follows_the_finish() -> None:
    """A French seam is 1/4 in, trimmed to 1/8, and then 3/8 in (common practice)."""
    french, overlocked = card(DRAFTED, FRENCH), card(DRAFTED)
    assert "Wrong sides together first, 1/4 in" in step(french, "Sew the side")
    assert "Overlock" not in " ".join(" ".join(one.sentences) for one in french)
    assert "Overlock the raw edges together, and press." in step(overlocked, "Sew the side")
    assert "Fold it up twice" in step(french, "Turn up the hem")
    assert "Fold up 1/2 in" in step(overlocked, "Turn up the hem")


def test_bound_seams_tell_the_strip_that_binds_them() -> None:
    """1/4 in wide takes four times that (common practice); the side is 17.37 in long, and an inch more for the ends."""
    bound = card(DRAFTED, Finish(seam=SeamFinish.BOUND))
    assert "a strip of bias cloth, 1 in wide and 18 3/8 in long" in step(bound, "Sew the side")


def test_a_garment_without_facings_or_folds_has_a_card_too(tmp_path: Path) -> None:
    text = (
        "pattern: Bollard skirt\nallowance: {seam: 5/8 in, hem: 1 in}\npieces:\n"
        "  panel:\n    cut: 4\n    edges:\n"
        "      - {name: waist, kind: edge, path: [[0, 0], [6, 0]]}\n"
        "      - {name: right, kind: seam, path: [[6, 0], [8, 20]]}\n"
        "      - {name: hem, kind: hem, path: [[8, 20], [-2, 20]]}\n"
        "      - {name: left, kind: seam, path: [[-2, 20], [0, 0]]}\n"
        "joins: [[panel/left, panel/right]]\n"
    )
    steps = card(pattern_of(tmp_path, text).drafted())
    assert "panel 20 1/8 in on panel 20 1/8 in." in step(steps, "Sew the left to right")
    assert "40 in round." in step(steps, "Turn up the hem")


def test_bindings_and_bands_are_steps_with_their_strips(tmp_path: Path) -> None:
    """A single binding of 1/4 in is cut 1 in wide; a band 3 in deep with 1/2 in, 3 1/2 in (common practice)."""
    text = example("harbour overtop").read_text(encoding="utf-8")
    kept = [line for line in text[: text.index("versions:")].splitlines() if "facing" not in line]
    added = "  - {binding: [front/neck, back/neck], width: 1/4 in}\n  - {hem band: 3 in}\n"
    drafted = pattern_of(tmp_path, "\n".join(kept) + "\n" + added).drafted()
    neck, band = drafted.strips
    assert (neck.width_in, band.width_in) == (1.0, 3.5)
    steps = card(drafted)
    wrapped = step(steps, "Sew on the binding of front neck and back neck")
    assert "on the bias, 1 in wide and 26 9/16 in long" in wrapped
    assert "3 1/2 in wide" in step(steps, "Sew on the hem band")
    assert "Right sides together, 1/2 in from the edge." in step(steps, "Sew on the hem band")
    assert not [one for one in steps if one.title == "Turn up the hem"]


def test_a_hem_that_is_bound_or_has_no_allowance_is_not_turned_up(tmp_path: Path) -> None:
    text = example("harbour overtop").read_text(encoding="utf-8")
    bound = "  - {binding: [front/sleeve hem, back/sleeve hem], width: 1/4 in}\nversions:"
    text = text.replace("versions:", bound).replace("hem: 1/2 in", "hem: 0")
    steps = card(pattern_of(tmp_path, text).drafted())
    says = step(steps, "Sew on the binding of front sleeve hem and back sleeve hem")
    assert "Cut 2 on the bias, 1 in wide and 13 in long" in says
    assert not [one for one in steps if one.title.startswith("Turn up")]


@pytest.mark.parametrize(
    ("allowance", "says"),
    [
        ("5/8 in", "3/8 in from the fold"),
        ("1/2 in", "1/4 in from the fold"),
        ("1 in", "3/4 in from the fold"),
        ("3/8 in", "3/8 in is too little for a french seam: cut it with 1/2 in or more."),
    ],
)
def test_a_french_seam_lies_on_the_seam_line_whatever_its_allowance(
    tmp_path: Path, allowance: str, says: str
) -> None:
    """1/4 in goes to the first seam (common practice), the rest of the allowance to the second."""
    text = (
        example("harbour overtop").read_text(encoding="utf-8").replace("seam: 1/2 in", f"seam: {allowance}")
    )
    assert says in step(card(pattern_of(tmp_path, text).drafted(), FRENCH), "Sew the side")
