"""What the strip and the list say while a pattern is drafted."""

from collections.abc import Iterator
from dataclasses import replace
from enum import Enum
from functools import lru_cache
from typing import TYPE_CHECKING, Final

from patterns.changes import entries_of, keys_of, told
from patterns.changes.change_list import is_on
from patterns.checks.high_point import high_point_words
from patterns.checks.truing import NECK
from patterns.errors import PatternError
from patterns.finishing import finish_words
from patterns.stepping import step_words
from projector.drafting.checks import apart_words, head_warning, neck_words, warnings
from projector.drafting.held import Grip
from projector.drafting.joined_piece import joined_words
from projector.drafting.light import v_points
from projector.drafting.list_rows import ListRow
from projector.drafting.work import DraftWork
from projector.lighting.reach import overhang_words
from projector.scene import Controls
from projector.words.strip_rows import StripWords
from projector.words.unbroken import unbroken

if TYPE_CHECKING:
    from projector.stations.draft import DraftStation

LOOK: Final = "LOOK:"
CHOSEN_LIGHT: Final = 0.7
ON_LIGHT: Final = 0.35
OFF_LIGHT: Final = 0.16
KEEPS_LIGHT: Final = 0.25
TITLE_LIGHT: Final = 0.22


class Tool(Enum):
    """What the arrow keys work on."""

    CHANGES = "the changes"
    POINTS = "the traced points"
    PIECE = "the piece"


def strip_words(station: "DraftStation", controls: Controls) -> StripWords:
    """The strip's words for the station as it is."""
    if controls.helping:
        return StripWords(first=("the keys",), aside=("h goes back",))
    work, aside = station.shown, ["preview, not true to size"] if controls.preview else []
    aside += [station.notice] if station.notice else []
    if controls.frozen:
        return StripWords(first=("FROZEN", work.piece.name), aside=(*aside, "f frees it"))
    if station.question is not None:
        return StripWords(first=(station.question.words,), aside=(*aside, *_ways_to_answer(station)))
    moving = station.held is not None or work.before is not None
    neck = neck_words(work.drafted, station.ground.wearer)
    at_hand = _in_hand(station.held.grip, work) if station.held is not None else _at_hand(work)
    first = [*at_hand, *([neck] if neck else [])]
    if station.joined is not None:
        first.insert(1, joined_words(station.joined))
    if station.notice:  # until the next key: with all the rest the letters would have to shrink
        running = tuple(first) if moving else ()
        return StripWords(first=tuple(first), aside=(*aside, "h: keys"), running=running)
    wrong = _wrong(station, work)
    aside += wrong or (["all joins match"] if work.drafted.joins else [])
    beyond = overhang_words(work.laid.outline_in, station.ground.lit, station.person, work.drafted.unit)
    aside += beyond
    ways = _ways(station)
    if (
        station.held is None
    ):  # what the light's own warnings and the last of the keys need, what is wrong takes
        ways = ways[:-1] if wrong else [*station.ground.warnings[:1], *ways]
    aside += ways
    running = (*first, *wrong, *beyond) if moving else ()
    return StripWords(first=tuple(first), aside=(*aside, "h: keys"), running=running)


@lru_cache(maxsize=8)
def list_rows(work: DraftWork) -> tuple[ListRow, ...]:
    """The changes in order; below the chosen one, what it keeps. They are the same while a point is in hand."""
    return tuple(_rows(work))


def _rows(work: DraftWork) -> Iterator[ListRow]:
    yield ListRow(text=_title(work), light=TITLE_LIGHT, indented=False)
    if finish := finish_words(work.pattern):
        yield ListRow(text=unbroken(finish), light=TITLE_LIGHT, small=True)
    for strip in work.drafted.strips:
        text = unbroken(strip.words(work.drafted.say))
        yield ListRow(text=text, light=TITLE_LIGHT, small=True)
    chosen = work.stop.number if work.stops else None
    for number, change in enumerate(work.pattern.changes):
        on = is_on(work.pattern, number, work.version)
        state = "" if on else " (off)" if change.off else " (not in this version)"
        text = unbroken(f"{told(replace(change, off=False))}{state}")
        if number != chosen:
            yield ListRow(text=text, light=ON_LIGHT if on else OFF_LIGHT)
            continue
        yield ListRow(text=f"> {text}", light=CHOSEN_LIGHT, indented=False, chosen=True)
        yield ListRow(text=f"keeps {change.keeps}", light=KEEPS_LIGHT, small=True)
    if not work.pattern.changes:
        yield ListRow(text="no changes yet: a adds one", light=ON_LIGHT)


