"""Page down and its opposite in the frozen light: a step is done and ticked off, or was not done after all."""

from dataclasses import replace
from typing import TYPE_CHECKING

from projector.cutting.finding import slid
from projector.cutting.in_reaches import is_unlit, lit_by_pages
from projector.cutting.steps import is_slide

if TYPE_CHECKING:
    from projector.stations.cut import CutStation


def stepped(station: "CutStation") -> "CutStation":
    """The step at hand done, and on to the next; back to where the work stands where all is done here."""
    step = station.step
    if step is None:
        return station.standing()
    if is_unlit(station):
        return lit_by_pages(station)
    if is_slide(step.name):
        return slid(station, step)
    done = station.ticking(step)
    return slid(done, done.step) if step.marks and done.step is not None else done


def unticked(station: "CutStation") -> "CutStation":
    """The last step that was ticked off at the lit copy taken back."""
    ticked = station.copy.ticked
    if not ticked:
        return station.refusing("nothing is ticked off here")
    if is_slide(ticked[-1]):
        return station.refusing("the cloth was slid since: f frees the light")
    work = station.work.ticked(station.shown, ticked[:-1])
    return replace(station, work=work).showing(station.shown)
