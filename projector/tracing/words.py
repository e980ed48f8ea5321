"""What the strip says while a garment is traced: what is set, what comes next, and live lengths."""

import math
from typing import TYPE_CHECKING

from patterns.parts import Kind
from patterns.saying import Say
from patterns.tracing.hand_trace import HandTrace, Way
from patterns.tracing.laid_piece import LaidPiece
from projector.scene import Controls
from projector.trust import trust_words
from projector.words.strip_rows import StripWords

if TYPE_CHECKING:
    from projector.stations.trace import TraceStation


def trace_words(station: "TraceStation", controls: Controls) -> StripWords:
    """The strip's words for the station as it is."""
    if controls.helping:
        return StripWords(first=("the keys",), aside=("h goes back",))
    if controls.frozen:
        return StripWords(first=("FROZEN", station.ground.piece), aside=("f frees it",))
    work = station.shown
    aside = ["preview, not true to size"] if controls.preview else []
    aside += [station.notice] if station.notice else []
    if station.question is not None:
        return StripWords(first=(station.question.words,), aside=(*aside, *_ways_to_answer(station)))
    if station.held is not None:
        first, ways = _in_hand(station, work)
    elif isinstance(work, LaidPiece):
        first, ways = _pulling(station, work)
    elif work.closed:
        first, ways = _closed(station, work)
    else:
        first, ways = _growing(station, work)
    aside += station.ground.warnings[:1]
    aside += [*ways, *station.cross.words, "h shows the keys"]
    return StripWords(first=tuple(first), aside=tuple(aside), running=tuple(first))


def _growing(station: "TraceStation", work: HandTrace) -> tuple[list[str], list[str]]:
    say = Say(station.ground.unit)
    if not work.has_fold:
        end = "bottom" if work.fold else "top"
        return [f"cross on the fold's {end}, then enter"], ["the fold is the folded centre of the garment"]
    corners = sum(point.way is Way.CORNER for point in work.points)
    fold = f"fold {say(math.dist(*work.fold))}"
    if not work.points:
        first = ["now round from the fold's top"]
    else:
        open_edge = work.points[-1].way is Way.CURVE
        so_far = work.edges[-1].length_in if open_edge else 0.0
        on = math.dist(work.points[-1].at_in, station.cross.at_in)
        first = [f"edge {corners + 1}: {say(so_far + on)}"]
        if work.edges[:corners]:
            first.append(f"edge {corners} was {say(work.edges[corners - 1].length_in)}")
    ways = ["enter: corner", "c: curve point", "backspace undoes"]
    ways += ["d closes the outline"] if corners > 1 else []
    return first, [fold, *ways]


def _closed(station: "TraceStation", work: HandTrace) -> tuple[list[str], list[str]]:
    say = Say(station.ground.unit)
    near = station.near or 0
    first = ["are the names right?", f"{work.said(near)}: {say(work.length_in(near))}"]
    return first, [f"d writes {station.ground.file}", "n names the nearest edge", "p picks up a point"]


def _pulling(station: "TraceStation", work: LaidPiece) -> tuple[list[str], list[str]]:
    say = Say(station.ground.unit)
    near = station.near or 0
    fold = next((curve.length_in for curve, edge in zip(work.curves, work.piece.edges, strict=True)
                 if edge.kind is Kind.FOLD), None)  # fmt: skip
    first = [work.piece.name, f"{work.said(near)}: {say(work.length_in(near))}"]
    lengths = [] if fold is None else [f"fold {say(fold)}"]
    trust = trust_words(station.ground.alignment, work.places_in, station.ground.unit)
    ways = ["p picks up a point", "m smooths, r straightens, e moves the edge", "d: done"]
    return first, [*lengths, *trust, *ways]


def _in_hand(station: "TraceStation", work: HandTrace | LaidPiece) -> tuple[list[str], list[str]]:
    """The point in hand, the lengths of the edges that it changes, and what can be done with it."""
    say = Say(station.ground.unit)
    what, edges = work.at_point(station.held or 0)
    lengths = [f"{work.said(i)}: {say(work.length_in(i))}" for i in edges]
    turns = ["k: corner or curve"] if isinstance(work, HandTrace) else []
    return [f"{what} in hand", *lengths], ["enter leaves it here", "x takes it away", *turns]


def _ways_to_answer(station: "TraceStation") -> list[str]:
    question = station.question
    offers = ["tab: usual names"] if question is not None and question.offers else ["- before it moves it in"]
    return [*offers, "enter: that is it", "escape leaves it as it was", "F1 shows the keys"]
