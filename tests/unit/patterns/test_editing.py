"""A pattern file changed in its own text: only what differs is put in."""

from collections.abc import Callable
from dataclasses import replace
from pathlib import Path

import pytest

from patterns import PatternError, example, read_pattern
from patterns.changes import ShoulderForward
from patterns.changes.change_list import with_change_moved
from patterns.files.editing import change_pattern
from patterns.measures import Length
from patterns.parts import Allowance, Bend, CutCount, Edge, Kind
from patterns.pattern import Pattern, Version
from patterns.piece import Piece
from tests.unit.patterns.build import HALF_TOP, pattern_of, points_of, saved

COMMENTED = """\
# The prompter's coat, let out twice.
pattern: 'Prompt corner'   # his name
pieces:
  front:   # from the old coat
    cut: "1 on fold"
    edges:
      # the neck was taken from the lining
      - {name: neck, kind: seam, path: [[0, 4.0], [2,4], [3.5, 2.4], [3.5, 0]], curve: bezier}
      - name: shoulder   # sewn twice
        kind: seam
        path:
          - [3.5, 0]
          - [9, 2]   # the tip
        curve: straight
      - {name: side, kind: seam, path: [[9, 2], [10, 24]]}
      - {name: hem, kind: hem, path: [[10, 24], [0, 24]]}
      - {name: centre front, kind: fold, path: [[0, 24], [0, 4]]}
      # no sleeve

  # the back is still to be traced

# let out for the second act:
changes:
  - {neck: v, piece: front, depth: 6}   # as the wardrobe asked
versions: {plain: {without: [0]}}
# end
"""

CUFF = "\n".join(
    (
        "  cuff:",
        "    cut: 2",
        "    edges:",
        "      - {name: top, kind: seam, path: [[0, 0], [4, 0]]}",
        "      - {name: rest, kind: seam, path: [[4, 0], [4, 2], [0, 2], [0, 0]]}",
    )
)


def with_cuff(pattern: Pattern) -> Pattern:
    edges = (
        Edge(name="top", kind=Kind.SEAM, path=points_of([(0, 0), (4, 0)])),
        Edge(name="rest", kind=Kind.SEAM, path=points_of([(4, 0), (4, 2), (0, 2), (0, 0)])),
    )
    cuff = Piece(name="cuff", cut=CutCount(count=2), edges=edges)
    return replace(pattern, pieces=(*pattern.pieces, cuff))


def changed(folder: Path, text: str, change: Callable[[Pattern], Pattern]) -> str:
    path = folder / "top.yaml"
    path.write_bytes(text.encode("utf-8"))
    new = change_pattern(path, change)
    assert read_pattern(path) == new
    assert [one.name for one in folder.iterdir()] == ["top.yaml"]
    return path.read_bytes().decode("utf-8")


def test_a_piece_comes_after_the_last_and_its_comments(tmp_path: Path) -> None:
    before, after = COMMENTED.split("  # the back is still to be traced\n")
    assert changed(tmp_path, COMMENTED, with_cuff) == (
        f"{before}  # the back is still to be traced\n{CUFF}\n{after}"
    )


@pytest.mark.parametrize("end", ["\n", "\r\n", "\r"], ids=["LF", "CRLF", "CR"])
@pytest.mark.parametrize("mark", ["", "\ufeff"], ids=["", "BOM"])
@pytest.mark.parametrize("last", [True, False], ids=["", "no last line end"])
def test_line_ends_and_a_byte_order_mark_are_kept(tmp_path: Path, end: str, mark: str, last: bool) -> None:
    before = mark + HALF_TOP.replace("\n", end)
    if not last:
        before = before[: -len(end)]
    more = CUFF.replace("\n", end) + end if last else end + CUFF.replace("\n", end)
    assert changed(tmp_path, before, with_cuff) == before + more


