from pathlib import Path

import numpy as np
import pytest
import shapely

from patterns import DraftedPattern, PatternError, example, read_pattern, write_pattern
from patterns.curves import Array
from tests.unit.patterns.build import HALF_TOP, pattern_of

TEXT = example("harbour overtop").read_text(encoding="utf-8")
TRACED = TEXT[: TEXT.index("changes:")].replace("  - [front facing/overarm, back facing/overarm]\n", "")
FORWARD = "changes: [{shoulder forward: 3/8 in}]\n"


def drafted(folder: Path, changes: str) -> DraftedPattern:
    return pattern_of(folder, TRACED + changes).drafted()


def overarm_at(pattern: DraftedPattern, piece: str, x: float) -> float:
    """How far down the piece's overarm lies, `x` from the centre."""
    line = shapely.LineString(pattern.pieces[piece].edges["overarm"].points)
    met: Array = shapely.get_coordinates(line.intersection(shapely.LineString([(x, -9), (x, 30)])))
    return float(met[0, 1])


@pytest.mark.parametrize("x", [4.5, 8, 12, 15])
def test_front_is_shortened_and_back_lengthened_by_as_much(tmp_path: Path, x: float) -> None:
    """Plain geometry: shoulder forward 3/8 takes 3/8 off the front and puts it on the back; the sum stays."""
    before, after = drafted(tmp_path, ""), drafted(tmp_path, FORWARD)
    front = overarm_at(before, "front", x) - overarm_at(after, "front", x)
    back = overarm_at(before, "back", x) - overarm_at(after, "back", x)
    assert front == pytest.approx(-3 / 8, abs=0.005)
    assert back == pytest.approx(3 / 8, abs=0.01)


def test_the_cloth_of_both_together_is_kept(tmp_path: Path) -> None:
    def area(pattern: DraftedPattern) -> float:
        return float(sum(shapely.Polygon(piece.seam_line).area for piece in pattern.pieces.values()))

    before, after = drafted(tmp_path, ""), drafted(tmp_path, FORWARD)
    strip = 3 / 8 * 12
    assert area(after) == pytest.approx(area(before), abs=0.05 * strip)
    assert after.pieces["front"].area_in2 < before.pieces["front"].area_in2 - 0.8 * strip


def test_both_overarms_stay_of_one_length_and_the_rest_where_it_was(tmp_path: Path) -> None:
    before, after = drafted(tmp_path, ""), drafted(tmp_path, FORWARD)
    assert after.joins[0].warning == ""
    for piece in ("front", "back"):
        for edge in ("side", "hem"):
            assert np.array_equal(
                after.pieces[piece].edges[edge].points, before.pieces[piece].edges[edge].points
            )
    assert after.pieces["front"].edges["neck"].length_in < before.pieces["front"].edges["neck"].length_in
    neck = shapely.LineString(before.pieces["front"].edges["neck"].points)
    strays = shapely.distance(neck, shapely.points(after.pieces["front"].edges["neck"].points))
    assert strays.max() < 0.001


def test_pieces_of_other_names_walked_the_other_way(tmp_path: Path) -> None:
    def mirror_walk(name: str) -> str:
        return (
            f"  {name}:\n    cut: 1 on fold\n    edges:\n"
            "      - {name: fold, kind: fold, path: [[0, 3], [0, 24]]}\n"
            "      - {name: hem, kind: hem, path: [[0, 24], [10, 24]]}\n"
            "      - {name: side, kind: seam, path: [[10, 24], [9, 12], [14, 9]]}\n"
            "      - {name: sleeve hem, kind: hem, path: [[14, 9], [15, 3]]}\n"
            "      - {name: overarm, kind: seam, path: [[15, 3], [3.5, 0]]}\n"
            "      - {name: neck, kind: seam, path: [[3.5, 0], [0, 3]]}\n"
        )

    text = f"pattern: Smock\npieces:\n{mirror_walk('fore')}{mirror_walk('aft')}"
    change = "changes: [{shoulder forward: 1/2 in, front: fore, back: aft}]\n"
    before, after = pattern_of(tmp_path, text).drafted(), pattern_of(tmp_path, text + change).drafted()
    for x in (5, 14):
        assert overarm_at(after, "fore", x) - overarm_at(before, "fore", x) == pytest.approx(0.5, abs=1e-3)
        assert overarm_at(after, "aft", x) - overarm_at(before, "aft", x) == pytest.approx(-0.5, abs=1e-3)
    lengths = [after.pieces[name].edges["overarm"].length_in for name in ("fore", "aft")]
    assert lengths[0] == pytest.approx(lengths[1], abs=1e-3)


def test_it_is_written_and_read_back(tmp_path: Path) -> None:
    for change in (
        "{shoulder forward: 3/8 in}",
        "{shoulder forward: 1 cm, front: back, back: front, off: yes}",
    ):
        pattern = pattern_of(tmp_path, f"{TRACED}changes: [{change}]\n")
        write_pattern(tmp_path / "again.yaml", pattern)
        assert read_pattern(tmp_path / "again.yaml") == pattern


@pytest.mark.parametrize(
    ("change", "sentence"),
    [
        ("{shoulder forward: 0 in}", 'found "0 in"; wanted a distance of more than nothing'),
        ("{shoulder forward: 1 in, front: apron}", 'found "apron/overarm"; wanted a piece of this pattern: '),
        ("{shoulder forward: 1 in, piece: front}", 'found "piece"'),
    ],
)
def test_what_makes_no_sense_is_refused(tmp_path: Path, change: str, sentence: str) -> None:
    with pytest.raises(PatternError) as error:
        pattern_of(tmp_path, f"{TRACED}changes: [{change}]\n")
    assert sentence in str(error.value)


def test_a_piece_without_an_overarm_is_refused(tmp_path: Path) -> None:
    with pytest.raises(PatternError) as error:
        pattern_of(tmp_path, HALF_TOP + "changes: [{shoulder forward: 1 in, back: front}]\n")
    assert 'found "front/overarm"; wanted an edge of front: neck, shoulder' in str(error.value)


def test_one_piece_cannot_be_front_and_back(tmp_path: Path) -> None:
    pattern = pattern_of(tmp_path, f"{TRACED}changes: [{{shoulder forward: 1 in, back: front}}]\n")
    with pytest.raises(PatternError, match="front is given as front and back"):
        pattern.draft()


def test_further_than_the_front_has_neck_is_refused(tmp_path: Path) -> None:
    with pytest.raises(PatternError) as error:
        drafted(tmp_path, "changes: [{shoulder forward: 7 in}]\n")
    assert "front: its overarm 7 in lower does not meet neck and sleeve hem any more" in str(error.value)
