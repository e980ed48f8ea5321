"""The lay plan as files to print: SVG at its scale, and PNG."""

from collections.abc import Iterator
from datetime import date
from pathlib import Path
from typing import Final

from patterns.cutting.drafted import DraftedPattern
from patterns.laying.buying import Buying, on_table_in
from patterns.laying.folding import FOLD_WORDS
from patterns.laying.lay import Lay
from patterns.laying.recipe import lay_recipe
from patterns.laying.report import cloth_lines
from patterns.paper.lay_plan import Block, LayPlan, lay_plan
from patterns.paper.page import page_svg
from patterns.saying import Say
from projector.outputs import made_folder, write_picture, write_text
from projector.pictures.page_picture import page_pixels

STEM: Final = "lay"


def write_lay_pictures(folder: Path, plan: LayPlan, scale: int | None) -> tuple[Path, ...]:
    """Write them; the files. ProjectorError where the folder cannot be made."""
    made_folder(folder)
    page = lay_plan(plan, scale)
    svg, png = folder / f"{STEM}.svg", folder / f"{STEM}.png"
    write_text(svg, page_svg(page))
    write_picture(png, page_pixels(page))
    return svg, png


def plan_of(
    pattern: DraftedPattern,
    version: str | None,
    lay: Lay,
    say: Say,
    scarf_in: tuple[float, float] | None = None,
    on: date | None = None,
) -> LayPlan:
    """All that the page says of a lay, dated `on` a day, today by default."""
    on = on or date.today()
    buying = Buying.of(lay)
    remnant = buying.remnant
    facts = (version, f"cloth {say(lay.cloth.bought_width_in)} wide, {FOLD_WORDS[lay.folding.fold]}")
    dated = (*facts, f"{on.day} {on:%B %Y}")
    return LayPlan(
        title=pattern.name,
        subtitle=" \N{MIDDLE DOT} ".join(fact for fact in dated if fact),
        lay=lay,
        length_in=on_table_in(lay.used_in, lay.cloth, lay.terms.sold_by),
        buy=buying.words,
        remnant_in=(remnant.left_in, remnant.bottom_in, remnant.right_in, remnant.top_in)
        if remnant.area_in2 > 0
        else None,
        blocks=(
            Block(heading="Cloth", says=tuple(cloth_lines(pattern, lay, buying, say, scarf_in))),
            *_blocks(lay, say),
        ),
        say=say,
    )


def _blocks(lay: Lay, say: Say) -> Iterator[Block]:
    for stage in lay_recipe(lay, say):
        yield Block(heading="Fold", says=stage.fold, first=1)
        yield Block(heading="Cut, in this order", says=stage.cut, first=stage.first)
