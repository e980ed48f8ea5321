"""What the strip says while pieces are laid and cut: which piece, how it lies, what to do, what the next press does."""

import re
from collections.abc import Sequence
from typing import TYPE_CHECKING, Final

from projector.cutting.crosses_tool import CrossesTool
from projector.cutting.doubt import doubt_words, doubts
from projector.cutting.edge_tool import EdgeTool
from projector.cutting.in_reaches import is_unlit
from projector.cutting.piece_words import hand_matters
from projector.cutting.reach_words import reach_words
from projector.cutting.stage import Stage
from projector.cutting.steps import CUT, Step
from projector.cutting.tools import PieceTool
from projector.lighting.reach import overhang_words
from projector.scene import Controls
from projector.trust import trust_words
from projector.words.strip_rows import StripWords

if TYPE_CHECKING:
    from projector.stations.cut import CutStation

NOT_DONE: Final = "NOT DONE: "  # begins the notice of a step that could not be kept
UNHEARD: Final = "KEYS GO TO ANOTHER WINDOW: click here"


def strip_words(station: "CutStation", controls: Controls) -> StripWords:
    """The strip's words for the station as it is."""
    if controls.helping:
        return StripWords(first=("the keys",), aside=("h goes back",))
    first, ways, progress = _stage_words(station)
    fault = [part for words in station.ground.faults[:1] for part in words.split(", ")]
    first = [*first[:1], *fault, *first[1:]] if station.frozen else [*fault, *first]
    aside = ["preview, not true to size"] if controls.preview else []
    grave = _grave(station, controls)
    if grave:
        return StripWords(first=(grave,), aside=(*aside, *first, *ways, *progress))
    aside += [station.notice] if station.notice else []
    return StripWords(first=tuple(first), aside=(*aside, *ways, *_trust(station), *progress))


def _grave(station: "CutStation", controls: Controls) -> str:
    """Why the last press, or the next, does nothing: read before all else."""
    if controls.unheard:
        return UNHEARD
    return station.notice if station.notice.startswith(NOT_DONE) else ""


def _trust(station: "CutStation") -> list[str]:
    """How far the light can be trusted under the piece, what is doubtful first."""
    ground, outline_in = station.ground, station.outline_in
    found = doubts(station.piece, station.placement, ground.lit.projector_map)
    return [
        *[warning for warning in ground.warnings if warning not in ground.faults][
            :1
        ],  # one is enough to go and check; all are on standard error
        *hand_words(station),
        *_apart(overhang_words(outline_in, ground.lit, station.person, ground.unit)),
        *(doubt_words(found, ground.unit) or trust_words(ground.alignment, outline_in, ground.unit)),
    ]


def _apart(sentences: Sequence[str]) -> list[str]:
    """Sentences in their parts, which fit narrower rows."""
    return [part for sentence in sentences for part in re.split("[:,] ", sentence)]


def _stage_words(station: "CutStation") -> tuple[list[str], list[str], list[str]]:
    """What to read first, what the next press does, and how far the work is."""
    match station.stage:
        case Stage.LAYING:
            heading = station.tool.heading(station)
            which = [
                station.piece.name,
                *([] if heading else count_words(station)),
                *lie_words(station),
                *heading,
            ]
            return which, _ways_to_lay(station), [_which_of_all(station), "h: keys"]
        case Stage.ASKING:
            return _question(station)
        case Stage.FINDING:
            return list(station.tool.heading(station)), list(station.tool.words(station)), ["h: keys"]
        case Stage.CUTTING if station.measured is not None:
            said = ["tab: on with cutting", *station.measured.words(station)]
            return ["FROZEN", *station.measured.heading(station)], said, []
        case Stage.CUTTING:
            return (
                ["FROZEN", *_orders(station)],
                _ways_on(station),
                _progress(station),
            )


def count_words(station: "CutStation") -> list[str]:
    """How many are cut of the piece, and which of them this is."""
    cut, copy = station.piece.cut, station.copy
    if cut.count == 1:
        return [cut.words]
    if copy.gives > 1:
        return [cut.words, f"{copy.gives} at once, through both layers"]
    return [cut.words, f"{copy.number} of {cut.count}"]


