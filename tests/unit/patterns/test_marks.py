from pathlib import Path

import numpy as np
import pytest
import shapely

from patterns import DraftedPiece, Line, LineKind, Placement, example, marks_of, read_pattern
from patterns.curves import Array
from patterns.cutting.labels import HAND_IN, LETTER_PART, SMALLEST_IN
from tests.unit.patterns.build import HALF_TOP, pattern_of

PLACEMENTS = [
    Placement(x_in=3, y_in=-7, turn_deg=turn, mirrored=mirrored, opened=opened)
    for turn in (0.0, 37.0, 90.0, 180.0, 270.0, -100.0)
    for mirrored in (False, True)
    for opened in (False, True)
]


@pytest.fixture(scope="module")
def pieces() -> dict[str, DraftedPiece]:
    return dict(read_pattern(example("harbour overtop")).drafted().pieces)


def only(lines: tuple[Line, ...]) -> Line:
    (line,) = lines
    return line


def test_on_the_fold_the_cut_line_never_runs_along_the_fold(pieces: dict[str, DraftedPiece]) -> None:
    for piece in pieces.values():
        cut = only(marks_of(piece, Placement()).of_kind(LineKind.CUT))
        assert not cut.closed
        assert cut.points[[0, -1], 0].tolist() == [0, 0]
        assert (cut.points[1:-1, 0] > 0).all()


def test_opened_out_both_halves_are_one_outline(pieces: dict[str, DraftedPiece]) -> None:
    for piece in pieces.values():
        marks = marks_of(piece, Placement(opened=True))
        cut = only(marks.of_kind(LineKind.CUT))
        assert cut.closed
        outline = shapely.Polygon(cut.points)
        assert outline.is_valid
        assert outline.area == pytest.approx(2 * piece.area_in2)
        assert shapely.Polygon(cut.points * [-1, 1]).symmetric_difference(outline).area < 1e-9
        assert len(marks.of_kind(LineKind.CENTRE)) == 1
        for kind in (LineKind.FOLD, LineKind.FOLD_SIGN, LineKind.FOLD_TICK):
            assert marks.of_kind(kind) == ()


def test_the_fold_has_its_bracket_with_two_arrows_on_to_it(pieces: dict[str, DraftedPiece]) -> None:
    bracket, *arrows = marks_of(pieces["front"], Placement()).of_kind(LineKind.FOLD_SIGN)
    assert bracket.points[[0, -1], 0].tolist() == [0, 0]
    assert (bracket.points[1:-1, 0] == 1).all()
    assert [arrow.points[1, 0] for arrow in arrows] == [0, 0]
    assert all((arrow.points[[0, 2], 0] > 0).all() for arrow in arrows)


def test_ticks_lie_beyond_both_ends_of_the_fold(pieces: dict[str, DraftedPiece]) -> None:
    marks = marks_of(pieces["front"], Placement())
    fold = only(marks.of_kind(LineKind.FOLD)).points
    above, below = marks.of_kind(LineKind.FOLD_TICK)
    assert above.points[:, 0].tolist() == below.points[:, 0].tolist() == [0, 0]
    assert above.points[:, 1].min() > fold[:, 1].max()
    assert below.points[:, 1].max() < fold[:, 1].min()


def test_notches_and_clips_are_there_for_each_half(pieces: dict[str, DraftedPiece]) -> None:
    half, full = (marks_of(pieces["front"], Placement(opened=opened)) for opened in (False, True))
    assert len(half.of_kind(LineKind.NOTCH)) == 4
    assert len(full.of_kind(LineKind.NOTCH)) == 8
    assert len(half.of_kind(LineKind.CLIP)) == len(full.of_kind(LineKind.CLIP)) == 1


