"""The card of garments that are no tops with cut-on sleeves: skirts, set-in sleeves, loose joins."""

from pathlib import Path

import pytest

from patterns import example, read_pattern
from patterns.cutting.finish import Finish, HemFinish, SeamFinish
from patterns.paper.card import DURABLE_MM, STITCH_MM, card, stitches_per_inch
from patterns.sewing.step import Step
from tests.unit.patterns.build import HALF_TOP, pattern_of
from tests.unit.patterns.collared import COLLARED

SKIRT = """\
pattern: Wharf skirt
allowance: {seam: 1/2 in, hem: 1 in + 1/2 in}
pieces:
  front:
    cut: 1 on fold
    edges:
      - {name: waist, kind: seam, path: [[0, 0], [7, 0]]}
      - {name: side, kind: seam, path: [[7, 0], [9, 24]]}
      - {name: hem, kind: hem, path: [[9, 24], [0, 24]]}
      - {name: centre front, kind: fold, path: [[0, 24], [0, 0]]}
  back:
    cut: 2 mirrored
    edges:
      - {name: waist, kind: seam, path: [[0, 0], [7, 0]]}
      - {name: side, kind: seam, path: [[7, 0], [9, 24]]}
      - {name: hem, kind: hem, path: [[9, 24], [0, 24]]}
      - {name: centre back, kind: seam, path: [[0, 24], [0, 0]]}
  band:
    cut: 1 on fold
    edges:
      - {name: lower front, kind: seam, path: [[0, 3], [7, 3]]}
      - {name: lower back, kind: seam, path: [[7, 3], [14, 3]]}
      - {name: end, kind: seam, path: [[14, 3], [14, 0]]}
      - {name: upper, kind: seam, path: [[14, 0], [0, 0]]}
      - {name: centre, kind: fold, path: [[0, 0], [0, 3]]}
joins: [[front/waist, band/lower front], [back/waist, band/lower back], [front/side, back/side]]
"""
SLEEVES = """\
pattern: Mate's blouse
allowance: {seam: 1/2 in, hem: 1/2 in}
pieces:
  front: &body
    cut: 1 on fold
    edges:
      - {name: neck, kind: seam, path: [[0, 5], [3, 0]]}
      - {name: shoulder, kind: seam, path: [[3, 0], [8, 2]]}
      - {name: armhole, kind: seam, path: [[8, 2], [9, 10]]}
      - {name: side, kind: seam, path: [[9, 10], [9, 24]]}
      - {name: hem, kind: hem, path: [[9, 24], [0, 24]]}
      - {name: centre, kind: fold, path: [[0, 24], [0, 5]]}
  sleeve:
    cut: 2 mirrored
    edges:
      - {name: front cap, kind: seam, path: [[8, 6], [0, 0]]}
      - {name: back cap, kind: seam, path: [[0, 0], [-8, 6]]}
      - {name: back seam, kind: seam, path: [[-8, 6], [-6, 20]]}
      - {name: sleeve hem, kind: hem, path: [[-6, 20], [6, 20]]}
      - {name: front seam, kind: seam, path: [[6, 20], [8, 6]]}
joins:
  - [front/armhole, sleeve/front cap]
  - [back/armhole, sleeve/back cap]
  - [sleeve/front seam, sleeve/back seam]
  - [front/side, back/side]
  - [front/shoulder, back/shoulder]
"""


def blouse() -> str:
    start, end = SLEEVES.index("  front: &body"), SLEEVES.index("  sleeve:")
    front = SLEEVES[start:end].replace(" &body", "")
    return SLEEVES[:start] + front + front.replace("front", "back") + SLEEVES[end:]


def titles(steps: tuple[Step, ...]) -> list[str]:
    return [one.title for one in steps]


def step(steps: tuple[Step, ...], title: str) -> str:
    (found,) = (one for one in steps if one.title == title)
    return " ".join(found.sentences)


