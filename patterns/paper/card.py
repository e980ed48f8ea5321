"""The sewing card: the steps for one garment in order, with its own drafted lengths.

The advice is common practice for light, slippery cloth; the lengths are the pattern's, so that an edge that has
stretched is caught with a tape before it is sewn.
"""

from collections.abc import Iterator
from typing import Final

from patterns.cutting.drafted import DraftedPattern, DraftedPiece
from patterns.cutting.finish import Finish
from patterns.measures import Unit, in_words
from patterns.parts import Kind
from patterns.sewing.edges import bare_edges, hems, raw_edges
from patterns.sewing.facings import facing_step
from patterns.sewing.garment import Garment
from patterns.sewing.seams import seam_steps
from patterns.sewing.step import Step, listed
from patterns.sewing.strips import strip_step

CAUTIONS: Final = (
    "Close the rotary blade after each cut, and cut away from the hand.",
    "Iron on a scrap first; pins out before the needle and before the iron.",
    "Do not look into the projector's lens; blank the light when you lean over the table.",
)
STITCH_MM: Final = 3.0  # for thin cloth (common practice)
DURABLE_MM: Final = (2.5, 2.0)  # holds longer, and cannot be unpicked (common practice)
MM_IN_AN_INCH: Final = 25.4
MOST_TAPED: Final = 5  # pieces in one step


def card(pattern: DraftedPattern, finish: Finish | None = None) -> tuple[Step, ...]:
    """The steps, from threading the machine to the last hem; without a finish, an overlocked garment's."""
    return tuple(_steps(Garment(pattern=pattern, finish=finish or Finish())))


def stitches_per_inch(stitch_mm: float) -> float:
    """How many stitches of that length go to an inch."""
    return MM_IN_AN_INCH / stitch_mm


def _steps(garment: Garment) -> Iterator[Step]:
    yield Step(title="Set the machine", says=tuple(_machine(garment)))
    yield from _taped(garment)
    yield from raw_edges(garment)
    yield from (facing_step(garment, report) for report in garment.faced)
    yield from seam_steps(garment)
    yield from (strip_step(garment, strip) for strip in garment.pattern.strips)
    yield from bare_edges(garment)
    yield from hems(garment)


def _machine(garment: Garment) -> Iterator[str]:
    longest, shortest = DURABLE_MM
    yield "Needle 60/8 to 70/10 for chiffon and voile, new and fine."
    yield f"Stitch length {STITCH_MM:.1f} mm{_counted(garment, STITCH_MM)} for thin cloth: it can be unpicked."
    yield f"{longest:.1f} to {shortest:.1f} mm{_counted(garment, *DURABLE_MM)} holds longer, and is hard to unpick."
    yield "Try on a scrap. If the seam puckers, sew over thin paper and tear it away."


def _counted(garment: Garment, *stitches_mm: float) -> str:
    """Who measures in inches may count stitches to the inch: to the half."""
    if garment.pattern.unit is not Unit.IN:
        return ""
    counts = (in_words(stitches_per_inch(one), 2).removesuffix(" in") for one in stitches_mm)
    return f", {' to '.join(counts)} to the inch,"


def _taped(garment: Garment) -> Iterator[Step]:
    """The lengths of every piece; of many, a few at a time, so that they can be read on the table."""
    pieces = list(garment.pattern.pieces.values())
    for start in range(0, len(pieces), MOST_TAPED):
        few = pieces[start : start + MOST_TAPED]
        which = "every piece" if len(few) == len(pieces) else f"the {listed(piece.name for piece in few)}"
        yield Step(
            title=f"Hold a tape against {which}",
            lengths=tuple(_lengths(garment, piece) for piece in few),
            says=(
                "Along the seam line, an allowance inside the raw edge.",
                "An edge that is longer has stretched: ease it back with steam, or cut it again.",
            ),
        )


def _lengths(garment: Garment, piece: DraftedPiece) -> str:
    told = ", ".join(
        f"{edge.name} {garment.say(edge.length_in)}"
        for edge in piece.edges.values()
        if edge.kind is not Kind.FOLD
    )
    return f"{piece.name}{', folded' if piece.cut.on_fold else ''}: {told}."
