"""The search for a lay, told while it goes on, and stopped with the best so far."""

import math
import time
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from typing import Final

from patterns.cutting.drafted import DraftedPattern
from patterns.errors import PatternError
from patterns.laying.buying import Buying, bought_length_in, said_to_buy
from patterns.laying.cloth import Cloth
from patterns.laying.folding import Fold
from patterns.laying.lay import Lay, Terms
from patterns.laying.one_fold import Prefer
from patterns.laying.planning import Compared, Effort, lays
from patterns.saying import Say
from projector.progress import Progress

ENDLESS: Final = 1_000_000_000  # rounds, where a time to search is given


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Wanted:
    """What is to be laid on what, and how; `seconds` is how long to search for each fold, None for the usual effort."""

    pattern: DraftedPattern
    cloth: Cloth
    terms: Terms
    prefer: Prefer
    seed: int
    seconds: float | None
    say: Say


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Searched:
    """The folds in order, the best first; `stopped` when a person would wait no longer."""

    compared: tuple[Compared, ...]
    stopped: bool = False

    @property
    def best(self) -> Lay | None:
        """The lay that serves best."""
        return self.compared[0].lay if self.compared else None


def searched(wanted: Wanted, folds: Sequence[Fold], progress: Progress) -> Searched:
    """Each of the folds tried; those that give no lay come last with the reason. An interrupt keeps what there is."""
    compared: list[Compared] = []
    stopped = False
    for fold in folds:
        progress.of(f"{fold.value} fold" if fold is not Fold.SINGLE else "single layer")
        best: Lay | None = None
        try:
            for lay in _told(wanted, fold, progress):
                best = lay
        except PatternError as error:
            compared.append(Compared(fold=fold, why_not=error))
            continue
        except KeyboardInterrupt:
            stopped = True
        if best is not None:
            compared.append(Compared(fold=fold, lay=best))
        if stopped:
            break
    if stopped and not any(one.lay for one in compared):
        raise KeyboardInterrupt
    return Searched(compared=ranked(compared, wanted.prefer), stopped=stopped)


def ranked(compared: Sequence[Compared], prefer: Prefer) -> tuple[Compared, ...]:
    """The best first, by what is bought and then by what stays whole, or as preferred; those without a lay last."""
    return tuple(sorted(compared, key=lambda one: _rank(one, prefer)))


def _rank(one: Compared, prefer: Prefer) -> tuple[float, ...]:
    if one.lay is None:
        return (math.inf,)
    buying = Buying.of(one.lay)
    whole_in2 = round(buying.remnant.area_in2)
    lost_in2 = round(buying.length_in * one.lay.cloth.bought_width_in) - whole_in2
    bought_in = round(buying.length_in, 3)
    first = (bought_in, -whole_in2) if prefer is Prefer.LENGTH else (lost_in2, bought_in)
    return (*first, one.lay.used_in)


def _told(wanted: Wanted, fold: Fold, progress: Progress) -> Iterator[Lay]:
    """The best so far, over and over, each better one told, until the time is over."""
    effort = Effort(seed=wanted.seed)
    if wanted.seconds is not None:
        effort = replace(effort, rounds=ENDLESS)
    end = None if wanted.seconds is None else time.monotonic() + wanted.seconds
    told: Lay | None = None
    for lay in lays(
        wanted.pattern, wanted.cloth, fold, terms=wanted.terms, prefer=wanted.prefer, effort=effort
    ):
        if lay is not told:
            bought_in = bought_length_in(lay.used_in, wanted.cloth, wanted.terms.sold_by)
            bought = said_to_buy(bought_in, wanted.terms.sold_by)
            progress(f"{bought} to buy so far, {wanted.say(lay.used_in)} used")
            told = lay
        yield lay
        if end is not None and time.monotonic() >= end:
            return