def test_a_skirt_of_three_pieces(tmp_path: Path) -> None:
    """Its back seam is that of a mirrored pair, which no join can name; its hem goes once round all."""
    steps = card(pattern_of(tmp_path, SKIRT).drafted())
    assert titles(steps) == [
        "Set the machine",
        "Hold a tape against every piece",
        "Sew the centre back",
        "Sew the side",
        "Sew the front's waist to the band's lower front",
        "Sew the back's waist to the band's lower back",
        "Finish what nothing is sewn to",
        "Turn up the hem",
    ]
    assert "back on back, left on right, 24 in each." in step(steps, "Sew the centre back")
    assert "36 in round." in step(steps, "Turn up the hem")
    assert "Fold it up twice, 1/2 in and then 1 in, 1 1/2 in in all" in step(steps, "Turn up the hem")
    bare = step(steps, "Finish what nothing is sewn to")
    assert "band upper, 14 in with 1/2 in to turn." in bare
    assert "waist" not in bare
    assert "neck" not in " ".join(" ".join(one.sentences) for one in steps)


def test_sleeves_are_set_in_when_shoulder_side_and_sleeve_are_sewn(tmp_path: Path) -> None:
    """Whatever the order of the joins; the cap's ease is said, and each sleeve's hem goes round by itself."""
    steps = card(pattern_of(tmp_path, blouse()).drafted())
    assert titles(steps)[3:] == [
        "Sew the shoulder",
        "Sew the front seam to back seam",
        "Sew the side",
        "Sew the front's armhole to the sleeve's front cap",
        "Sew the back's armhole to the sleeve's back cap",
        "Finish what nothing is sewn to",
        "Turn up the hem",
        "Turn up the sleeve hem",
    ]
    cap = step(steps, "Sew the front's armhole to the sleeve's front cap")
    assert "front 8 1/16 in on sleeve 10 in; left and right alike." in cap
    assert "The sleeve's front cap is 1 15/16 in longer: ease it in evenly, without tucks." in cap
    assert "Pin this and the next one, and sew both in one." in cap
    assert "sew both" not in step(steps, "Sew the back's armhole to the sleeve's back cap")
    assert "sew both" not in step(steps, "Sew the side")
    assert "12 in round each." in step(steps, "Turn up the sleeve hem")
    assert "36 in round." in step(steps, "Turn up the hem")


def test_two_seams_of_one_name_are_told_apart(tmp_path: Path) -> None:
    panel = HALF_TOP[HALF_TOP.index("  front:") :]
    text = f"{HALF_TOP}{panel.replace('front', 'back')}{panel.replace('front', 'middle')}"
    text += "joins: [[front/side, middle/side], [back/side, middle/side]]\n"
    steps = card(pattern_of(tmp_path, text).drafted())
    assert {"Sew the side, front to middle", "Sew the side, back to middle"} <= set(titles(steps))


@pytest.mark.parametrize(
    ("finish", "edge", "says"),
    [
        (Finish(), "0", "Overlock: front hem, front facing outer edge."),
        (
            Finish(seam=SeamFinish.OVERCAST),
            "0",
            "Overcast with a zigzag stitch: front hem, front facing outer",
        ),
        (
            Finish(seam=SeamFinish.BOUND),
            "0",
            "1 in wide: front hem 21 in long, front facing outer edge 17 13/16 in long.",
        ),
        (Finish(hem=HemFinish.DOUBLE), "0", "Overlock: front facing outer edge."),
        (
            Finish(seam=SeamFinish.FRENCH),
            "1/4 in",
            "Turn under by 1/4 in and edge-stitch: front facing outer",
        ),
        (
            Finish(seam=SeamFinish.FRENCH),
            "0",
            "Overcast by hand or with a zigzag stitch: front hem, front fac",
        ),
    ],
)
def test_single_edges_are_finished_first_as_the_finish_has_them(
    tmp_path: Path, finish: Finish, edge: str, says: str
) -> None:
    text = HALF_TOP.replace("hem: 1/2 in", f"hem: 1/2 in, edge: {edge}")
    text += "changes: [{facing: front, of: front/neck, depth: 2}]\n"
    steps = card(pattern_of(tmp_path, text).drafted(), finish)
    assert says in step(steps, "Finish the single edges while the pieces lie flat")


