"""What the strip says while pieces are laid and cut: which piece, how it lies, what to do, what the next press does."""

from typing import TYPE_CHECKING

from projector.cutting.stage import Stage
from projector.lighting.reach import overhang_words
from projector.scene import Controls
from projector.trust import trust_words
from projector.words.strip import StripWords

if TYPE_CHECKING:
    from projector.stations.cut import CutStation


def strip_words(station: "CutStation", controls: Controls) -> StripWords:
    """The strip's words for the station as it is."""
    if controls.helping:
        return StripWords(first=("the keys",), aside=("h goes back",))
    first, aside = _stage_words(station)
    doubts = ["preview, not true to size"] if controls.preview else []
    doubts += [station.notice] if station.notice else []
    doubts += station.ground.warnings[:1]  # one is enough to go and check; all are on standard error
    doubts += overhang_words(station.outline_in, station.ground.lit, station.person)
    doubts += trust_words(station.ground.alignment, station.outline_in)
    return StripWords(first=tuple(first), aside=(*doubts, *aside))


def _stage_words(station: "CutStation") -> tuple[list[str], list[str]]:
    which = [station.piece.name, *count_words(station), *lie_words(station)]
    match station.stage:
        case Stage.LAYING:
            return which, _ways_to_lay(station)
        case Stage.ASKING:
            return _question(station)
        case Stage.CUTTING:
            return ["FROZEN", *_orders(station)], _ways_on(station)


def count_words(station: "CutStation") -> list[str]:
    """How many are cut of the piece, and which of them this is."""
    cut, copy = station.piece.cut, station.copy
    if cut.count == 1:
        return [cut.words]
    return [cut.words, f"{copy.number} of {cut.count}"]


def lie_words(station: "CutStation") -> list[str]:
    """How it lies: half or full, and which hand."""
    placement, piece = station.placement, station.piece
    words = []
    if placement.opened:
        words.append("opened full")
    elif piece.fold is not None:
        words.append("half, on the fold")
    if piece.cut.mirrored:
        words.append("right, MIRRORED" if placement.mirrored else "left, not mirrored")
    else:
        words.append("MIRRORED" if placement.mirrored else "not mirrored")
    return words


def still_words(station: "CutStation") -> str:
    """What is still to be cut, beside the copy that is lit."""
    waiting = [number for number in station.copies.still_to_cut(station.shown) if number != station.shown]
    names: dict[str, int] = {}
    for number in waiting:
        name = station.work.copies[number].piece
        names[name] = names.get(name, 0) + 1
    said = ", ".join(name if many == 1 else f"{many} {name}" for name, many in names.items())
    return f"then {said}" if said else ""


def _ways_to_lay(station: "CutStation") -> list[str]:
    last = station.shown + 1 == len(station.work.copies)
    if station.work.begun:
        on = "page down: freeze and go on cutting"
    elif last:
        on = "page down: begin cutting"
    else:
        on = f"page down: {station.work.copies[station.shown + 1].piece}"
    return [_which_of_all(station), on, *station.tool.words(station), "h: keys"]


def _which_of_all(station: "CutStation") -> str:
    return f"{station.shown + 1} of {len(station.work.copies)}"


def _orders(station: "CutStation") -> list[str]:
    step, which = station.step, [station.piece.name, *count_words(station)[1:], *lie_words(station)]
    if step is None and not station.copies.still_to_cut(station.shown):
        return ["ALL IS CUT", *which]
    return [*which, "done" if step is None else step.does]


def _ways_on(station: "CutStation") -> list[str]:
    step, done = station.step, len(station.work.copies) - len(station.copies.still_to_cut(station.shown))
    words = [f"{done} of {len(station.work.copies)} cut"]
    if step is not None:
        words.append(f"page down: {step.done}{_after(station)}")
    elif station.copies.still_to_cut(station.shown):
        words.append("page down: back to where the work stands")
    still = still_words(station)
    return [*words, *([still] if still else []), "f frees it"]


def _after(station: "CutStation") -> str:
    """What comes once the last step at the copy is done."""
    return ", lift it" if len(station.copies.steps_left(station.shown)) == 1 else ""


def _question(station: "CutStation") -> tuple[list[str], list[str]]:
    copies, left = len(station.work.copies), len(station.copies.still_to_cut(station.shown))
    if not left:
        return ["everything is cut"], ["page down: begin anew, nothing ticked off", "q leaves"]
    first = ["does the cloth lie where it lay?", station.piece.name, *lie_words(station)]
    aside = [f"{copies - left} of {copies} cut", "page down: it lies so, go on", "f: it has moved, lay anew"]
    return first, aside
