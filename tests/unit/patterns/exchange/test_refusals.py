"""Drawings that no pieces can be made of: each with its own sentence, all faults of a file at once."""

import io
from pathlib import Path

import pytest
from ezdxf.document import Drawing
from fpdf import FPDF

from patterns.errors import PatternError
from patterns.exchange import drawn, svg_in
from patterns.exchange.asked import Asked
from patterns.exchange.imported import imported
from tests.unit.patterns.exchange.exchanged import brought_in

NS = 'xmlns="http://www.w3.org/2000/svg"'
SIZED = f'<svg {NS} width="20in" height="20in" viewBox="0 0 20 20">'
SQUARE = "M 1 1 h 8 v 9 h -8 z"


def sized(inside: str) -> str:
    return f"{SIZED}{inside}</svg>"


def bomb(doubled: int) -> str:
    """Groups that each repeat the one before twice."""
    rest = "".join(
        f'<g id="g{i}"><use href="#g{i - 1}"/><use href="#g{i - 1}"/></g>' for i in range(1, doubled)
    )
    return sized(f'<defs><g id="g0"><path d="{SQUARE}"/></g>{rest}</defs><use href="#g{doubled - 1}"/>')


DRAWINGS = {
    "a document type": (
        f'<!DOCTYPE svg [<!ENTITY a "aaaa">]>{sized("&a;")}',
        "found a document type .*which may open other files; export it again as plain SVG",
    ),
    "an outside entity": (
        f'<!DOCTYPE svg SYSTEM "http://localhost/x.dtd">{sized("")}',
        "found a document type",
    ),
    "no svg": ("<html/>", "found <html>, where an SVG drawing was needed"),
    "no xml": ("a pattern", "is no SVG that can be read"),
    "no units": (
        f'<svg {NS} width="800" height="600"><path d="{SQUARE}"/></svg>',
        'says no true size .*found width "800", height "600".*say with --scale .*or with --across',
    ),
    "numbers beyond any drawing": (
        f'<svg {NS} width="9in" viewBox="0 0 1e400 9"><path d="{SQUARE}"/></svg>',
        "found a number in .* that is beyond any drawing, which cannot be read",
    ),
    "a size of nothing": (
        f'<svg {NS} width="0mm" height="-5mm"><path d="{SQUARE}"/></svg>',
        "says no true size",
    ),
    "shares": (f'<svg {NS} width="100%"><path d="{SQUARE}"/></svg>', "says no true size"),
    "nothing closed": (
        sized('<path d="M 1 1 h 8 v 9"/>'),
        "found 0 closed outlines that could be pieces, where 1 to 100 were needed",
    ),
    "nothing at all": (sized(""), "found 0 closed outlines"),
    "crossing": (
        sized('<path d="M 1 1 L 9 9 L 9 1 L 1 9 Z"/>'),
        "crossing near .*; wanted a loop that does not cross or touch itself",
    ),
    "an unknown transform": (
        sized(f'<path d="{SQUARE}" transform="bend(3)"/>'),
        r'found a transform of "bend\(3\)", which cannot be read',
    ),
    "broken path data": (
        sized('<path d="M 1 1 L 5"/>'),
        'found path data of "M 1 1 L 5", which cannot be read',
    ),
    "a cut line alone": (
        sized(f'<path class="cut" d="{SQUARE}"/>'),
        "only its cut line is there; say with --allowance what lies outside the seam line, 0 for nothing",
    ),
    "too many lines": (
        sized('<path d="M 0 0 h 1"/>' * 1501),
        "more than 1,500 lines or 1,000,000 points are no pattern",
    ),
    "repeating itself": (sized('<g id="a"><use href="#a"/></g>'), "what it repeats has no end"),
    "repeating without end": (bomb(40), "what it repeats has no end|more than 1,500 lines or"),
    "repeating nothing without end": (bomb(40).replace(SQUARE, ""), "what it repeats has no end"),
    "too deep": (sized("<g>" * 150 + "</g>" * 150), "groups more than 100 deep"),
    "as uneven as a scan": (
        sized(f'<path d="M 1 1 {"l .03 .02 l .03 -.02 " * 110} v 9 h -6.6 Z"/>'),
        "its outline turns sharply at 2[0-9]+ places, as one that was scanned does; smooth it where it was drawn",
    ),
    "full of outlines": (
        sized("".join(f'<path d="M {i} 0 h 1.2 v 1.2 z"/>' for i in range(1001))),
        "1001 closed outlines are no pattern; export the outlines of the pieces alone",
    ),
    "far too large": (
        f'<svg {NS} width="3000cm" height="3000cm" viewBox="0 0 20 20"><path d="{SQUARE}"/></svg>',
        "more than any cloth is long; say with --scale",
    ),
}


