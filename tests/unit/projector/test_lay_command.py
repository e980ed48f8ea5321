"""`lay` as it is typed: what it says, writes, keeps and refuses."""

import json
import multiprocessing
import re
from collections.abc import Generator, Iterator
from dataclasses import replace
from pathlib import Path

import numpy as np
import pytest
import shapely
from PIL import Image
from svgelements import SVG, Text

from patterns import read_pattern
from patterns.cutting.drafted import DraftedPattern
from patterns.errors import PatternError
from patterns.laying.buying import Buying
from patterns.laying.cloth import Cloth
from patterns.laying.folding import Fold
from patterns.laying.lay import Lay, Terms
from patterns.laying.moving import slid, with_moved
from patterns.laying.report import used_words
from patterns.laying.rules import violations
from patterns.measures import Unit
from patterns.planning.one_fold import Prefer
from patterns.planning.plan import Effort, lays
from patterns.saying import Say
from projector.command_line import main
from projector.laying.lay_file import lay_path, read_lay, write_lay
from projector.laying.searching import Wanted, searched, searching
from projector.progress import quiet
from tests.unit.patterns.build import HALF_TOP, saved
from tests.unit.projector.commands import check_refusal, result

WIDTH = ("--width", "60 in")


@pytest.fixture
def top(tmp_path: Path) -> Path:
    return saved(tmp_path, HALF_TOP)


def test_a_lay_as_one_json_object(top: Path, capsys: pytest.CaptureFixture[str]) -> None:
    code, said, _ = result(capsys, "lay", top, *WIDTH, "--fold", "partial", "--json")
    told = json.loads(said)
    assert code == 0
    assert told["fold"] == "partial"
    (placed,) = told["placed"]
    assert (placed["piece"], placed["layer"]) == ("front", "double")
    outline = shapely.Polygon(placed["outline"])
    depth = told["turned_over_in"]["right"]
    assert outline.bounds[2] == pytest.approx(60 - depth)  # on the fold
    assert outline.bounds[0] >= 60 - 2 * depth + 0.5 - 1e-9  # clear of the selvedge
    assert outline.bounds[3] == pytest.approx(told["used_in"])
    assert told["buy"] >= told["used_in"] + 2
    assert told["buy"] % 4.5 == pytest.approx(0, abs=1e-9)  # 1/8 yd
    assert told["remnant_in"][0] == pytest.approx(60 - 0.5 - 2 * depth + 0.5, abs=1 / 8)
    assert 0 < told["waste"] < 1
    assert told["violations"] == []
    assert told["written"] == []


