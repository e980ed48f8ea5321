"""Whatever is asked of a pattern, it is drafted to what can be cut or refused in a sentence."""

import re
from pathlib import Path

import pytest
import shapely
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from patterns import DraftedPattern, Pattern, PatternError
from patterns.changes import KINDS
from patterns.files.reader import pattern_in
from tests.unit.patterns.smock import smock_text, twice_traced_text

FILE = Path("smock.yaml")
ON_IT_IN = 1e-6
REQUESTS = (
    "neck: v, piece: front, depth: {}",
    "neck: v, piece: front, depth: 7, width: {}",
    "neck: round, piece: front, depth: {}",
    "neck: round, piece: back, depth: 3, width: {}",
    "neck: scoop, piece: front, depth: {}",
    "neck: square, piece: front, depth: {}",
    "neck: square, piece: front, depth: 7, corner: {}",
    "raise neck: {}, piece: front",
    "lower neck: {}, piece: back",
    "widen neck: {}",
    "narrow neck: {}",
    "lengthen: {}",
    "lengthen: {}, at: 18",
    "lengthen: 2, at: {}",
    "shorten: {}",
    "shorten: {}, at: 18",
    "shorten: 2, at: {}",
    "lengthen sleeve: {}",
    "shorten sleeve: {}",
    "sleeve opening: {}",
    "widen: {}, at: fold",
    "widen: {}, at: side",
    "narrow: {}, at: fold",
    "narrow: {}, at: side",
    "slant hem: {}",
    "hem band: {}",
    "hem band: 2, allowance: {}",
    "facing: front, of: front/neck, depth: {}",
    "facing: front, of: front/neck, depth: 2, below point: {}",
    "facing: front, of: front/hem, depth: {}",
    "facing: front, of: front/side, depth: {}",
    "binding: front/neck, width: {}",
    "shoulder forward: {}",
    "true up: [front/side, back/overarm]",
    "notch: [front/side, back/neck]",
    "notches: all",
    "average: [front, front left]",
)
absurd = st.one_of(
    st.floats(0, 30), st.floats(-6, 3).map(lambda power: 10**power), st.floats(-40, 0), st.just(1e-5)
).map(lambda inches: f"{inches:.7f}")


def asked(*requests: str) -> Pattern:
    """The smock with the changes; PatternError where they are refused unread."""
    listed = ", ".join(f"{{{request}}}" for request in requests)
    return pattern_in(twice_traced_text(listed), FILE)


def outcome(*requests: str) -> DraftedPattern | str:
    """The pattern drafted, or the sentence of its refusal."""
    try:
        return asked(*requests).drafted()
    except PatternError as refused:
        return str(refused)


def check(made: DraftedPattern | str) -> None:
    """Either all can be cut or the refusal says what was found and what to do, without a number that says nothing."""
    if isinstance(made, str):
        assert "; " in made, made
        assert not re.search(r"\b(nan|inf|None)\b|of 0\.00 ", made), made
        return
    for piece in made.pieces.values():
        seam, cut = shapely.Polygon(piece.seam_line), shapely.Polygon(piece.cut_line)
        assert seam.is_valid
        assert cut.is_valid
        assert cut.buffer(ON_IT_IN).covers(seam)
        assert piece.grain is None or seam.buffer(ON_IT_IN).covers(shapely.LineString(piece.grain))
        if piece.fold is not None:
            assert not piece.fold.points[:, 0].any()
            assert not piece.cut_line[[0, -1], 0].any()
            assert piece.seam_line[:, 0].min() >= -1e-12


def test_every_kind_of_change_is_asked_for() -> None:
    opened = {request.split(":")[0] for request in REQUESTS}
    assert opened == {kind.opens for kind in KINDS}


@pytest.mark.parametrize("request_", REQUESTS)
@settings(max_examples=6, suppress_health_check=[HealthCheck.too_slow], deadline=None)
@given(length=absurd)
def test_an_absurd_length_is_drafted_or_refused(request_: str, length: str) -> None:
    check(outcome(request_.format(length)))


@settings(max_examples=25, suppress_health_check=[HealthCheck.too_slow], deadline=None)
@given(st.lists(st.tuples(st.sampled_from(REQUESTS), absurd), min_size=2, max_size=3))
def test_absurd_lengths_after_one_another_are_drafted_or_refused(asked_for: list[tuple[str, str]]) -> None:
    check(outcome(*(request.format(length) for request, length in asked_for)))


@settings(max_examples=20, suppress_health_check=[HealthCheck.too_slow], deadline=None)
@given(st.floats(0, 20), st.floats(0, 20))
def test_an_absurd_allowance_is_drafted_or_refused(seam_in: float, hem_in: float) -> None:
    text = smock_text().replace("{seam: 0.5, hem: 0.5}", f"{{seam: {seam_in:.6f}, hem: {hem_in:.6f}}}")
    assert f"{seam_in:.6f}" in text
    try:
        check(pattern_in(text, FILE).drafted())
    except PatternError as refused:
        check(str(refused))