def _title(work: DraftWork) -> str:
    """The pattern, and which version of it is drafted where it has several."""
    if not work.pattern.versions:
        return work.pattern.name
    return f"{work.pattern.name}, {f'version {work.version}' if work.version else 'all changes'}"


def _in_hand(held: Grip, work: DraftWork) -> list[str]:
    """What is in hand, with the lengths that change with it; the piece's own name stands on it, large."""
    try:
        what, edges = held.told(work.points)
    except PatternError:
        return [work.piece.name]
    say = work.drafted.say
    lengths = [f"{work.points.said(i)} {say(work.points.length_in(i))}" for i in edges]
    return [f"{what} in hand", *lengths]


def _at_hand(work: DraftWork) -> list[str]:
    """The piece, and what the keys work on, with its number."""
    points = v_points(work.piece)
    # beside the fold of a half piece they stand on the table
    words = (
        [f"V {points.words(work.drafted.say)}"] if points is not None and work.laid.placement.opened else []
    )
    if work.stops and work.stop.field:
        words.insert(0, _number(work))
    return [work.piece.name, *words]


def _number(work: DraftWork) -> str:
    """The number that is chosen, after what opens its change: "raise neck 3/4 in", "facing front, depth 2 1/2 in"."""
    (opening, opens), *_ = entries_of(work.change)
    key = next(key for key in keys_of(type(work.change)) if key.field == work.stop.field)
    if key.name == opening:
        return f"{opening} {work.length.words}"
    return f"{opening} {' and '.join(opens)}, {key.name} {work.length.words}"


def _wrong(station: "DraftStation", work: DraftWork) -> list[str]:
    """What is wrong, the gravest first; while a point is in hand, in few words, or they would never stand still."""
    wearer = station.ground.wearer
    if station.held is not None:
        apart = [*apart_words(work.drafted)] or _high_point(work, station.held.grip)
        return [f"{LOOK} {apart[0]}", *apart[1:]] if apart else []
    found = warnings(work.drafted, wearer)
    if not found:
        return []
    gravest = found[0]
    if gravest == head_warning(work.drafted, wearer):  # its verdict stands in the row above
        gravest = gravest.split(": ", 1)[1]
    more = [f"and {len(found) - 1} more to look at"] if len(found) > 1 else []
    return [f"{LOOK} {gravest}", *more]


def _high_point(work: DraftWork, held: Grip) -> list[str]:
    """Where the neck ends, while an end of it is in hand."""
    edges = held.told(work.points)[1]
    words = high_point_words(work.piece, work.drafted.say)
    return [words] if words and NECK in map(work.points.said, edges) else []


def _ways(station: "DraftStation") -> list[str]:
    if station.held is not None:
        return ["enter leaves it here", "u puts it back"]
    if station.tool is Tool.POINTS:
        return [*station.cross.words, "enter takes a point", "tab: the piece"]
    if station.tool is Tool.PIECE:
        return ["arrows move the piece", "tab: the changes"]
    unit = (
        station.work.length.own_unit
        if station.work.stops and station.work.stop.field
        else station.work.pattern.unit
    )
    return [f"steps {step_words(unit, fine=station.cross.fine)}", "tab: the points"]


def _ways_to_answer(station: "DraftStation") -> list[str]:
    offers = station.question.offers if station.question is not None else ()
    return [*(["tab: another change"] if offers else []), "enter: that is it", "escape leaves it", "F1: keys"]