def test_what_a_file_may_hold_is_bounded() -> None:
    assert (drawn.MOST_PATHS, drawn.MOST_POINTS, drawn.MOST_BYTES) == (100_000, 1_000_000, 64_000_000)


@pytest.mark.parametrize("kind", DRAWINGS)
def test_an_svg_that_cannot_be_used_is_told_why(
    monkeypatch: pytest.MonkeyPatch, tmp_path: Path, kind: str
) -> None:
    monkeypatch.setattr(drawn, "MOST_PATHS", 1500)
    monkeypatch.setattr(svg_in, "MOST_VISITS", 5000)
    drawing, sentence = DRAWINGS[kind]
    with pytest.raises(PatternError, match=sentence) as told:
        brought_in(tmp_path, drawing, "svg")
    assert str(told.value).startswith(str(tmp_path)) or "no pattern" in str(told.value)


@pytest.mark.parametrize(
    ("asked", "sentence"),
    [
        (Asked(edges={"": ("a", "b")}), "2 names for 4 edges, which are, clockwise from the .* top left: 8 in, 9 in"),
        (Asked(names=("a", "b")), "2 names for 1 piece, in the order of the file 8 in by 9 in"),
        (Asked(folds={"apron": "left"}), "--fold speaks of apron, and the pieces are bib"),
        (Asked(edges={"apron": ("a",)}), "--edges speaks of apron, and the pieces are bib"),
        (Asked(allowance_in=4.5), "an allowance of 4 1/2 in leaves nothing of it whole"),
        (Asked(names=("a/b",)), 'wanted a name of letters and spaces, without "/"'),
        (Asked(edges={"": ("a", "a", "b", "c")}), 'a second edge named "a"'),
    ],
)  # fmt: skip
def test_what_is_asked_of_it_must_fit_it(tmp_path: Path, asked: Asked, sentence: str) -> None:
    with pytest.raises(PatternError, match=sentence):
        brought_in(tmp_path, sized(f'<path id="bib" d="{SQUARE}"/>'), "svg", asked)


def test_a_round_side_is_no_fold(tmp_path: Path) -> None:
    drawing = sized('<path id="cap" d="M 1 5 A 4 4 0 0 1 9 5 L 9 9 L 1 9 Z"/>')
    with pytest.raises(PatternError, match="no straight side lies at its top, as a fold would"):
        brought_in(tmp_path, drawing, "svg", Asked(folds={"cap": "top"}))


def test_all_faults_of_all_pieces_are_told_at_once(tmp_path: Path) -> None:
    drawing = sized(
        f'<path id="bib" class="cut" d="{SQUARE}"/><path id="cap" class="cut" d="M 11 1 h 4 v 5 h -4 z"/>'
        '<path id="knot" d="M 11 11 L 15 15 L 15 11 L 11 15 Z"/>'
    )
    with pytest.raises(PatternError) as told:
        brought_in(tmp_path, drawing, "svg", Asked(folds={"sash": "left"}))
    lines = str(told.value).splitlines()
    assert [line.removeprefix(f"{tmp_path}/drawing.svg: ").split(":")[0].split(" speaks")[0] for line in lines] == [
        "--fold", "bib", "cap", "knot",
    ]  # fmt: skip


def test_other_formats_that_cannot_be_used_are_told_why(tmp_path: Path) -> None:
    unitless = Drawing.new("R2000")
    unitless.units = 0
    unitless.modelspace().add_circle((0, 0), 5)
    stream = io.StringIO()
    unitless.write(stream)
    pages = FPDF()
    for _ in range(2):
        pages.add_page()
    for kind, content, sentence in (
        ("dxf", stream.getvalue(), "does not say what its units are; say with --scale"),
        ("dxf", "a pattern", "is no DXF that can be read"),
        ("dxf", b"\x00\xff" * 400, "is no DXF that can be read|found 0 closed outlines|does not say"),
        ("pdf", b"%PDF-1.7 nothing", "is no PDF that can be read"),
        ("pdf", bytes(pages.output()), "found 2 pages, where one large page with all the pieces was needed"),
        ("plt", "PU;", "is none of .svg, .dxf, .pdf"),
    ):
        with pytest.raises(PatternError, match=sentence):
            brought_in(tmp_path, content, kind)
    with pytest.raises(PatternError, match=r"cannot be read \(No such file"):
        imported(tmp_path / "nowhere.svg", Asked())