SAID = [
    ("neck: v, piece: front, depth: 25", "front: a V 25 in deep leaves no body at the centre, which ends at "
     "25 5/8 in; make it at most 24 5/8 in"),
    ("raise neck: 4, piece: front", "front: raising the neck 4 in would bring its centre across the shoulder; it "
     "lies 4 in below the neck-shoulder point, so raise it by less"),
    ("widen neck: 15", "front: a neck 15 in wider leaves no overarm, which is 15 13/16 in long; widen it by at "
     "most 14 13/16 in"),
    ("shorten: 21.6", "front: 21 5/8 in shorter leaves no body at the centre, which is 21 5/8 in long; shorten it "
     "by at most 20 5/8 in"),
    ("hem band: 22", "front: 22 in shorter leaves no body at the centre, which is 21 5/8 in long; shorten it by at "
     "most 20 5/8 in"),
    ("hem band: 2, allowance: 18", "front, hem: an allowance of 18 in is more than side, 17 3/4 in long, has room "
     "for; give hem at most 8 7/8 in"),
    ("facing: front, of: front/neck, depth: 2, below point: 22", "front facing: 22 in below the neck is beyond the "
     "body, which ends 21 5/8 in below it; make the facing shorter"),
    ("facing: front, of: front/neck, depth: 12", "front facing: it would reach beyond side; make the facing narrower"),
    ("facing: front, of: front/hem, depth: 2", "front: a facing is drafted down from the upper end of the fold, and "
     "hem lies at the lower one; finish it with a hem, a hem band or a binding"),
    ("sleeve opening: 0.5", "front: a sleeve opening of 1/2 in lets no hand through; make it at least 1 in, and as "
     "wide as the arm wants"),
    ("sleeve opening: 22", "front: a sleeve opening of 22 in would hang down to the end of the side, which is at "
     "25 in; make it at most 20 in"),
    ("widen: 5, at: side", "front: 5 in wider at the side brings the underarm out to the end of the sleeve; widen "
     "it by at most 4 11/16 in, or lengthen the sleeve first"),
]  # fmt: skip


@pytest.mark.parametrize(("request_", "sentence"), SAID)
def test_the_impossible_is_refused_as_a_cutter_would(request_: str, sentence: str) -> None:
    assert outcome(request_) == sentence


@pytest.mark.parametrize("by", ["0.002", "0.01", "0.1"])
@pytest.mark.parametrize("way", ["lengthen", "shorten"])
def test_a_small_change_at_a_level_bends_nothing_too_sharply(way: str, by: str) -> None:
    assert not isinstance(outcome(f"{way}: {by}, at: 18"), str)


UNREAD = [
    ("widen: -2, at: fold", 'found "-2"; wanted a width of more than nothing'),
    ("lengthen: 0.00001", 'found "0.00001"; wanted a length of more than nothing'),
    (
        "facing: front, of: front/neck, depth: 1/8",
        'found "1/8"; wanted a facing at least 1/4 in wide, so that it can be turned',
    ),
    (
        "facing: front, of: front/neck, depth: 2 mm",
        'found "2 mm"; wanted a facing at least 6 mm wide, so that it can be turned',
    ),
    ("binding: front/neck, width: 3", 'found "3"; wanted a binding at most 2 in wide, or else a facing'),
]


@pytest.mark.parametrize(("request_", "sentence"), UNREAD)
def test_what_makes_no_sense_is_refused_with_its_line(request_: str, sentence: str) -> None:
    assert str(outcome(request_)).endswith(f": {sentence}")


@pytest.mark.parametrize(("seam", "fits"), [("2.9", True), ("3.2", False)])
def test_an_allowance_wider_than_a_sleeve_is_refused(seam: str, fits: bool) -> None:
    """Both sides of one 6 in wide: no more than half of that each."""
    sleeve = """\
pattern: Deckhand's cuff
allowance: {seam: 1/2 in, hem: 1/2 in}
pieces:
  sleeve:
    cut: 2 mirrored
    edges:
      - {name: top, kind: seam, path: [[0, 0], [6, 0]]}
      - {name: front seam, kind: seam, path: [[6, 0], [6, 14]]}
      - {name: hem, kind: hem, path: [[6, 14], [0, 14]]}
      - {name: back seam, kind: seam, path: [[0, 14], [0, 0]]}
"""
    pattern = pattern_in(sleeve.replace("seam: 1/2 in,", f"seam: {seam},"), FILE)
    if fits:
        assert pattern.drafted().pieces["sleeve"]
        return
    with pytest.raises(PatternError) as refused:
        pattern.drafted()
    assert str(refused.value) == (
        "sleeve, back seam: an allowance of 3 3/16 in is more than top, 6 in long, has room for; give back seam at "
        "most 3 in"
    )


def test_a_strap_may_be_narrower_than_its_allowances() -> None:
    """Common practice: they are turned into it."""
    strap = """\
pattern: Bell rope
allowance: {seam: 1/2 in}
pieces:
  strap:
    cut: 1
    edges:
      - {name: top, kind: seam, path: [[0, 0], [3/8, 0]]}
      - {name: right, kind: seam, path: [[3/8, 0], [3/8, 14]]}
      - {name: bottom, kind: seam, path: [[3/8, 14], [0, 14]]}
      - {name: left, kind: seam, path: [[0, 14], [0, 0]]}
"""
    assert pattern_in(strap, FILE).drafted().pieces["strap"]
