"""Two traces of a half made one by a change."""

import math
from pathlib import Path

import pytest
import shapely

from patterns import Pattern, PatternError
from tests.unit.patterns.build import pattern_of, refusal
from tests.unit.patterns.smock import smock_text, twice_traced_text


def two_traces(
    folder: Path,
    changes: str,
    wider: float = 1.02,
    longer: float = 1.01,
    backwards: bool = False,
    tail: str = "",
) -> Pattern:
    """The smock with a second trace of its front, so many times wider and longer, and the changes."""
    return pattern_of(folder, twice_traced_text(changes, wider, longer, backwards) + tail)


def ring(pattern: Pattern, piece: str = "front", version: str | None = None) -> shapely.LinearRing:
    return shapely.LinearRing(pattern.drafted(version).pieces[piece].seam_line)


def apart(one: shapely.LinearRing, two: shapely.LinearRing) -> float:
    return float(shapely.hausdorff_distance(one, two))


@pytest.mark.parametrize("backwards", [False, True])
def test_every_point_lies_half_way_and_the_second_trace_is_not_cut(tmp_path: Path, backwards: bool) -> None:
    pattern = two_traces(tmp_path, "{average: [front, front left]}", backwards=backwards)
    assert list(pattern.drafted().pieces) == ["front", "back"]
    between = ring(two_traces(tmp_path, "{average: [front, front left], use: front left}", 1.01, 1.005))
    assert apart(ring(pattern), between) < 1e-3
    assert pattern.drafted().pieces["front"].cut_line[[0, -1], 0].tolist() == [0, 0]


def test_23_halves_of_19_8_and_20_2_average_to_20_and_warn(tmp_path: Path) -> None:
    """Plain geometry: their mean is 20.0; they differ by 0.4, more than 1/4 (common practice)."""
    at_20 = twice_traced_text("{average: [front, front left]}", 20.2 / 11.2, 1.0).replace(
        "11.2, 25]", "19.8, 25]"
    )
    made = pattern_of(tmp_path, at_20).drafted()
    hem = made.pieces["front"].edges["hem"]
    assert hem.points[0].tolist() == pytest.approx([20.0, 25.0])
    assert [warning for warning in made.warnings if warning.startswith("front, hem: ")] == [
        "front, hem: the two traces lie 3/8 in apart 0 in along it, more than 1/4 in; trace the worse half "
        "again, or use the better one: use: front, or use: front left"
    ]


def test_halves_a_quarter_apart_are_averaged_without_a_word(tmp_path: Path) -> None:
    made = two_traces(tmp_path, "{average: [front, front left]}", 1.01, 1.0).drafted()
    assert not [warning for warning in made.warnings if "traces" in warning]


def test_the_better_half_is_used_alone(tmp_path: Path) -> None:
    changes = (
        "{average: [front, front left], use: front}",
        "{average: [front, front left], use: front left}",
    )
    first, second = (two_traces(tmp_path, change, 1.2, 1.1) for change in changes)
    plain = pattern_of(tmp_path, smock_text())
    assert apart(ring(first), ring(plain)) == 0
    assert float(second.drafted().pieces["front"].seam_line[:, 0].max()) == pytest.approx(18.5 * 1.2)
    for pattern in (first, second):
        assert list(pattern.drafted().pieces) == ["front", "back"]
        assert not [warning for warning in pattern.drafted().warnings if "traces" in warning]


def test_it_takes_its_turn_and_may_be_off_or_left_out_of_a_version(tmp_path: Path) -> None:
    pattern = two_traces(
        tmp_path,
        "{average: [front, front left]}, {lengthen: 2, pieces: front}",
        tail="versions: {as traced: {without: [0]}}\n",
    )
    fold = pattern.drafted().pieces["front"].edges["centre"]
    assert fold.length_in == pytest.approx((21.6 + 21.6 * 1.01) / 2 + 2)
    traced = pattern.drafted("as traced")
    assert list(traced.pieces) == ["front", "back"]
    assert traced.pieces["front"].edges["centre"].length_in == pytest.approx(23.6)


def test_other_pieces_stay_the_very_same(tmp_path: Path) -> None:
    pattern = two_traces(tmp_path, "{average: [front, front left]}")
    assert pattern.drafted().pieces["front"] is pattern.drafted().pieces["front"]
    length = math.hypot(18.5 - 3.5, 5)
    assert pattern.drafted().pieces["back"].edges["overarm"].length_in == pytest.approx(length)


@pytest.mark.parametrize(
    ("change", "sentence"),
    [
        ("{average: front}", 'found "front"; wanted two traces, the piece and another of it'),
        ("{average: [front, front]}", 'found "front, front"; wanted two traces, the piece and another of it'),
        (
            "{average: [front, front left], use: back}",
            'found "back"; wanted the better trace: front or front left',
        ),
        (
            "{average: [front, apron]}",
            'found "apron"; wanted a piece of this pattern: front, back, front left',
        ),
    ],
)
def test_what_makes_no_sense_is_refused(tmp_path: Path, change: str, sentence: str) -> None:
    (told,) = refusal(tmp_path, twice_traced_text(change))
    assert told.endswith(f": {sentence}")


def test_traces_that_cannot_be_matched_are_refused(tmp_path: Path) -> None:
    text = twice_traced_text("{average: [front, front left]}")
    place = text.index("front left:")
    with pytest.raises(
        PatternError, match="need the same edges in the same order, so name those of one again"
    ):
        pattern_of(tmp_path, text[:place] + text[place:].replace("name: side", "name: flank", 1)).drafted()


def test_a_second_trace_is_not_cut_so_nothing_later_may_name_it(tmp_path: Path) -> None:
    changes = "{raise neck: 1/2, piece: front left}, {binding: front left/neck, width: 1/4}"
    average = "{average: [front, front left]}"
    made = pattern_of(tmp_path, twice_traced_text(f"{changes}, {average}")).drafted()
    assert made.strips == ()
    told = refusal(tmp_path, twice_traced_text(f"{average}, {changes}"))
    assert [one.split(": ", 1)[1] for one in told] == [
        'found "front left/neck"; wanted a piece of this pattern: front, back'
    ] * 2
