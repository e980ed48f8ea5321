"""How the person chose to see the light: keys step through it, and a file keeps it."""

import json

import pytest

from patterns.measures import Unit
from projector.actions import Action, ChangeLine, ChangeLook, ChangeText, Move, ShowGrid, ShowRepeats
from projector.bindings import CUT_BINDINGS, SEEING_BINDINGS, action_of
from projector.errors import ProjectorError
from projector.lighting.limits import LOOK_NAMES
from projector.lighting.looks import LOOKS, USUAL
from projector.lighting.seeing import LINES_IN, TEXTS_IN, Seeing, seeing_of


def test_it_is_the_usual_look_until_something_is_asked_for() -> None:
    assert Seeing().look == USUAL
    assert Seeing().after(Move(right=1)) == Seeing()
    assert Seeing().words(Move(right=1)) == ""


def test_a_key_goes_through_all_looks_and_round() -> None:
    seeing, seen = Seeing(), []
    for _ in LOOK_NAMES:
        seen.append((seeing.look, seeing.words(ChangeLook())))
        seeing = seeing.after(ChangeLook())
    assert [look for look, _ in seen] == list(LOOKS.values())
    assert seen[2][1] == "look for printed cloth"
    assert seen[3][1] == "look for sheer cloth: white paper under it catches the light"
    assert seeing == Seeing()


def test_her_own_width_of_line_goes_with_the_look_and_her_size_of_words_stays() -> None:
    own = Seeing(line_in=1 / 4, text_in=3 / 4).after(ChangeLook())
    assert own.look.line_in == LOOKS["dark"].line_in
    assert own.look.text_in == 3 / 4


@pytest.mark.parametrize(
    ("action", "most", "words"),
    [
        (ChangeLine(by=1), LINES_IN[-1], "cut line 1/4 in, of 1/32 in (0.8 mm) to 1/4 in (6.3 mm)"),
        (ChangeLine(by=-1), LINES_IN[0], "cut line 1/32 in, of 1/32 in (0.8 mm) to 1/4 in (6.3 mm)"),
        (ChangeText(by=1), TEXTS_IN[-1], "words 2 in, of 3/8 in (1 cm) to 2 in (5 cm)"),
        (ChangeText(by=-1), TEXTS_IN[0], "words 3/8 in, of 3/8 in (1 cm) to 2 in (5 cm)"),
    ],
)
def test_widths_and_sizes_go_by_steps_to_a_limit_that_is_told(
    action: Action, most: float, words: str
) -> None:
    seeing = Seeing(line_in=1 / 8).after(action)
    assert "of" not in seeing.words(action).split()
    for _ in range(9):
        seeing = seeing.after(action)
    look = seeing.look
    assert (look.line_in if isinstance(action, ChangeLine) else look.text_in) == most
    assert seeing.words(action) == words


def test_a_width_between_two_steps_goes_to_the_next() -> None:
    assert Seeing(line_in=0.1).after(ChangeLine(by=1)).line_in == 1 / 8
    assert Seeing(line_in=0.1).after(ChangeLine(by=-1)).line_in == 3 / 32


def test_repeats_and_the_grid_are_put_on_and_off() -> None:
    on = Seeing().after(ShowRepeats())
    assert (on.repeats, on.words(ShowRepeats())) == (True, "the cut line repeated 1/2 in outside")
    assert on.after(ShowRepeats()) == Seeing()
    grids = [Seeing()]
    for _ in range(3):
        grids.append(grids[-1].after(ShowGrid()))
    assert [one.grid for one in grids] == [None, Unit.IN, Unit.CM, None]
    assert [one.words(ShowGrid()) for one in grids] == [
        "no grid",
        "a grid of 1 in",
        "a grid of 1 cm",
        "no grid",
    ]


@pytest.mark.parametrize(
    "seeing", [Seeing(), Seeing(name="printed", line_in=1 / 8, text_in=1.5, repeats=True, grid=Unit.CM)]
)
def test_a_file_gives_back_what_it_kept(seeing: Seeing) -> None:
    assert seeing_of(json.loads(json.dumps(seeing.kept))) == seeing


def test_what_is_no_look_is_refused_in_a_sentence() -> None:
    with pytest.raises(ProjectorError, match='found no look "velvet"; there are light, dark, printed'):
        Seeing(name="velvet")
    with pytest.raises(ProjectorError, match="a line 1 in wide"):
        seeing_of({**Seeing().kept, "line_in": 1.0})
    with pytest.raises(KeyError):
        seeing_of({"look": "dark"})


def test_every_key_of_seeing_is_free_while_cutting() -> None:
    for binding in SEEING_BINDINGS:
        for key, action in binding.pairs():
            assert action_of(SEEING_BINDINGS, key, shift=False) == action
            assert action_of(CUT_BINDINGS, key, shift=False) is None
            changed = Seeing(line_in=1 / 8).after(action)
            assert changed != Seeing(line_in=1 / 8)
            assert changed.words(action)