def lie_words(station: "CutStation") -> list[str]:
    """How it lies: half or full, and which hand."""
    placement, piece = station.placement, station.piece
    words = []
    if station.copy.gives > 1 and piece.cut.mirrored:
        return ["left and right at once", *reach_words(station)]
    if placement.opened:
        words.append("opened full")
    elif piece.fold is not None:
        words.append("half, on the fold")
    if piece.cut.mirrored:
        words.append("right, MIRRORED" if placement.mirrored else "left, not mirrored")
    elif hand_matters(station):
        words.append("MIRRORED" if placement.mirrored else "not mirrored")
    return [*words, *reach_words(station)]


def hand_words(station: "CutStation") -> list[str]:
    """That a pair is no pair as it lies, if so."""
    if not station.piece.cut.mirrored:
        return []
    copies = [copy for copy in station.work.copies if copy.piece == station.piece.name]
    right = sum(copy.gives // 2 if copy.gives > 1 else copy.gives * copy.place.mirrored for copy in copies)
    left = sum(copy.gives for copy in copies) - right
    return [] if left == right else [f"NO PAIR: {left} left, {right} right"]


def _ways_to_lay(station: "CutStation") -> list[str]:
    if isinstance(station.tool, CrossesTool) and station.tool.slides:
        on = "page down: both are marked, slide it"
    elif station.work.begun and is_unlit(station):
        on = "page down: in reaches, or slid into the light"
    elif station.work.begun:
        on = "page down: freeze, go on"
    elif station.shown == station.copies.order[-1]:
        on = "page down: begin cutting"
    else:
        on = f"page down: {station.work.copies[station.copies.beside(station.shown, 1)].piece}"
    return [*_to_the_marks(station), on, *station.tool.words(station)]


def _to_the_marks(station: "CutStation") -> list[str]:
    """That the light is brought on to the cloth by marks, until it once was."""
    if station.on_marks or station.work.begun or not isinstance(station.tool, PieceTool):
        return []
    return [f"tab: on to the cloth's {EdgeTool().edge(station).value.split()[-1]}"]


def _which_of_all(station: "CutStation") -> str:
    order = station.copies.order
    return f"{order.index(station.shown) + 1} of {len(order)}"


def _orders(station: "CutStation") -> list[str]:
    words = [word for word in lie_words(station) if word != "not mirrored"]  # on cloth that is frozen over
    step, which = station.step, [station.piece.name, *count_words(station)[1:], *words]
    if step is None and not station.copies.still_to_cut(station.shown):
        return ["ALL IS CUT", *which]
    if is_unlit(station):
        return ["NOT ALL OF IT IS LIT", *which]
    return [*which, "done" if step is None else order_words(station, step)]


def order_words(station: "CutStation", step: Step) -> str:
    """What is to be done, in the look that is seen."""
    return f"cut along {station.look.form.edge}" if step is CUT else step.does


def _ways_on(station: "CutStation") -> list[str]:
    if is_unlit(station):
        return ["page down: in reaches, or slid into the light"]
    if station.step is not None:
        last = len(station.copies.steps_left(station.shown)) == 1
        return [f"page down: {station.step.done}{', lift it' if last else ''}"]
    more = station.copies.still_to_cut(station.shown)
    return ["page down: back to where the work stands"] if more else ["q leaves"]


def _progress(station: "CutStation") -> list[str]:
    copies, waiting = len(station.copies.order), station.copies.still_to_cut(station.shown)
    done = f"{copies - len(waiting)} of {copies} done"
    following = [number for number in waiting if number != station.shown][:1]
    then = [f"{done}, then {station.work.copies[number].piece}" for number in following] or [done]
    return [*then, "f frees it"]


def _question(station: "CutStation") -> tuple[list[str], list[str], list[str]]:
    copies, left = len(station.copies.order), len(station.copies.still_to_cut(station.shown))
    if not left:
        return ["everything is cut"], ["page down: begin anew, nothing ticked off"], ["q leaves"]
    crosses = [] if station.work.crosses_in is None else ["m: it has moved, find it by its crosses"]
    changed = _apart([station.changed] if station.changed else [])
    return (
        [*changed, "does the cloth lie where it lay?", station.piece.name, *lie_words(station)],
        ["page down: it lies so, go on", *crosses, "l: it has moved, mark its fold", "f: lay anew"],
        [f"{copies - left} of {copies} done"],
    )
