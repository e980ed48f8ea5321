"""While a number is stepped at the drafting table, what it does not change stands still."""

from itertools import chain, pairwise
from pathlib import Path
from typing import Any

import numpy as np
import pytest
import shapely

from patterns import example
from patterns.cutting.labels import labels_of
from patterns.files.reader import pattern_in
from projector.actions import Accept, Aim, Move, Show, TakeUp, Undo
from projector.drafting.words import strip_words
from projector.stations.draft import DraftStation
from tests.unit.projector.drafts import CALM, SHOULDER, after, at, begun, typed

FINER = Move(right=1, other_step=True)


def layers(station: DraftStation) -> dict[str, Any]:
    return {layer.name: layer.key for layer in station.scene(CALM)}


def read(station: DraftStation) -> str:
    """The strip as it is lit, row by row."""
    strip = [key for name, key in layers(station).items() if name.startswith(("strip ", "running "))]
    lines = sorted(chain(*(lines for lines, _ in strip)), key=lambda line: (-line.top, line.left))
    return "".join(
        line.text if before is None or before.top == line.top else f" {line.text}"
        for before, line in pairwise([None, *lines])
    )


def test_only_the_number_and_the_lines_it_moves_are_drawn_anew() -> None:
    station = after(begun(), FINER)
    scenes = [layers(station := station.after(FINER)) for _ in range(4)]
    for before, now in pairwise(scenes):
        assert before.keys() == now.keys()
        changed = {name for name in now if now[name] != before[name]}
        lines = {name for name in changed if name.startswith("line ")}
        running = {name for name in changed if name.startswith("running ")}
        moved = {"moved lines", "stitched point", "cut point", "depth 0", "depth 1", "traced"}
        assert changed <= moved | lines | running
        assert (len(lines), "moved lines" in changed) == (1, True)
        assert 2 <= len(running) <= 4


@pytest.mark.parametrize("away", range(5))
def test_every_word_of_the_strip_is_read_at_each_step(away: int) -> None:
    station = after(begun(), *[Move(away=-1)] * away)
    wide = 0
    for _ in range(28):
        station = station.after(FINER)
        said = strip_words(station, CALM)
        assert said.numbers
        words, shown = (*said.first, *said.aside), read(station).replace("  ·  ", " ")
        assert shown == " ".join(words)
        wide += "degrees" in shown
    assert wide or away


def test_a_number_that_is_typed_moves_no_more_than_one_that_is_stepped() -> None:
    stepped = after(begun(), FINER, FINER)
    answered = after(begun(), FINER, Accept())
    assert answered.question is not None
    emptied = after(answered, *[Undo()] * len(answered.question.text))
    assert layers(typed(emptied, "8 1/8 in").after(Accept())) == layers(stepped)


def test_all_is_laid_anew_once_something_else_is_done() -> None:
    stepped = after(begun(), FINER, FINER)
    assert "moved lines" in layers(stepped)
    for action in (Move(away=-1), Show(number=2), Undo(), TakeUp()):
        pointed = stepped.after(at(stepped, SHOULDER)) if isinstance(action, TakeUp) else stepped
        other = pointed.after(action)
        assert other.notice == ""
        assert "moved lines" not in layers(after(other, Undo()) if isinstance(action, Undo) else other)
    assert "moved lines" in layers(stepped.after(Aim(at_px=(400.0, 500.0))))
    facing = after(begun(), Move(away=-1), Move(away=-1), FINER)
    assert "moved lines" in layers(facing)
    assert "moved lines" not in layers(facing.after(Move(away=-1)))


def test_words_are_as_large_as_the_piece_has_room_for_once_the_number_is_left() -> None:
    """They stay while it is stepped, or they would run about."""
    station = after(begun(), Move(away=-1), Move(away=-1))
    assert station.work.piece.name == "front facing"
    wider = after(station, *[Move(right=1)] * 16)
    assert wider.work.worded is station.work.worded
    left = wider.after(Move(away=-1))
    assert left.work.worded is left.work.piece
    small, large = (labels_of(one.work.worded, one.work.laid.placement)[0].height_in for one in (wider, left))
    assert large > 1.5 * small


def test_the_strip_gives_way_to_a_piece_that_comes_near() -> None:
    text = example("harbour overtop").read_text()
    longer = pattern_in(text.replace("changes:\n", "changes:\n  - {lengthen: 1 in}\n"), Path("longer.yaml"))
    station, seen = begun(longer), set()
    for _ in range(36):
        station = station.after(Move(right=1))
        person = station.person
        outline = shapely.Polygon(person.seen(station.work.laid.outline_in))
        strip = [layer for layer in station.scene(CALM) if layer.name.startswith(("strip ", "running "))]
        letters = np.vstack([part.points for layer in strip for part in layer.draw()])
        on_table = person.seen(station.ground.lit.projector_map.table_from_screen(letters))
        assert shapely.distance(outline, shapely.points(on_table)).min() > 0.2
        seen.add(round(float(on_table[:, 0].min())))
    assert len(seen) == 2
