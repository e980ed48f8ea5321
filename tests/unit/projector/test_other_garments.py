"""Garments that are no tops with cut-on sleeves go the whole way: sleeves set in, gores, trousers, 22 pieces."""

import json
from collections.abc import Iterator
from pathlib import Path

import cv2
import numpy as np
import pytest
import shapely

from patterns import DraftedPattern, Pattern, Placement, read_pattern, write_pattern
from patterns.checks.truing import junctions
from patterns.cutting.labels import LETTER_PART, SMALLEST_IN, Label, labels_of
from patterns.cutting.notches import unmatched
from tests.unit.projector.commands import a_table, result

GARMENTS = {path.stem: path for path in sorted((Path(__file__).parents[2] / "garments").glob("*.yaml"))}
PIECES = {"pursers_blouse": 5, "stokers_trousers": 3, "wharf_gores": 5, "signal_tent": 22}
TOO_SHORT = "centre back/waist and waistband/to centre back are not notched: "


def tent(gores: int = 22) -> str:
    """A file of a signalman's tent: gores of many widths, each sewn to the next and the last to the first."""
    lines = ["pattern: Signal tent", "unit: in", "allowance: {seam: 1/2 in, hem: 3/4 in}", "pieces:"]
    for i in range(gores):
        top, foot = 2 + i % 4 * 0.4, 4 + i % 5 * 0.7
        side = f"[{top:g}, 0], [{top + 1:g}, 8], [{foot:g}, 27]"
        other = f"[{-foot:g}, 27], [{-top - 1:g}, 8], [{-top:g}, 0]"
        lines += [
            f"  gore {i + 1}:",
            "    cut: 1",
            "    edges:",
            f"      - {{name: top, kind: seam, path: [[{-top:g}, 0], [{top:g}, 0]]}}",
            f"      - {{name: right, kind: seam, path: [{side}], curve: smooth}}",
            f"      - {{name: foot, kind: hem, path: [[{foot:g}, 27], [{-foot:g}, 27]]}}",
            f"      - {{name: left, kind: seam, path: [{other}], curve: smooth}}",
            "    grain: [[0, 22], [0, 6]]",
        ]
    lines.append("joins:")
    for i in range(gores):
        lines.append(f"  - [gore {i + 1}/right, gore {(i + 1) % gores + 1}/left]")
    return "\n".join([*lines, "changes: [{notches: all}]"]) + "\n"


@pytest.fixture
def files(tmp_path: Path) -> dict[str, Path]:
    made = tmp_path / "signal_tent.yaml"
    made.write_text(tent(), encoding="utf-8")
    return {**GARMENTS, made.stem: made}


def drafts(pattern: Pattern) -> Iterator[DraftedPattern]:
    """The pattern in each of its versions."""
    yield pattern.drafted()
    yield from (pattern.drafted(version.name) for version in pattern.versions)


@pytest.mark.parametrize("name", PIECES)
def test_it_is_read_drafted_and_checked(files: dict[str, Path], tmp_path: Path, name: str) -> None:
    pattern = read_pattern(files[name])
    write_pattern(tmp_path / "copy.yaml", pattern)
    assert read_pattern(tmp_path / "copy.yaml") == pattern
    assert len(pattern.drafted().pieces) == PIECES[name]
    for drafted in drafts(pattern):
        flaws = [one for one in drafted.warnings if not one.startswith(TOO_SHORT)]
        assert name == "signal_tent" or flaws == []  # its gores are as uneven as they come
        for piece in drafted.pieces.values():
            seam, cut = (shapely.Polygon(line) for line in (piece.seam_line, piece.cut_line))
            assert seam.is_valid
            assert cut.is_valid
            assert cut.buffer(1e-6).covers(seam)
            assert piece.fold is None or not piece.cut_line[[0, -1], 0].any()