def test_a_square_neck_is_turned_at_its_corners(tmp_path: Path) -> None:
    changes = "{neck: square, piece: front, depth: 6}, {facing: front, of: front/neck, depth: 2}"
    text = f"{HALF_TOP}changes: [{changes}]\n"
    says = step(card(pattern_of(tmp_path, text).drafted()), "Sew the front facing to the front's neck")
    assert "At each corner leave the needle down" in says
    assert "1/16 in short of the stitches and never through them" in says
    assert "stopping 1 in short of each corner" in says


def test_a_collar_is_made_up_and_sewn_on_before_the_sides(tmp_path: Path) -> None:
    """Common practice: a collar is turned out before its neck is sewn in; what crosses the fold is sewn whole."""
    steps = card(pattern_of(tmp_path, COLLARED).drafted(), Finish(seam=SeamFinish.FRENCH))
    assert titles(steps)[3:10] == [
        "Sew the end",
        "Sew the outer",
        "Sew the shoulder",
        "Sew the centre front",
        "Sew the front's neck to the collar's neck front",
        "Sew the back's neck to the collar's neck back",
        "Sew the side",
    ]
    outer = step(steps, "Sew the outer")
    assert "collar 17 in on under collar 17 in." in outer
    assert "Right sides together, 1/2 in from the edge. Trim the allowance to half" in outer
    assert "Wrong sides together first" in step(steps, "Sew the back's neck to the collar's neck back")
    assert "sew both in one" in step(steps, "Sew the front's neck to the collar's neck front")


@pytest.mark.parametrize(
    ("ease", "doubted"),
    [("[back/armhole, sleeve/back cap]", True), ("{edges: [back/armhole, sleeve/back cap], ease: 2}", False)],
)
def test_an_ease_that_the_pattern_does_not_give_is_doubted(tmp_path: Path, ease: str, doubted: bool) -> None:
    text = blouse().replace("[back/armhole, sleeve/back cap]", ease)
    says = step(card(pattern_of(tmp_path, text).drafted()), "Sew the back's armhole to the sleeve's back cap")
    assert "ease it in evenly" in says
    assert ("The pattern does not say that this ease is meant" in says) is doubted


def test_the_sleeve_hem_of_a_sleeve_is_said_once(tmp_path: Path) -> None:
    steps = card(pattern_of(tmp_path, blouse()).drafted())
    assert "Overlock: front hem, back hem, sleeve hem." in step(
        steps, "Finish the single edges while the pieces lie flat"
    )


def test_a_seam_without_an_allowance_cannot_be_sewn(tmp_path: Path) -> None:
    steps = card(pattern_of(tmp_path, COLLARED.replace("seam: 1/2 in", "seam: 0")).drafted())
    none = "It is cut on the seam line, with nothing to sew it by: give it an allowance, and cut it again."
    assert none in step(steps, "Sew the shoulder")
    assert none in step(steps, "Sew the outer")
    bare = step(steps, "Finish what nothing is sewn to")
    assert "under collar neck back, 4 1/4 in cut on the seam line." in bare
    assert " 0 in" not in " ".join(" ".join(one.sentences) for one in steps)


def test_stitch_lengths_are_counted_to_the_inch(tmp_path: Path) -> None:
    """25.4 mm are an inch (international yard and pound agreement, 1959): 8.47, 10.16 and 12.70 stitches."""
    counts = [stitches_per_inch(length) for length in (STITCH_MM, *DURABLE_MM)]
    assert counts == pytest.approx([8.47, 10.16, 12.70], abs=0.005)
    says = step(card(pattern_of(tmp_path, HALF_TOP).drafted()), "Set the machine")
    assert "Stitch length 3.0 mm, 8 1/2 to the inch, for thin cloth" in says
    assert "2.5 to 2.0 mm, 10 to 12 1/2 to the inch, holds longer" in says


def test_of_many_pieces_a_few_are_taped_at_a_time(tmp_path: Path) -> None:
    panel = HALF_TOP[HALF_TOP.index("  front:") :]
    more = "".join(panel.replace("front", name) for name in ("back", "yoke", "collar", "pocket", "tie"))
    told = titles(card(pattern_of(tmp_path, HALF_TOP + more).drafted()))
    assert "Hold a tape against the front, back, yoke, collar and pocket" in told
    assert "Hold a tape against the tie" in told


