"""What is asked of the cloth before a lay is planned, and the options of `lay` that the answers are."""

from typing import Final

from patterns.laying.lay import Lay
from patterns.measures import Unit
from projector.job.asked import LENGTH, Answers, Asked, first_of
from projector.job.found import Found
from projector.job.states import kept_lay_of
from projector.usage.lay import cloth_length, shares, width

AS_PLANNED: Final = "as planned"
TO_BUY: Final = "to be bought"
BEST: Final = "whichever is best"
NO: Final = "no"
YES: Final = "yes"
WIDTHS: Final = ("45 in", "60 in", "54 in", "112 cm", "140 cm", "150 cm")
METRIC_WIDTHS: Final = ("140 cm", "150 cm", "112 cm", "45 in", "54 in", "60 in")
LENGTHS: Final = ("1 1/2 yd", "2 yd", "3 yd", "1.5 m", "2 m", "3 m")
METRIC_LENGTHS: Final = ("1.5 m", "2 m", "3 m", "1 1/2 yd", "2 yd", "3 yd")
SHRINKS: Final = ("3 %", "5 %, 2 %")
FOLDS: Final = {
    "selvedge to selvedge": "selvedges",
    "partly": "partial",
    "from both sides": "both",
    "to the middle": "centre",
    "crosswise": "crosswise",
    "anew for the small pieces": "refolded",
    "single layer": "single",
}


def of_cloth(found: Found, answers: Answers) -> tuple[Asked, ...]:
    """How wide it is; and, where the lay that is kept will not do, all else that its planning goes by."""
    lay = kept_lay_of(found)
    metric = found.pattern is not None and found.pattern.unit is not Unit.IN
    widths, lengths = (METRIC_WIDTHS, METRIC_LENGTHS) if metric else (WIDTHS, LENGTHS)
    kept = () if lay is None else (AS_PLANNED,)
    how_wide = Asked(
        question="how wide is the cloth?", offers=(*kept, *widths), bindings=LENGTH, reads=_width
    )
    if answers[:1] == (AS_PLANNED,) or (kept and not answers):
        return (how_wide,)
    nap, shrinks = _as_last(lay)
    return (
        how_wide,
        Asked(question="how long is it?", offers=(TO_BUY, *lengths), bindings=LENGTH, reads=_length),
        Asked(question="how is it folded?", offers=(BEST, *FOLDS), closed=True),
        Asked(
            question="must all lie one way, for nap or print?", offers=first_of(nap, (NO, YES)), closed=True
        ),
        Asked(
            question="does washing shrink it, along, across?",
            offers=first_of(shrinks, (NO, *SHRINKS)),
            bindings=LENGTH,
            reads=_shrinks,
        ),
    )


def again(found: Found, answers: Answers) -> Answers:
    """The lay that was planned by those answers, once it is kept: it may have been moved since."""
    return answers if kept_lay_of(found) is None else (AS_PLANNED,)


def options(answers: Answers) -> tuple[str, ...]:
    """The answers as they are typed after `lay`; none for a lay that is kept."""
    if answers == (AS_PLANNED,):
        return ()
    how_wide, how_long, fold, one_way, shrinks = answers
    return (
        *("--width", how_wide),
        *(() if how_long == TO_BUY else ("--length", how_long)),
        *(() if fold == BEST else ("--fold", FOLDS[fold])),
        *(("--nap",) if one_way == YES else ()),
        *(() if shrinks == NO else ("--shrink", shrinks)),
    )


def _as_last(lay: Lay | None) -> tuple[str, str]:
    """What was said last of this cloth's nap and shrinkage."""
    if lay is None:
        return NO, NO
    along, across = lay.cloth.shrinkage.along, lay.cloth.shrinkage.across
    shrinks = f"{100 * along:g} %, {100 * across:g} %" if along or across else NO
    return YES if lay.cloth.has_nap else NO, shrinks


def _width(text: str) -> object:
    return text if text == AS_PLANNED else width(text)


def _length(text: str) -> object:
    return text if text == TO_BUY else cloth_length(text)


def _shrinks(text: str) -> object:
    return text if text == NO else shares(text)