@pytest.mark.parametrize("name", PIECES)
def test_its_seams_are_notched_in_pairs(files: dict[str, Path], name: str) -> None:
    pattern = read_pattern(files[name])
    draft, drafted = pattern.draft(), pattern.drafted()
    assert list(unmatched(draft)) == []
    assert list(junctions(draft))
    for join in drafted.joins:
        ends = [ref.split("/") for ref in join.edges]
        counts = [[n.count for n in drafted.pieces[p].notches if n.edge == e] for p, e in ends]
        assert sorted(counts[0]) == sorted(counts[1])
        assert counts[0] or join.edges[0] == "centre back/waist"


def test_single_in_front_and_double_at_the_back() -> None:
    """Common practice, as on the necks of facings: a sleeve cannot be set in the wrong way about."""
    sleeve = read_pattern(GARMENTS["pursers_blouse"]).drafted().pieces["sleeve"]
    caps = {cap: [n.count for n in sleeve.notches if n.edge == cap] for cap in ("front cap", "back cap")}
    assert [min(counts) for counts in caps.values()] == [1, 2]


def corners(label: Label) -> np.ndarray:
    along = label.along * label.height_in * LETTER_PART * len(label.text) / 2
    up = label.height_in / 2 * label.along[::-1] * (-1.0, 1.0)
    return np.array([label.at + a * along + b * up for a, b in ((-1, -1), (1, -1), (1, 1), (-1, 1))])


@pytest.mark.parametrize("name", PIECES)
def test_its_pieces_are_named_on_themselves(files: dict[str, Path], name: str) -> None:
    for piece in list(read_pattern(files[name]).drafted().pieces.values())[:5]:
        place = Placement()
        room = shapely.Polygon(place.placed(piece.cut_line)).buffer(0.01)
        labels = labels_of(piece, place)
        assert labels[0].text == piece.name
        assert min(label.height_in for label in labels) >= SMALLEST_IN * 0.39
        assert all(room.covers(shapely.Polygon(corners(label))) for label in labels)


@pytest.mark.parametrize("turn_deg", [0.0, 90.0, 180.0, 270.0, 85.0])
def test_the_words_of_a_long_piece_are_level_and_large_whichever_way_it_lies(turn_deg: float) -> None:
    piece = read_pattern(GARMENTS["stokers_trousers"]).drafted().pieces["back"]
    name, *small = labels_of(piece, Placement(turn_deg=turn_deg))
    assert name.along[0] > 0.99
    assert name.height_in > 1.5
    assert min(label.height_in for label in small) >= SMALLEST_IN


@pytest.mark.parametrize("name", PIECES)
def test_its_report_drawings_and_card_are_made(
    files: dict[str, Path], tmp_path: Path, capsys: pytest.CaptureFixture[str], name: str
) -> None:
    code, out, _ = result(capsys, "draft", files[name], "--out", tmp_path / "drawn", "--json")
    told = json.loads(out)
    assert (code, len(told["pieces"])) == (0, PIECES[name])
    assert len(list((tmp_path / "drawn").glob("*.svg"))) == PIECES[name] + 1  # and the joined view
    code, out, _ = result(capsys, "card", files[name], "--out", tmp_path / "card.pdf")
    assert code == 0
    assert (tmp_path / "card.pdf").read_bytes().startswith(b"%PDF")


@pytest.mark.parametrize(
    ("name", "piece"),
    [
        ("pursers_blouse", "sleeve"),
        ("pursers_blouse", "back facing"),
        ("stokers_trousers", "waistband"),
        ("wharf_gores", "side back"),
        ("signal_tent", "gore 22"),
    ],
)
def test_its_pieces_are_projected(
    files: dict[str, Path], tmp_path: Path, capsys: pytest.CaptureFixture[str], name: str, piece: str
) -> None:
    table, picture = a_table(tmp_path), tmp_path / "frame.png"
    shared = ("cut", files[name], "--table", table, "--frame", picture, "--piece", piece)
    code, out, _ = result(capsys, *shared, "--json")
    assert code == 0
    told = json.loads(out)
    drafted = read_pattern(files[name]).drafted().pieces[piece]
    assert told["piece"] == piece
    assert len(told["cut_line_in"]) == len(drafted.cut_line)
    assert len(told["notches_in"]) == sum(notch.count for notch in drafted.notches)
    frame = cv2.imread(str(picture))
    assert frame is not None
    assert (frame > 128).any()
