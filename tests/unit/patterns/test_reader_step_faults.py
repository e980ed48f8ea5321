"""What is wrong in a notch, a join, a change or a version is said with its line: found, wanted."""

from pathlib import Path

import pytest

from tests.unit.patterns.build import HALF_TOP, refusal

NOTCHES = [
    (
        "{edge: sid, at: 5}",
        'found a notch on "sid"; wanted an edge of front: neck, shoulder, side, hem, centre front',
    ),
    (
        "{edge: centre front, at: 5}",
        "found a notch on centre front, a fold; wanted a notch on an edge that is cut",
    ),
    ("{edge: side, at: 30}", "found a notch 30 in along side; wanted at most the edge's length, 22.02 in"),
    ("{edge: side, at: -1}", 'found "-1"; wanted a distance of nothing or more along the edge'),
    ("{edge: side, at: 1, from: top}", 'found "top"; wanted an end: start or end'),
    ("{edge: side, at: 1, count: 4}", "found a notch of 4; wanted a notch of 1, 2 or 3 clips"),
    ("{edge: side, at: 1, count: no}", 'found "no"; wanted a whole number: 1, 2 or 3'),
    ("{edge: side}", "found a notch without at; wanted a notch with edge and at"),
    ("side", 'found "side" for a notch; wanted key: value, with edge, at, from or count'),
]

OPENINGS = (
    "neck, raise neck, lower neck, widen neck, narrow neck, lengthen, shorten, lengthen sleeve, shorten sleeve, "
    "sleeve opening, widen, narrow, slant hem, hem band, facing, binding, shoulder forward, true up, notch, "
    "notches or average"
)

TAILS = [
    ("joins: x", 'found "x"; wanted a list of joins'),
    ("joins: [x]", 'found "x"; wanted two edges [piece/edge, piece/edge]'),
    ("joins: [{ease: 1/2}]", "found a join without edges; wanted a join with edges"),
    ("joins: [{edges: x}]", 'found "x"; wanted two edges [piece/edge, piece/edge]'),
    (
        "joins: [{edges: [front/side, front/hem], ease: 0}]",
        'found "0"; wanted by how much the second edge is to be longer',
    ),
    ("joins: [[front/side]]", "found a list of 1; wanted two edges [piece/edge, piece/edge]"),
    ("joins: [[front/side, side]]", 'found "side"; wanted an edge, piece/edge, such as "front/side"'),
    ("joins: [[front/side, front/side]]", 'found "front/side" joined to itself; wanted two different edges'),
    (
        "joins: [[front/side, front/hem], [front/hem, front/side]]",
        'found "front/hem" joined to "front/side" again; wanted each join once',
    ),
    ("joins: [[front/side, back/side]]", 'found "back/side"; wanted a piece of this pattern: front'),
    (
        "joins: [[front/side, front/sied]]",
        'found "front/sied"; wanted an edge of front: neck, shoulder, side, hem, centre front',
    ),
    (
        "changes: [{pleat: 1}]",
        f"found a change with pleat; wanted a change that begins with {OPENINGS}",
    ),
    (
        "changes: [v]",
        f'found "v"; wanted a change that begins with {OPENINGS}',
    ),
    (
        "changes: [{neck: u, piece: front, depth: 7}]",
        'found "u"; wanted a shape of neck: v, round, scoop or square',
    ),
    (
        "changes: [{neck: v, piece: front}]",
        "found a neck change without depth; wanted a neck change with neck and piece and depth",
    ),
    ("changes: [{neck: v, piece: front, depth: 0}]", 'found "0"; wanted a depth of more than nothing'),
    (
        "changes: [{neck: v, piece: back, depth: 7}]",
        'found "back/neck"; wanted a piece of this pattern: front',
    ),
    ("changes: [{raise neck: 1, piece: front, off: maybe}]", 'found "maybe"; wanted yes or no'),
    ("changes: [{raise neck: -1, piece: front}]", 'found "-1"; wanted a rise of more than nothing'),
    (
        "changes: [{facing: front, of: neck, depth: 2}]",
        'found "neck"; wanted an edge, piece/edge, such as "front/side"',
    ),
    (
        "changes: [{facing: front, of: front/nek, depth: 2}]",
        'found "front/nek"; wanted an edge of front: neck, shoulder, side, hem, centre front',
    ),
    (
        "changes: [{facing: front, of: front/neck, depth: 2, below: 2}]",
        (
            'found "below" in a facing change; wanted a key: facing, of, depth, shoulder, below '
            'point or off; did you mean "below point"?'
        ),
    ),
    (
        "versions: {plain: {without: [0]}}",
        "found change 0 left out; wanted the number of a change, counted from 0; there are 0",
    ),
    ("versions: {plain: {without: [a]}}", 'found "a"; wanted a whole number: a change\'s number'),
    ("versions: {plain: [0]}", "found a list of 1 for the version plain; wanted key: value, with without"),
]


@pytest.mark.parametrize(("notch", "sentence"), NOTCHES)
def test_a_faulty_notch_is_named(tmp_path: Path, notch: str, sentence: str) -> None:
    assert refusal(tmp_path, f"{HALF_TOP}    notches:\n      - {notch}\n") == [
        f"top.yaml, line 13: {sentence}"
    ]


@pytest.mark.parametrize(("tail", "sentence"), TAILS)
def test_a_faulty_join_change_or_version_is_named(tmp_path: Path, tail: str, sentence: str) -> None:
    assert refusal(tmp_path, f"{HALF_TOP}{tail}\n") == [f"top.yaml, line 12: {sentence}"]