def test_a_file_all_in_brackets_takes_it_in_brackets(tmp_path: Path) -> None:
    path = saved(tmp_path, HALF_TOP)
    edges = ",\n   ".join(line.strip("- ") for line in HALF_TOP.splitlines()[6:])
    text = f"{{pattern: x, pieces: {{ front: {{cut: 1 on fold, edges: [{edges}] }} # the coat\n}} }}"
    after = changed(tmp_path, text, with_cuff)
    cuff = (
        "cuff: {cut: 2, edges: [{name: top, kind: seam, path: [[0, 0], [4, 0]]}, "
        "{name: rest, kind: seam, path: [[4, 0], [4, 2], [0, 2], [0, 0]]}]}"
    )
    assert after == text.replace("] } # the coat", f"] }}, {cuff} # the coat")
    assert path.exists()


def test_a_change_makes_its_list_before_the_versions(tmp_path: Path) -> None:
    change = ShoulderForward(by=Length(spelling="3/8 in"), front="front", back="front")

    def with_change(pattern: Pattern) -> Pattern:
        return replace(pattern, changes=(*pattern.changes, change))

    line = "  - {shoulder forward: 3/8 in, back: front}"
    text = HALF_TOP.replace("shoulder", "overarm") + "# none yet\nversions:\n  plain: {}\n"
    assert changed(tmp_path, text, with_change) == text.replace("# none yet", f"changes:\n{line}\n# none yet")
    text = COMMENTED.replace("shoulder", "overarm")
    assert changed(tmp_path, text, with_change) == text.replace("asked\n", f"asked\n{line}\n")


def test_a_change_before_all_others_is_put_there(tmp_path: Path) -> None:
    change = ShoulderForward(by=Length(spelling="3/8 in"), front="front", back="front")

    def first(pattern: Pattern) -> Pattern:
        versions = (Version(name="plain", without=(1,)),)
        return replace(pattern, changes=(change, *pattern.changes), versions=versions)

    line = "{shoulder forward: 3/8 in, back: front}"
    text = COMMENTED.replace("shoulder", "overarm")
    assert changed(tmp_path, text, first) == text.replace(
        "  - {neck: v", f"  - {line}\n  - {{neck: v"
    ).replace("without: [0]", "without: [1]")
    text = text.replace("\n  - {neck: v, piece: front, depth: 6}", " [{neck: v, piece: front, depth: 6}]")
    assert changed(tmp_path, text, first) == text.replace("[{neck", f"[{line}, {{neck").replace(
        "without: [0]", "without: [1]"
    )


MOVED = (
    "  - {neck: v, piece: front, depth: 6}  # as the second act asks\n",
    "  - lower neck: 1/2 in   # after the fitting\n    piece: front   # not the back\n",
    "  - {widen: 1/4, at: side, pieces: [front]} # she breathes\n",
)


@pytest.mark.parametrize("line_end", ["\n", "\r\n"])
@pytest.mark.parametrize(("number", "to"), [(0, 2), (2, 0), (0, 1), (1, 0), (1, 2), (2, 1)])
def test_a_change_that_is_moved_takes_its_comment_along(
    tmp_path: Path, number: int, to: int, line_end: str
) -> None:
    head = f"{HALF_TOP}# what is altered\nchanges:\n"
    order = list(MOVED)
    order.insert(to, order.pop(number))
    text, expected = (f"{head}{''.join(lines)}".replace("\n", line_end) for lines in (MOVED, order))
    assert changed(tmp_path, text, lambda pattern: with_change_moved(pattern, number, to)) == expected


def test_one_edge_changes_and_its_neighbours_keep_their_spelling(tmp_path: Path) -> None:
    def change(pattern: Pattern) -> Pattern:
        (front,) = pattern.pieces
        edges = list(front.edges)
        edges[0] = replace(edges[0], path=edges[0].path[::3], bend=Bend.STRAIGHT)
        edges[1] = replace(edges[1], path=points_of([(3.5, 0), (6, 1.2), (9, 2)]), bend=Bend.SMOOTH)
        edges[2] = replace(edges[2], allowance=Allowance(parts=(Length(spelling='5/8"'),)))
        return replace(pattern, pieces=(replace(front, edges=tuple(edges)),))

    expected = COMMENTED
    for old, new in (
        ("[[0, 4.0], [2,4], [3.5, 2.4], [3.5, 0]], curve: bezier}", "[[0, 4.0], [3.5, 0]]}"),
        ("          - [3.5, 0]\n", "          - [3.5, 0]\n          - [6, 1.2]\n"),
        ("curve: straight", "curve: smooth"),
        ("[[9, 2], [10, 24]]", '[[9, 2], [10, 24]], allowance: "5/8\\""'),
    ):
        assert old in expected
        expected = expected.replace(old, new)
    assert changed(tmp_path, COMMENTED, change) == expected


