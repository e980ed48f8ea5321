"""What is wrong in a pattern file is said with its line: found, wanted."""

from pathlib import Path

import pytest

from patterns.files.reader import MOST_COMPLAINTS
from tests.unit.patterns.build import HALF_TOP, refusal

SWAPS = [
    ("pattern: Prompt corner", "pattern: [a]", "line 1: found a list of 1; wanted the pattern's name"),
    (
        "pattern: Prompt corner\n",
        "",
        "line 1: found a pattern without pattern; wanted a pattern with pattern and pieces",
    ),
    (
        "pattern: Prompt corner",
        "pattern: a/b",
        (
            "line 1: found 'a/b'; wanted a name of letters and spaces, without \"/\" and "
            "without spaces at its ends"
        ),
    ),
    (
        "allowance: {seam",
        "allowance: {saem",
        'line 2: found "saem" in allowances; wanted a key: seam, hem, fold or edge; did you mean "seam"?',
    ),
    ("seam: 1/2 in,", "seam: 1/2 ft,", 'line 2: found "1/2 ft"; wanted a length in inches, cm or mm'),
    ("seam: 1/2 in,", "seam: -1/2 in,", 'line 2: found "-1/2 in"; wanted an allowance of nothing or more'),
    (
        "seam: 1/2 in,",
        "seam: 1/4 in + 1/4 in,",
        'line 2: found "1/4 in + 1/4 in" for a seam; wanted one length; only a hem is folded twice',
    ),
    (
        "hem: 1/2 in}",
        "hem: 1/4 in + 1/2 in}",
        (
            'line 2: found "1/4 in + 1/2 in"; wanted a double hem whose second part, turned '
            "under, is no wider than the first"
        ),
    ),
    (
        "hem: 1/2 in}",
        "hem: 1 + 1 + 1}",
        'line 2: found "1 + 1 + 1"; wanted one length, or two for a double hem: "1/4 in + 1/4 in"',
    ),
    (
        "hem: 1/2 in}",
        "fold: 1}",
        "line 2: found an allowance of 1 for folds; wanted none: cloth is not cut at its fold",
    ),
    ("hem: 1/2 in}", "hem: [1]}", "line 2: found a list of 1; wanted an allowance"),
    ("hem: 1/2 in}", "hem: }", "line 2: found nothing; wanted an allowance"),
    ("pieces:", "unit: yd\npieces:", 'line 3: found "yd"; wanted a unit: in, cm or mm'),
    (
        "pieces:",
        "seams: 1\npieces:",
        (
            'line 3: found "seams" in a pattern; wanted a key: pattern, unit, finish, allowance, '
            "pieces, joins, changes or versions"
        ),
    ),
    (
        "pieces:",
        "pattern: again\npieces:",
        'line 3: found "pattern" twice in a pattern; wanted each key once',
    ),
    (
        "    cut: 1 on fold\n",
        "",
        "line 5: found the piece front without cut; wanted the piece front with cut and edges",
    ),
    (
        "cut: 1 on fold",
        "cut: one",
        'line 5: found "one"; wanted a count such as "1", "1 on fold" or "2 mirrored"',
    ),
    ("cut: 1 on fold", "cut: 0 on fold", "line 5: found 0 to cut; wanted a count from 1 to 99"),
    (
        "cut: 1 on fold",
        "cut: 1",
        'line 5: found "1" for front, which has a fold edge; wanted "1 on fold", or an edge of another kind',
    ),
    (
        "cut: 1 on fold",
        "cut: 3 mirrored",
        'line 5: found "3 mirrored"; wanted an even count of mirrored pieces, such as "2 mirrored"',
    ),
    (
        "cut: 1 on fold",
        "cut: 2 on fold mirrored",
        'line 5: found "2 on fold mirrored"; wanted "on fold" or "mirrored", not both',
    ),
    (
        "kind: fold",
        "kind: seam",
        (
            'line 5: found "1 on fold" for front, which has no fold edge; wanted an edge of '
            "kind fold along x = 0"
        ),
    ),
    (
        "kind: hem,",
        "kind: hme,",
        'line 10: found "hme"; wanted a kind of edge: seam, hem, fold or edge; did you mean "hem"?',
    ),
    (
        "kind: hem,",
        "kind: hem, curve: no,",
        'line 10: found "no"; wanted a curve: straight, smooth or bezier',
    ),
    ("kind: hem,", "", "line 10: found an edge without kind; wanted an edge with name and kind and path"),
    (
        "name: hem,",
        "name: side,",
        'line 10: found a second edge named "side" in front; wanted a name of its own for each edge',
    ),
    ("name: hem,", "name: ,", "line 10: found nothing; wanted the edge's name"),
    (
        "kind: hem, ",
        "kind: hem, corner: mitre, ",
        (
            "line 10: found a mitre corner where hem meets centre front; wanted no corner at "
            "the fold: the cut line ends on it"
        ),
    ),
    (
        "[[9, 2], [10, 24]]}",
        "[[9, 2], [10, 24]], corner: round}",
        'line 9: found "round"; wanted a corner: mitre, squared, squared next or reflected',
    ),
    (
        "[[3.5, 0], [9, 2]]}",
        "[[3.5, 0], [9, 2]], corner: reflected}",
        (
            "line 8: found a reflected corner between shoulder and side; wanted one of the "
            "two to be a hem, about whose fold line the other is mirrored"
        ),
    ),
    (
        "[[10, 24], [0, 24]]",
        "[[10, 24], [0, 24.1]]",
        (
            "line 11: found hem ending at [0, 24.1] and centre front beginning at [0, 24]; "
            "wanted each edge to begin where the last ended, and the last to close on the "
            "first"
        ),
    ),
    (
        "[[0, 24], [0, 4]]",
        "[[0, 24], [0, 4.1]]",
        (
            "line 7: found centre front ending at [0, 4.1] and neck beginning at [0, 4]; "
            "wanted each edge to begin where the last ended, and the last to close on the "
            "first"
        ),
    ),
    (
        "[[0, 24], [0, 4]]",
        "[[0, 24], [1, 14], [0, 4]]",
        (
            "line 11: found a fold that leaves x = 0; wanted a fold along the centre line, "
            "with x = 0 at each point"
        ),
    ),
    (
        "[[0, 24], [0, 4]]",
        "[[0, 24], [0, 4]], curve: smooth",
        "line 11: found a smooth fold; wanted a straight fold",
    ),
    (
        "[[0, 24], [0, 4]]",
        "[[0, 24], [0, 4]], allowance: 1/2",
        "line 11: found an allowance of 1/2 on a fold; wanted none: cloth is not cut at its fold",
    ),
    ("[[10, 24], [0, 24]]", "[[10, 24]]", "line 10: found 1 points; wanted a path of 2 to 1000 points"),
    (
        "[[10, 24], [0, 24]]",
        "[[10, 24], [10, 24.0], [0, 24]]",
        "line 10: found [10, 24.0] twice in a row; wanted points that move on",
    ),
    ("[[10, 24], [0, 24]]", "[[10, 24], [0, 24, 3]]", "line 10: found a list of 3; wanted a point [x, y]"),
    (
        "[[10, 24], [0, 24]]",
        "[[10, 24], [0, 1:30]]",
        'line 10: found "1:30"; wanted a length such as "1/2 in", "1 1/4 in", "15 mm" or "1.5 cm"',
    ),
    ("[[10, 24], [0, 24]]", "here", 'line 10: found "here"; wanted a list of points [x, y]'),
    (
        "[3.5, 2.4], ",
        "",
        (
            "line 7: found 3 points in a bezier path; wanted point, handle, handle, point, "
            "...: 4, 7, 10, ... points"
        ),
    ),
    (
        "[[10, 24], [0, 24]]",
        "[[10, 24], [4, 0], [0, 24]]",
        (
            "line 10: found shoulder and hem crossing near [4.05 in, 0.20 in]; wanted a loop "
            "that does not cross or touch itself"
        ),
    ),
    (
        "[[10, 24], [0, 24]]",
        "[[10, 24], [-1, 20], [0, 24]]",
        (
            "line 10: found hem reaching 1 in across the centre line; wanted x of 0 or more "
            "all round a piece on the fold"
        ),
    ),
    (
        "kind: fold, path: [[0, 24], [0, 4]]}",
        "kind: fold, path: [[0, 24], [0, 4]]}\n    grain: [[1, 2]]",
        "line 12: found a list of 1; wanted two points [[x, y], [x, y]]",
    ),
    (
        "kind: fold, path: [[0, 24], [0, 4]]}",
        "kind: fold, path: [[0, 24], [0, 4]]}\n    grain: [[1, 2], [1, 2]]",
        "line 12: found a grainline without length; wanted two different points",
    ),
]


