"""Laws that hold for every pattern file that is changed in its own text, whatever its author wrote between."""

import tempfile
from dataclasses import replace
from pathlib import Path

from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from patterns import Pattern, read_pattern, write_pattern
from patterns.files.editing import change_pattern
from patterns.measures import Length
from patterns.parts import Edge, Point
from tests.property.test_pattern_files import authored, half_pieces, names

BOUNDED = settings(max_examples=20, suppress_health_check=[HealthCheck.too_slow])

words = st.text(st.characters(codec="utf-8", categories=("L", "N", "P", "S")), max_size=8)
remarks = words.map(lambda text: f"# {text}")


@st.composite
def files(draw: st.DrawFn) -> tuple[bytes, Pattern]:
    """A pattern file with remarks and empty lines, any line ends, and perhaps a byte-order mark."""
    pattern = draw(authored())
    with tempfile.TemporaryDirectory() as folder:
        path = Path(folder) / "top.yaml"
        write_pattern(path, pattern)
        written = path.read_text(encoding="utf-8").splitlines()
    shown = []
    for line in written:
        between = draw(st.sampled_from(["", "", "", "empty", "remark"]))
        if between:
            indent = " " * draw(st.integers(0, 8))
            shown.append(f"{indent}{draw(remarks)}" if between == "remark" else "")
        shown.append(line + draw(st.sampled_from(["", "", "", " ", "  # so"])))
    end = draw(st.sampled_from(["\n", "\r\n", "\r"]))
    text = draw(st.sampled_from(["", "\ufeff"])) + end.join(shown) + draw(st.sampled_from(["", end, end * 2]))
    return text.encode("utf-8"), pattern


@BOUNDED
@given(files(), st.data())
def test_a_file_with_a_piece_more_is_the_file_and_the_piece(
    file: tuple[bytes, Pattern], data: st.DataObject
) -> None:
    before, pattern = file
    taken = {piece.name for piece in pattern.pieces} | {f"{piece.name} facing" for piece in pattern.pieces}
    name = data.draw(names.filter(lambda one: one not in taken))
    piece = data.draw(half_pieces(name, pattern.unit))
    more = replace(pattern, pieces=(*pattern.pieces, piece))
    after = _changed(before, more)
    _only_put_in(before, after)


@BOUNDED
@given(files(), st.data())
def test_an_outline_taken_anew_leaves_every_remark_and_all_other_pieces(
    file: tuple[bytes, Pattern], data: st.DataObject
) -> None:
    before, pattern = file
    first, second = pattern.pieces
    other = data.draw(half_pieces(first.name, pattern.unit))
    edges = tuple(
        replace(old, path=new.path, bend=new.bend) for old, new in zip(first.edges, other.edges, strict=True)
    )
    after = _changed(before, replace(pattern, pieces=(replace(first, edges=edges), second)))
    assert _remarks(after) == _remarks(before)
    assert _lines_of_second(after) == _lines_of_second(before)


@BOUNDED
@given(files())
def test_a_path_that_grows_by_a_point_grows_by_that_point(file: tuple[bytes, Pattern]) -> None:
    before, pattern = file
    first, second = pattern.pieces
    number = next(i for i, edge in enumerate(first.edges) if edge.name == "neck")
    grown = _with_point(first.edges[number])
    edges = (*first.edges[:number], grown, *first.edges[number + 1 :])
    after = _changed(before, replace(pattern, pieces=(replace(first, edges=edges), second)))
    _only_put_in(before, after)


def _with_point(neck: Edge) -> Edge:
    """A neck with one more point near its end."""
    start, end = neck.path
    unit = end.x.unit
    near = Point(x=Length.of(end.x.inches * 0.9, unit), y=Length.of(end.y.inches + 0.3, unit))
    return replace(neck, path=(start, near, end))


def _changed(before: bytes, new: Pattern) -> bytes:
    with tempfile.TemporaryDirectory() as folder:
        path = Path(folder) / "top.yaml"
        path.write_bytes(before)
        change_pattern(path, lambda _: new)
        assert read_pattern(path) == new
        return path.read_bytes()


def _only_put_in(before: bytes, after: bytes) -> None:
    """All of `before` stands in `after`, at its beginning and at its end."""
    alike = next((i for i, (a, b) in enumerate(zip(before, after, strict=False)) if a != b), len(before))
    rest = before[alike:]
    assert len(after) > len(before)
    assert after.endswith(rest)


def _remarks(file: bytes) -> list[str]:
    lines = file.decode("utf-8").splitlines()
    return [
        line.partition("# ")[2] for line in lines if line.lstrip().startswith("# ") or line.endswith("# so")
    ]


def _lines_of_second(file: bytes) -> list[str]:
    """The file's lines from its second piece on."""
    lines = file.decode("utf-8").splitlines()
    cuts = [i for i, line in enumerate(lines) if line.lstrip().startswith("cut:")]
    return lines[cuts[1] :]
