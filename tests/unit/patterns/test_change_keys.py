from dataclasses import MISSING, replace
from pathlib import Path

import pytest

from patterns import read_pattern, write_pattern
from patterns.changes import KINDS, Change, VNeck, entries_of, keys_of, spelled, told
from patterns.measures import Length, Unit
from tests.unit.patterns.build import HALF_TOP, pattern_of, refusal
from tests.unit.patterns.smock import smock_text, twice_traced_text

CHANGES = (
    "{neck: v, piece: front, depth: 7 in, width: 4}",
    "{neck: round, piece: back, depth: 2.5 cm}",
    "{neck: scoop, piece: front, depth: 6}",
    "{neck: square, piece: front, depth: 6, corner: 3 1/2 in}",
    "{raise neck: 1/2 in, piece: back}",
    "{lower neck: 1/2 in, piece: front}",
    "{widen neck: 10 mm}",
    "{narrow neck: 1/4 in, pieces: [back, front]}",
    "{lengthen: 2 in, at: 16 in}",
    "{shorten: 1 in, pieces: back}",
    "{lengthen sleeve: 1 in}",
    "{shorten sleeve: 1/2 in}",
    "{sleeve opening: 6 in, off: yes}",
    "{widen: 1/4 in, at: side}",
    "{narrow: 1/8 in, at: fold}",
    "{slant hem: -1/2 in}",
    "{hem band: 3 in, allowance: 3/8 in}",
    "{facing: front, of: front/neck, depth: 2 1/2 in, below point: 2 in}",
    "{binding: back/neck, width: 1/4 in, doubled: yes}",
    "{shoulder forward: 3/8 in}",
    "{true up: [front/side, back/side], off: yes}",
    "{notch: [front/side, back/side], walked: alike}",
    "{notches: all}",
    "{average: [front, front left], use: front left}",
)
AS_IT_IS = CHANGES[-4]  # changes nothing here, where both are as long


def text_of(change: Change) -> str:
    """The change as it stands in a file."""
    said = ((key, ", ".join(spelled), len(spelled)) for key, spelled in entries_of(change))
    return "{" + ", ".join(f"{key}: [{text}]" if n > 1 else f"{key}: {text}" for key, text, n in said) + "}"


def test_every_kind_is_read_and_says_itself_as_it_was_written(tmp_path: Path) -> None:
    pattern = pattern_of(tmp_path, twice_traced_text(", ".join(CHANGES)))
    assert [type(change) for change in pattern.changes] == list(KINDS)
    assert [text_of(change) for change in pattern.changes] == list(CHANGES)
    assert pattern.drafted().pieces
    write_pattern(tmp_path / "copy.yaml", pattern)
    assert read_pattern(tmp_path / "copy.yaml") == pattern


@pytest.mark.parametrize("change", [change for change in CHANGES if change != AS_IT_IS])
def test_every_kind_says_what_it_keeps_and_changes_something_unless_it_is_off(
    tmp_path: Path, change: str
) -> None:
    pattern = pattern_of(tmp_path, twice_traced_text(change.replace(", off: yes", "")))
    (made,) = pattern.changes
    assert made.keeps
    assert made.keeps == made.keeps.strip(" .")

    def drawn(*changes: Change) -> list[list[list[float]]]:
        drafted = replace(pattern, changes=changes).drafted()
        return [
            [*piece.cut_line.tolist(), *(notch.position.tolist() for notch in piece.notches)]
            for piece in drafted.pieces.values()
            if piece.name != "front left"
        ]

    assert drawn(made) != drawn()
    assert drawn(replace(made, off=True)) == drawn()


@pytest.mark.parametrize("kind", KINDS)
def test_every_kind_has_its_opening_key_first_and_can_be_switched_off(kind: type[Change]) -> None:
    keys = keys_of(kind)
    assert keys[0].name == kind.opens
    assert keys[0].default is MISSING
    assert (keys[-1].name, keys[-1].default) == ("off", False)
    assert kind.__doc__ is not None
    assert f"`{kind.opens}: " in kind.__doc__


@pytest.mark.parametrize(
    ("change", "sentence"),
    [
        ("{widen: 1}", "found a widen change without at; wanted a widen change with widen and at"),
        ("{widen: 1, at: hip}", 'found "hip"; wanted a place: fold or side'),
        ("{widen: -1, at: side}", 'found "-1"; wanted a width of more than nothing'),
        ("{narrow: 0, at: side}", 'found "0"; wanted a width of more than nothing'),
        ("{neck: v, piece: front, depth: 6, width: -1}", 'found "-1"; wanted a width of more than nothing'),
        (
            "{neck: v, piece: front, depth: 6, corner: 1}",
            'found "corner" in a neck change; wanted a key: neck, piece, depth, width or off',
        ),
        ("{lower neck: 0, piece: front}", 'found "0"; wanted a fall of more than nothing'),
        ("{lengthen: 1, pieces: []}", "found no pieces; wanted names of pieces, each once"),
        (
            "{lengthen: 1, pieces: [front, front]}",
            'found "front, front"; wanted names of pieces, each once',
        ),
        (
            "{lengthen: 1, pieces: [front, apron]}",
            'found "apron/hem"; wanted a piece of this pattern: front, back',
        ),
        (
            "{lengthen: 1, at: 0}",
            'found "0"; wanted a level below the high shoulder point of more than nothing',
        ),
        (
            "{slant hem: 0}",
            'found "0"; wanted how much lower the hem is at the side, or with a minus sign higher',
        ),
        ("{binding: neck, width: 1/4}", 'found "neck"; wanted an edge, piece/edge, such as "front/side"'),
        (
            "{binding: [front/neck, front/neck], width: 1/4}",
            'found "front/neck, front/neck"; wanted edges to bind, each once',
        ),
        ("{binding: front/neck, width: 0}", 'found "0"; wanted a width of more than nothing'),
        ("{binding: front/neck, width: 1, doubled: both}", 'found "both"; wanted yes or no'),
        ("{hem band: 4, allowance: 0}", 'found "0"; wanted an allowance of more than nothing'),
        ("{sleeve opening: 0}", 'found "0"; wanted a length of more than nothing'),
    ],
)
def test_what_makes_no_sense_is_refused_with_its_line(tmp_path: Path, change: str, sentence: str) -> None:
    text = smock_text(change)
    line = text[: text.index("changes:")].count("\n") + 1
    assert refusal(tmp_path, text) == [f"top.yaml, line {line}: {sentence}"]


def test_a_change_asks_for_the_edges_that_it_works_on(tmp_path: Path) -> None:
    text = HALF_TOP.replace("name: side", "name: flank")
    edges = "front: neck, shoulder, flank, hem, centre front"
    for change, edge in (
        ("{widen: 1, at: side, pieces: front}", "side"),
        ("{lengthen sleeve: 1, pieces: front}", "sleeve hem"),
    ):
        assert f'top.yaml, line 12: found "front/{edge}"; wanted an edge of {edges}' in refusal(
            tmp_path, f"{text}changes: [{change}]\n"
        )
    assert pattern_of(tmp_path, f"{text}changes: [{{widen: 1, at: fold, pieces: front}}]\n").drafted().pieces


def test_a_change_is_told_with_the_unit_that_its_author_left_out() -> None:
    change = VNeck(piece="front", depth=Length(spelling="203", unit=Unit.MM))
    assert spelled(change) == "neck v, piece front, depth 203"
    assert told(change) == "neck v, piece front, depth 203 mm"