@pytest.mark.parametrize(("old", "new", "sentence"), SWAPS)
def test_a_fault_is_named_with_its_line(tmp_path: Path, old: str, new: str, sentence: str) -> None:
    assert HALF_TOP.count(old) == 1
    assert refusal(tmp_path, HALF_TOP.replace(old, new)) == [f"top.yaml, {sentence}"]


def test_all_faults_are_named_at_once(tmp_path: Path) -> None:
    text = HALF_TOP.replace("curve: bezier", "curve: curly").replace("[10, 24]]", "[10, 24 ft]]")
    found = refusal(tmp_path, text + "    notches: [{edge: cuff, at: 1}]\njoins: [[front/side, back/side]]\n")
    assert [sentence.split(":")[0] for sentence in found] == [
        "top.yaml, line 7",
        "top.yaml, line 9",
        "top.yaml, line 12",
        "top.yaml, line 13",
    ]


def test_a_long_list_of_faults_is_cut_short(tmp_path: Path) -> None:
    wrong = ", ".join(f"x{i}: 1" for i in range(MOST_COMPLAINTS + 10))
    found = refusal(tmp_path, f"{HALF_TOP}{wrong.replace(', ', chr(10))}\n")
    assert len(found) == MOST_COMPLAINTS + 1
    assert found[-1] == "top.yaml: found 10 faults more like these; wanted these to be mended first"