def test_the_plan_is_written_as_svg_and_png(
    top: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    out = tmp_path / "plan"
    code, said, _ = result(
        capsys, "lay", top, *WIDTH, "--fold", "partial", "--out", out, "--scale", "1:10", "--scarf", "20x60in"
    )
    assert code == 0
    assert f"written: {out / 'lay.svg'}" in said
    assert "What stays whole does not give a scarf of 20 in by 60 in." in said
    drawn = SVG.parse(out / "lay.svg", ppi=1)
    texts = [str(one.text) for one in drawn.elements() if isinstance(one, Text)]
    assert {"Prompt corner", "scale 1:10", "Fold", "Cut, in this order"} <= set(texts)
    with Image.open(out / "lay.png") as picture:
        assert picture.size[0] / picture.size[1] == pytest.approx(drawn.width / drawn.height, rel=0.01)
        assert picture.convert("L").getextrema() == (0, 255)


def test_the_best_fold_is_chosen_and_all_are_told(top: Path, capsys: pytest.CaptureFixture[str]) -> None:
    code, said, _ = result(capsys, "lay", top, "--width", "140 cm", "--nap", "--shrink", "3%,1%")
    lines = said.splitlines()
    assert code == 0
    assert lines[0].split()[:3] == ["fold", "used", "to"]
    assert {line.split()[0] for line in lines[1:8]} == {fold.value for fold in Fold}
    assert "crosswise   no: a crosswise fold turns the nap" in said
    lengths = [float(line.split()[3]) for line in lines[1:8] if " m " in line]
    assert lengths == sorted(lengths)
    assert f"Buy {lengths[0]:.2f} m of cloth with a nap 140 cm wide" in said
    assert "shrinks by 3 % along and 1 % across" in said


def test_without_a_width_the_kept_lay_is_told_as_it_was_moved_by_hand(
    top: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    assert "plan one first: chalkbeam lay with --width and --keep" in result(capsys, "lay", top)[2]
    result(capsys, "lay", top, "--width", "150 cm", "--fold", "partial", "--keep")
    drafted = read_pattern(top).drafted()
    lay, unit = read_lay(lay_path(top), None, drafted)
    pushed = with_moved(lay, 0, slid(lay.placed[0], np.array([0.0, -2.0])))
    write_lay(lay_path(top), None, pushed, unit)
    code, said, _ = result(capsys, "lay", top, "--out", tmp_path / "plan")
    assert code == 0
    assert f"look: {violations(pushed)[0]}" in said
    assert f"{Say(Unit.CM)(pushed.used_in)} are used" in said
    assert (tmp_path / "plan" / "lay.png").exists()


def test_a_lay_that_is_kept_is_read_back_as_it_was(top: Path, capsys: pytest.CaptureFixture[str]) -> None:
    options = ("--fold", "both", "--repeat", "6 in x 0", "--match", "front=0,10 in", "--flaw", "1,2,3,4")
    code, said, _ = result(capsys, "lay", top, "--width", "150cm", *options, "--keep", "--json")
    told = json.loads(said)
    assert code == 0
    assert told["written"] == [str(lay_path(top))]
    lay, unit = read_lay(lay_path(top), None, read_pattern(top).drafted())
    assert unit is Unit.CM
    assert [one.outline_in.tolist() for one in lay.placed] == [one["outline"] for one in told["placed"]]
    assert lay.used_in == told["used_in"]
    assert lay.folding.fold is Fold.BOTH
    assert lay.cloth.repeat.along_in == 6
    assert [(flaw.left_in, flaw.top_in) for flaw in lay.cloth.flaws] == [(1, 4)]
    assert dict(lay.terms.match_points) == {"front": (0, 10)}


def test_of_the_cloth_at_hand_washing_and_squaring_take_their_share(
    top: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    options = ("--fold", "single", "--shrink", "10%,0%")
    used_in = json.loads(result(capsys, "lay", top, *WIDTH, "--fold", "single", "--json")[1])["used_in"]
    enough, too_little = ((used_in + 2 + more) / 0.9 for more in (0.1, -0.1))
    code, said, _ = result(capsys, "lay", top, *WIDTH, *options, "--length", f"{enough / 36:.6f} yd")
    assert code == 0
    assert (
        f"Of {Say(Unit.IN)(enough)} of cloth 60 in wide, {Say(Unit.IN)(used_in + 0.1)} once it is washed and squared"
        in said
    )
    lay = ("lay", top, *WIDTH, *options, "--length", f"{too_little} in", "--out", top.parent / "plan")
    check_refusal(capsys, top.parent, lay, "once it is squared")


@pytest.mark.parametrize(
    ("options", "sentence"),
    [
        (("--width", "15 in", "--fold", "single"), "take cloth at least"),
        (("--width", "60 in", "--fold", "crosswise", "--nap"), "turns the nap of one layer upside down"),
        (("--width", "60 in", "--fold", "partial", "--length", "20 in"), "is missing"),
        (("--width", "60 in", "--length", "2 in"), "2 in of cloth leave nothing once the end is squared"),
        (
            ("--width", "60 in", "--match", "back=0,1"),
            'found no piece "back" to match; the pattern has front',
        ),
        (("--width", "60 in", "--selvedge", "20 in"), "give less than a quarter of the width"),
        (("--width", "60 in", "--flaw", "3,2,1,4"), "found a flaw without an area"),
        (("--width", "15 in"), "front is"),
    ],
)
def test_what_cannot_be_is_said_with_the_way_out(
    top: Path, capsys: pytest.CaptureFixture[str], options: tuple[str, ...], sentence: str
) -> None:
    out = top.parent / "plan"
    check_refusal(capsys, top.parent, ("lay", top, *options, "--out", out, "--keep"), sentence)
    assert not out.exists()


@pytest.mark.parametrize(
    "options",
    [
        ("--nap",),
        ("--keep",),
        ("--fold", "partial"),
        ("--seed", "2"),
        ("--gap", "0"),
        ("--width", "0"),
        (*WIDTH, "--fold", "bias"),
        (*WIDTH, "--shrink", "3"),
        (*WIDTH, "--repeat", "0x0"),
        (*WIDTH, "--flaw", "1,2,3"),
        (*WIDTH, "--match", "front"),
        (*WIDTH, "--scale", "8"),
        (*WIDTH, "--seconds", "0"),
        (*WIDTH, "--window", "1920x1080"),
        ("--table", "t.yaml", "--json"),
        ("--table", "t.yaml", "--out", "plan"),
    ],
)
def test_a_slip_of_usage_is_told(
    top: Path, capsys: pytest.CaptureFixture[str], options: tuple[str, ...]
) -> None:
    with pytest.raises(SystemExit) as stopped:
        main(["lay", str(top), *options])
    assert stopped.value.code == 2
    assert "error:" in capsys.readouterr().err


def wanted(top: Path, seconds: float | None = None) -> Wanted:
    return Wanted(
        pattern=read_pattern(top).drafted(),
        cloth=Cloth(bought_width_in=60),
        terms=Terms(),
        prefer=Prefer.LENGTH,
        seed=1,
        seconds=seconds,
        say=Say(Unit.IN),
    )


def test_an_interrupt_keeps_the_best_so_far(top: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    def impatient(
        pattern: DraftedPattern, cloth: Cloth, fold: Fold, *, terms: Terms, prefer: Prefer, effort: Effort
    ) -> Iterator[Lay]:
        yield next(lays(pattern, cloth, fold, terms=terms, prefer=prefer, effort=effort))
        raise KeyboardInterrupt

    monkeypatch.setattr("projector.laying.searching.lays", impatient)
    with quiet() as progress:
        found = searched(wanted(top), (Fold.PARTIAL, Fold.SINGLE), progress)
    assert found.stopped
    assert found.best is not None
    assert [one.fold for one in found.compared] == [Fold.PARTIAL]


def test_an_interrupt_before_there_is_a_lay_stops(top: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    def too_soon(*what: object, **how: object) -> object:
        raise KeyboardInterrupt

    monkeypatch.setattr("projector.laying.searching.lays", too_soon)
    with quiet() as progress, pytest.raises(KeyboardInterrupt):
        searched(wanted(top), (Fold.PARTIAL,), progress)


def test_a_time_to_search_ends_it(top: Path) -> None:
    with quiet() as progress:
        found = searched(wanted(top, seconds=0.05), (Fold.SINGLE,), progress)
    assert found.best is not None
    assert not found.stopped


def test_folds_that_give_no_lay_come_last(top: Path) -> None:
    with quiet() as progress:
        found = searched(wanted(top), (Fold.CROSSWISE, Fold.PARTIAL), progress)
    assert [one.fold for one in found.compared] == [Fold.PARTIAL, Fold.CROSSWISE]
    assert isinstance(found.compared[1].why_not, PatternError)


def test_in_a_single_layer_a_time_to_search_asks_the_packing_engine_too(
    top: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    efforts: list[Effort] = []

    def told(
        pattern: DraftedPattern, cloth: Cloth, fold: Fold, *, terms: Terms, prefer: Prefer, effort: Effort
    ) -> Iterator[Lay]:
        efforts.append(effort)
        return lays(pattern, cloth, fold, terms=terms, prefer=prefer, effort=effort)

    monkeypatch.setattr("projector.laying.searching.lays", told)
    with quiet() as progress:
        found = searched(wanted(top, seconds=1.5), (Fold.SINGLE, Fold.PARTIAL), progress)
    assert [bool(effort.packing_s) for effort in efforts] == [False, True, False]
    assert found.best is not None
    assert not violations(found.best)


def test_where_the_search_has_come_to_is_told(top: Path) -> None:
    told = [so_far.words(wanted(top)) for so_far in searching(wanted(top), (Fold.CROSSWISE, Fold.PARTIAL))]
    assert told[0] == "crosswise fold, 1 of 2"
    assert re.fullmatch(r"partial fold, 2 of 2: so far \d.* in used, \d.* yd to buy", told[-1])


def test_of_cloth_at_hand_the_most_stays_whole_whatever_is_used(top: Path) -> None:
    at_hand = replace(wanted(top), cloth=Cloth(bought_width_in=60, length_in=70.0))
    with quiet() as progress:
        found = searched(at_hand, (Fold.SINGLE, Fold.PARTIAL, Fold.SELVEDGES), progress)
    whole = [Buying.of(one.lay).remnant.area_in2 for one in found.compared if one.lay is not None]
    assert len(whole) == 3
    assert whole == sorted(whole, reverse=True)
    assert found.best is not None
    assert used_words(found.best, at_hand.say).endswith("of 70 in used")


def test_cloth_too_short_for_our_own_search_is_left_to_the_packing_engine(
    top: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    def told(
        pattern: DraftedPattern, cloth: Cloth, fold: Fold, *, terms: Terms, prefer: Prefer, effort: Effort
    ) -> Iterator[Lay]:
        if not effort.packing_s:
            raise PatternError("too short")
        return lays(pattern, cloth, fold, terms=terms, prefer=prefer, effort=effort)

    monkeypatch.setattr("projector.laying.searching.lays", told)
    with quiet() as progress:
        packed, not_packed = (
            searched(wanted(top, seconds=1.5), (fold,), progress) for fold in (Fold.SINGLE, Fold.PARTIAL)
        )
    assert packed.best is not None
    assert str(not_packed.compared[0].why_not) == "too short"


def test_the_packing_engine_ends_when_nobody_asks_any_longer(top: Path) -> None:
    effort = Effort(rounds=1, packing_s=600)
    pattern, cloth = read_pattern(top).drafted(), Cloth(bought_width_in=60)
    found = lays(pattern, cloth, Fold.SINGLE, terms=Terms(), prefer=Prefer.USED, effort=effort)
    next(found)
    next(found)
    assert len(multiprocessing.active_children()) == 1
    assert isinstance(found, Generator)
    found.close()
    assert multiprocessing.active_children() == []
