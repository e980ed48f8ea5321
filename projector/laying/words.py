"""What the strip says of a lay: how to fold, which piece this is and how it lies, which rule is broken."""

import re
import textwrap
from typing import TYPE_CHECKING, Final

from patterns.laying.folding import FOLD_WORDS
from patterns.laying.recipe import LAID_OUT, MEASURED, SQUARED, lay_recipe, lies_words
from patterns.laying.report import used_words
from patterns.measures import TAPE_PARTS
from projector.cloth.laid_pieces import COARSE_DEG, FINE_DEG
from projector.laying.tool import Tool
from projector.laying.work import edge_of, step_in
from projector.lighting.reach import overhang_words
from projector.scene import Controls
from projector.trust import trust_words
from projector.words.strip_rows import StripWords

if TYPE_CHECKING:
    from projector.stations.lay import LayStation

KNOWN: Final = (SQUARED, LAID_OUT)  # of how to fold, what the lines on the table say without words
CLAUSES: Final = re.compile(r"[,;] |\.(?: |$)")
PHRASE: Final = 80  # letters of a sentence in one phrase of the strip
FINELY: Final = 2 * TAPE_PARTS


def strip_words(station: "LayStation", controls: Controls) -> StripWords:
    """The strip's words for the station as it is."""
    if controls.helping:
        return StripWords(first=("the keys",), aside=("h goes back",))
    ground, person = station.ground, station.person
    first = _fold_words(station) if station.page.piece is None else _piece_words(station, station.page.piece)
    aside = ["preview, not true to size"] if controls.preview else []
    aside += _phrases(station.notice)
    aside += [phrase for broken in station.broken[:1] for phrase in _phrases(f"NOT SO: {broken}")]
    aside += ground.warnings[:1]
    aside += overhang_words(station.outline_in, ground.lit, person, ground.say.unit)
    aside += trust_words(ground.alignment, station.outline_in, ground.say.unit)
    if controls.frozen:
        return StripWords(first=("FROZEN", *first), aside=(*aside, "f frees it"))
    return StripWords(first=tuple(first), aside=(*aside, *_ways(station), "h: keys"))


def _fold_words(station: "LayStation") -> list[str]:
    lay, stage = station.work.lay, station.page.stage
    stages = {one.stage: number for number, one in enumerate(lay.placed)}
    recipe = lay_recipe(lay, station.ground.say)[sorted(stages).index(stage)]
    head = FOLD_WORDS[lay.folding.fold] if stage == 1 else "fold anew"
    how = [step for step in recipe.fold if step not in KNOWN and not step.startswith(MEASURED)]
    return [head, *(part for step in how for part in CLAUSES.split(step) if part and not part.endswith(head))]


def _piece_words(station: "LayStation", number: int) -> list[str]:
    lay = station.work.lay
    one = lay.placed[number]
    return [f"{number + 1} of {len(lay.placed)}", one.piece.name, *lies_words(one, station.ground.say)]


def _ways(station: "LayStation") -> list[str]:
    say, shown, pages = station.ground.say, station.shown, station.work.pages
    lay = station.work.lay
    used = used_words(lay, say)
    following = pages[(shown + 1) % len(pages)].piece
    on = "how to fold" if following is None else lay.placed[following].piece.name
    if station.tool is Tool.MARKS:
        edge = edge_of(lay, station.page.stage)[1]
        far = "squared end" if not station.marks_in else "far end"
        return [
            f"cross on {edge}, at the {far}, enter: mark {len(station.marks_in) + 1}",
            *station.cross.words,
        ]
    steps = f"{station.tool.value}: steps {say(step_in(say.unit, fine=station.fine), FINELY)}"
    turned = "" if station.tool is Tool.PIECE else f", {FINE_DEG if station.fine else COARSE_DEG:g}°"
    return [used, f"{steps}{turned}", f"page down: {on}"]


def _phrases(sentence: str) -> list[str]:
    return textwrap.wrap(sentence, PHRASE)