def test_what_is_taken_away_goes_with_the_comment_on_its_line(tmp_path: Path) -> None:
    def bare(pattern: Pattern) -> Pattern:
        return replace(pattern, changes=pattern.changes[1:], versions=())

    text = COMMENTED.replace("versions:", "  - {raise neck: 1, piece: front}   # and up\nversions:")
    assert changed(tmp_path, text, bare) == COMMENTED.replace(
        "  - {neck: v, piece: front, depth: 6}   # as the wardrobe asked\nversions: {plain: {without: [0]}}\n",
        "  - {raise neck: 1, piece: front}   # and up\n",
    )


@pytest.mark.parametrize(
    ("without", "expected"),
    [((0, 2), "[0, 2]"), ((1,), "[1]"), ((2,), "[2]"), ((), ""), ((0, 1, 2), "[0, 1, 2]")],
)
def test_items_in_brackets_come_and_go(tmp_path: Path, without: tuple[int, ...], expected: str) -> None:
    pattern_text = (
        COMMENTED.replace("  - {neck", "  - {raise neck: 1, piece: front}\n  - {neck")
        .replace("versions", "  - {raise neck: 1/2, piece: front}\nversions")
        .replace("[0]", "[0, 1]")
    )
    after = changed(
        tmp_path, pattern_text, lambda p: replace(p, versions=(Version(name="plain", without=without),))
    )
    kept = f"without: {expected}" if expected else ""
    assert after == pattern_text.replace("without: [0, 1]", kept)


def test_a_layout_that_cannot_take_the_change_is_refused_and_left(tmp_path: Path) -> None:
    """The first entry of a list's item shares its line with the dash."""
    text = HALF_TOP.replace(
        "- {name: side, kind: seam, path",
        "- allowance: 3/8\n        name: side\n        kind: seam\n        path",
    )
    text = text.replace("[[9, 2], [10, 24]]}", "[[9, 2], [10, 24]]")

    def bare(pattern: Pattern) -> Pattern:
        (front,) = pattern.pieces
        edges = tuple(replace(edge, allowance=None) for edge in front.edges)
        return replace(pattern, pieces=(replace(front, edges=edges),))

    path = saved(tmp_path, text)
    with pytest.raises(PatternError, match="laid out in a way that the change cannot be put into"):
        change_pattern(path, bare)
    assert path.read_text(encoding="utf-8") == text


def test_nothing_to_change_changes_nothing(tmp_path: Path) -> None:
    assert changed(tmp_path, COMMENTED, lambda pattern: pattern) == COMMENTED


def test_the_example_takes_a_piece_without_losing_a_byte(tmp_path: Path) -> None:
    text = example("harbour overtop").read_text(encoding="utf-8")
    after = changed(tmp_path, text, with_cuff)
    assert after == text.replace("joins:", f"{CUFF}\njoins:")


def test_a_failed_write_leaves_the_file_and_nothing_beside_it(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    path = saved(tmp_path, COMMENTED)

    def full(_: int) -> None:
        raise OSError(28, "No space left on device")

    monkeypatch.setattr("os.fsync", full)
    with pytest.raises(PatternError, match="cannot be written"):
        change_pattern(path, with_cuff)
    assert path.read_text(encoding="utf-8") == COMMENTED
    assert [one.name for one in tmp_path.iterdir()] == ["top.yaml"]


def test_what_was_written_into_the_file_meanwhile_stays(tmp_path: Path) -> None:
    """The change is made to what the file says when it is written, not to what it said before."""
    stale = pattern_of(tmp_path, HALF_TOP)
    path = saved(tmp_path, HALF_TOP.replace("hem: 1/2 in", "hem: 3/4 in"))
    after = change_pattern(path, with_cuff)
    assert after.allowances != stale.allowances