TROUSERS = """\
pattern: Coaling trousers
allowance: {seam: 1/2 in, hem: 1 in}
pieces:
  front:
    cut: 2 mirrored
    edges:
      - {name: waist, kind: seam, path: [[0, 0], [8, 0]]}
      - {name: outseam, kind: seam, path: [[8, 0], [9, 40]]}
      - {name: hem, kind: hem, path: [[9, 40], [0, 40]]}
      - {name: inseam, kind: seam, path: [[0, 40], [-3, 11]]}
      - {name: crotch, kind: seam, path: [[-3, 11], [0, 8], [0, 0]]}
"""


def test_the_crotch_is_sewn_when_both_legs_are_and_before_the_waistband(tmp_path: Path) -> None:
    start = TROUSERS.index("  front:")
    band = "  band:\n    cut: 1\n    edges:\n"
    lower = [("left back", 16, 24), ("left front", 8, 16), ("right front", 0, 8), ("right back", -8, 0)]
    for name, low, high in reversed(lower):
        band += f"      - {{name: {name}, kind: seam, path: [[{low}, 3], [{high}, 3]]}}\n"
    band += "      - {name: upper, kind: seam, path: [[24, 3], [24, 0], [-8, 0], [-8, 3]]}\n"
    text = TROUSERS + TROUSERS[start:].replace("front", "back") + band
    text += "joins: [[front/outseam, back/outseam], [front/inseam, back/inseam], "
    text += "[front/waist, band/left front], [back/waist, band/left back]]\n"
    steps = card(pattern_of(tmp_path, text).drafted())
    assert titles(steps)[3:] == [
        "Sew the outseam",
        "Sew the inseam",
        "Sew the front's crotch",
        "Sew the back's crotch",
        "Sew the front's waist to the band's left front",
        "Sew the back's waist to the band's left back",
        "Finish what nothing is sewn to",
        "Turn up the hem",
    ]
    assert "18 in round each." in step(steps, "Turn up the hem")
    waist = step(steps, "Sew the front's waist to the band's left front")
    assert "front 8 in on band 8 in." in waist


def test_hems_of_one_name_on_body_and_sleeves_are_two_steps(tmp_path: Path) -> None:
    steps = card(pattern_of(tmp_path, blouse().replace("sleeve hem", "hem")).drafted())
    assert "36 in round." in step(steps, "Turn up the hem of the front and back")
    assert "12 in round each." in step(steps, "Turn up the hem of the sleeve")


def test_the_top_of_a_pocket_goes_round_nothing() -> None:
    steps = card(read_pattern(example("practice pocket")).drafted())
    assert "6 in long." in step(steps, "Turn up the top")
    assert not [one for one in steps if one.title.startswith("Sew")]


def test_notches_are_pinned_first_by_their_kinds(tmp_path: Path) -> None:
    back = HALF_TOP[HALF_TOP.index("  front:") :].replace("front", "back")
    notches = "    notches: [{edge: side, at: 5}, {edge: side, at: 9, count: 2}]\n"
    text = f"{HALF_TOP}{notches}{back}{notches}joins: [[front/side, back/side], [front/shoulder, back/shoulder]]\n"
    steps = card(pattern_of(tmp_path, text).drafted())
    assert "Pin the ends and the single and double notches first." in step(steps, "Sew the side")
    assert "Pin" not in step(steps, "Sew the shoulder")


@pytest.mark.parametrize(("by", "clips"), [(0.0, False), (-3.0, True), (3.0, False)])
def test_a_seam_that_curves_in_is_clipped(tmp_path: Path, by: float, clips: bool) -> None:
    side = f"[[9, 2], [{9.5 + by}, 13], [10, 24]], curve: smooth"
    text = HALF_TOP.replace("[[9, 2], [10, 24]]", side)
    text += text[text.index("  front:") :].replace("front", "back") + "joins: [[front/side, back/side]]\n"
    steps = card(pattern_of(tmp_path, text).drafted())
    assert ("clip the allowance" in step(steps, "Sew the side")) is clips
    french = step(card(pattern_of(tmp_path, text).drafted(), Finish(seam=SeamFinish.FRENCH)), "Sew the side")
    assert ("before it is enclosed. Then right sides together" in french) is clips