def test_the_grainline_has_an_arrowhead_at_both_ends(pieces: dict[str, DraftedPiece]) -> None:
    line, *heads = marks_of(pieces["front"], Placement()).of_kind(LineKind.GRAIN)
    assert [head.points[1].tolist() for head in heads] == line.points.tolist()
    low, high = sorted(line.points[:, 1])
    assert all(low <= y <= high for head in heads for y in head.points[:, 1])


def test_a_piece_without_a_fold_is_always_whole(tmp_path: Path) -> None:
    text = HALF_TOP.replace("1 on fold", "2 mirrored").replace("kind: fold", "kind: seam")
    piece = pattern_of(tmp_path, text).drafted().pieces["front"]
    for opened in (False, True):
        marks = marks_of(piece, Placement(opened=opened))
        assert only(marks.of_kind(LineKind.CUT)).closed
        assert [label.text for label in marks.labels] == ["front", "cut 2 mirrored", "whole"]


@pytest.mark.parametrize(
    ("placement", "state"),
    [
        (Placement(), ["half, on the fold"]),
        (Placement(mirrored=True), ["half, on the fold", "mirrored"]),
        (Placement(opened=True), ["opened full"]),
        (Placement(opened=True, mirrored=True), ["opened full", "mirrored"]),
    ],
)
def test_the_state_is_said_in_words(
    pieces: dict[str, DraftedPiece], placement: Placement, state: list[str]
) -> None:
    texts = [label.text for label in marks_of(pieces["front"], placement).labels]
    assert texts == ["front", "cut 1 on fold", *state]


@pytest.mark.parametrize("placement", PLACEMENTS)
def test_words_lie_within_the_piece_and_read_from_left_to_right(
    pieces: dict[str, DraftedPiece], placement: Placement
) -> None:
    for piece in pieces.values():
        marks = marks_of(piece, placement)
        cut = only(marks.of_kind(LineKind.CUT))
        inside = shapely.Polygon(cut.points)
        for label in marks.labels:
            assert np.hypot(*label.along) == pytest.approx(1)
            assert label.along[0] > -1e-9
            assert SMALLEST_IN <= label.height_in <= HAND_IN
            assert inside.contains(
                shapely.Polygon(letters_box(label.at, label.along, label.height_in, label.text))
            )
        name, *small = marks.labels
        down = np.array([name.along[1], -name.along[0]])
        assert [(label.at - name.at) @ down > 0 for label in small] == [True] * len(small)


@pytest.mark.parametrize("opened", [False, True])
def test_words_keep_off_every_strong_line_and_of_large_pieces_off_the_seam_line(
    pieces: dict[str, DraftedPiece], opened: bool
) -> None:
    for name, piece in pieces.items():
        marks = marks_of(piece, Placement(opened=opened))
        words = shapely.union_all(
            [
                shapely.Polygon(letters_box(label.at, label.along, label.height_in, label.text))
                for label in marks.labels
            ]
        )
        strong = (LineKind.CUT, LineKind.CLIP, LineKind.FOLD, LineKind.FOLD_SIGN)
        kinds = strong if "facing" in name else (*strong, LineKind.SEAM)
        lines = [line.points for kind in kinds for line in marks.of_kind(kind)]
        assert min(words.distance(shapely.LineString(points)) for points in lines) > 0.05


def letters_box(at: Array, along: Array, height: float, text: str) -> Array:
    reach, up = along * len(text) * height * LETTER_PART / 2, np.array([-along[1], along[0]]) * height / 2
    return np.stack([at - reach - up, at + reach - up, at + reach + up, at - reach + up])


def test_every_mark_is_moved_as_the_piece_is(pieces: dict[str, DraftedPiece]) -> None:
    still = marks_of(pieces["back"], Placement())
    moved_by = Placement(x_in=5, y_in=9, turn_deg=33, mirrored=True)
    moved = marks_of(pieces["back"], moved_by)
    for one, two in zip(still.lines, moved.lines, strict=True):
        assert one.kind is two.kind
        assert moved_by.placed(Placement().lifted(one.points)) == pytest.approx(two.points)
