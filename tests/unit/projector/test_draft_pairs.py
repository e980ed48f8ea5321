"""At the drafting station: seams notched in pairs, two traces made one."""

from pathlib import Path

from patterns import DraftedPiece
from patterns.changes import Average, NotchAll, NotchSeam
from patterns.files.reader import pattern_in
from patterns.pattern import Pattern
from projector.actions import Accept, AddChange, Move, SwitchChange, Undo
from projector.stations.draft import DraftStation
from tests.unit.patterns.smock import smock_text, twice_traced_text
from tests.unit.projector.drafts import after, begun, typed


def offered(pattern: Pattern) -> tuple[str, ...]:
    question = begun(pattern).after(AddChange()).question
    assert question is not None
    return question.offers


def adding(station: DraftStation, text: str) -> DraftStation:
    asked = station.after(AddChange())
    assert asked.question is not None
    emptied = after(asked, *[Undo()] * len(asked.question.text))
    return typed(emptied, text).after(Accept())


def along_side(piece: DraftedPiece) -> list[float]:
    return [float(notch.position[1]) for notch in piece.notches if notch.edge == "side"]


def smock() -> Pattern:
    return pattern_in(smock_text(), Path("smock.yaml"))


def twice_traced() -> Pattern:
    return pattern_in(twice_traced_text(""), Path("smock.yaml"))


def test_what_can_be_done_to_this_pattern_is_offered() -> None:
    assert {
        "notch front/overarm and back/overarm",
        "notch front/side and back/side",
        "notches all",
    } <= set(offered(smock()))
    assert not [text for text in offered(smock()) if text.startswith("average")]
    assert "average front and front left" in offered(twice_traced())


def test_only_what_is_out_of_true_can_be_trued() -> None:
    """Not edges of one length, nor any that no truing would bring together."""
    assert not [text for text in offered(smock()) if text.startswith("true up")]
    for lower, truable in ((0.1, True), (0.4, False)):
        longer = smock_text().replace("[11.2, 25]", f"[11.2, {25 + lower}]", 2)
        said = offered(pattern_in(longer, Path("smock.yaml")))
        assert ("true up front/side and back/side" in said) is truable


def test_notches_are_added_and_follow_a_number_that_is_changed() -> None:
    station = adding(adding(begun(smock()), "notches all"), "lengthen 1 in")
    assert [type(change) for change in station.work.pattern.changes][:1] == [NotchAll]
    before = along_side(station.work.drafted.pieces["front"])
    longer = after(station, *[Move(right=1)] * 24)
    pieces = longer.work.drafted.pieces
    assert along_side(pieces["front"]) == along_side(pieces["back"])
    assert max(along_side(pieces["front"])) > max(before)


def test_one_seam_is_notched_and_the_notches_are_switched_off() -> None:
    station = adding(begun(smock()), "notch front/side and back/side, walked alike")
    assert isinstance(station.work.pattern.changes[0], NotchSeam)
    assert {notch.edge for notch in station.work.drafted.pieces["back"].notches} == {"side"}
    assert not station.after(SwitchChange()).work.drafted.pieces["back"].notches


def test_two_traces_become_one_and_apart_again() -> None:
    station = adding(begun(twice_traced()), "average front and front left")
    assert isinstance(station.work.pattern.changes[0], Average)
    assert list(station.work.drafted.pieces) == ["front", "back"]
    back = after(station, Undo())
    assert list(back.work.drafted.pieces) == ["front", "back", "front left"]
