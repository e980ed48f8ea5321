"""How bindings and bands are sewn on, in the words of the card."""

from pathlib import Path

import pytest

from patterns.cutting.finish import Finish, SeamFinish
from patterns.paper.card import card
from tests.unit.patterns.build import HALF_TOP, pattern_of
from tests.unit.patterns.collared import COLLARED
from tests.unit.patterns.smock import smock

CLIPPED = "clip it there by 3/16 in, spread it straight and stitch across; then fold the strip to a mitre"
OPEN = "Let 1/2 in stand out at either end, and turn it in"
CLOSED = (
    "Begin beside a seam and leave a hand's width free at either end; sew the ends together, 1/2 in from each"
)


def said(folder: Path, *changes: str) -> str:
    (step,) = (one for one in card(smock(folder, *changes).drafted()) if one.title.startswith("Sew on the"))
    return " ".join(step.sentences)


def test_a_single_binding_is_turned_under_and_a_doubled_one_folded_first(tmp_path: Path) -> None:
    """Common practice: a single strip is turned under by its own width, a doubled one has a fold there."""
    single = said(tmp_path, "{binding: [front/neck, back/neck], width: 1/4 in}")
    doubled = said(tmp_path, "{binding: [front/neck, back/neck], width: 1/4 in, doubled: yes}")
    assert "Fold it in half lengthwise" not in single
    assert "stitch 1/4 in from there" in single
    assert "Bring its other edge, turned under by 1/4 in, over the raw edge" in single
    assert "Fold it in half lengthwise, wrong sides together, and press" in doubled
    assert "Bring its fold over the raw edge" in doubled
    assert CLOSED in single
    assert CLIPPED not in single


@pytest.mark.parametrize(("shape", "clipped"), [("v", True), ("square", True), ("round", False)])
def test_a_binding_is_mitred_where_its_neck_has_a_corner(tmp_path: Path, shape: str, clipped: bool) -> None:
    neck = f"{{neck: {shape}, piece: front, depth: 7}}"
    assert (CLIPPED in said(tmp_path, neck, "{binding: [front/neck, back/neck], width: 1/4 in}")) is clipped


def test_a_binding_that_closes_on_nothing_has_its_ends_turned_in(tmp_path: Path) -> None:
    """A half neck without its back, and one that is open at a seam which is bound itself."""
    text = HALF_TOP + "changes: [{binding: front/neck, width: 1/4 in}]\n"
    (step,) = (
        one for one in card(pattern_of(tmp_path, text).drafted()) if one.title.startswith("Sew on the")
    )
    assert OPEN in " ".join(step.sentences)


def test_an_outer_corner_is_mitred_by_folding_the_strip_back(tmp_path: Path) -> None:
    text = HALF_TOP.replace("[[9, 2], [10, 24]]", "[[9, 2], [12, 2], [10, 24]]")
    text += "changes: [{binding: front/side, width: 1/4 in}]\n"
    (step,) = (
        one for one in card(pattern_of(tmp_path, text).drafted()) if one.title.startswith("Sew on the")
    )
    assert "stop 1/4 in short of it, fold the strip back on itself" in " ".join(step.sentences)
    assert CLIPPED not in " ".join(step.sentences)


def test_each_armhole_is_bound_by_a_strip_of_its_own(tmp_path: Path) -> None:
    text = COLLARED + "changes: [{binding: [front/armhole, back/armhole], width: 1/4 in}]\n"
    steps = card(pattern_of(tmp_path, text).drafted())
    (bound,) = (one for one in steps if one.title == "Sew on the binding of front armhole and back armhole")
    assert "Cut 2 on the bias, 1 in wide and 17 1/8 in long" in bound.lengths[0]
    assert CLOSED in " ".join(bound.says)


def test_a_band_of_cloth_is_cut_twice_as_wide_and_folded(tmp_path: Path) -> None:
    """4 in that show and 1/2 in to join it by are 4 1/2 in of lace; of cloth, which frays, twice that."""
    assert "of cloth cut it 9 in wide and fold it in half lengthwise" in said(tmp_path, "{hem band: 4 in}")


def test_a_strip_of_pieces_is_longer_by_what_its_joins_take(tmp_path: Path) -> None:
    """By geometry: a join on the grain crosses a bias strip at 45 degrees; twice 1/4 in square to it take 0.71 in."""
    bound = said(tmp_path, "{binding: [front/neck, back/neck], width: 1/4 in}")
    assert "join it from pieces on the grain, with 3/4 in more for each join." in bound


def test_a_band_is_joined_by_a_french_seam_where_the_others_are(tmp_path: Path) -> None:
    """1/4 in and 1/4 in of the band's 1/2 in (common practice)."""
    french = Finish(seam=SeamFinish.FRENCH)
    (step,) = (
        one
        for one in card(smock(tmp_path, "{hem band: 4 in}").drafted(), french)
        if one.title == "Sew on the hem band"
    )
    told = " ".join(step.says)
    assert "Wrong sides together first, 1/4 in from the edge; trim to 1/8 in" in told
    assert "Then right sides together, 1/4 in from the fold" in told
