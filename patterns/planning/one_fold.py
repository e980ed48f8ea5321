"""The search for a lay on one folding: what it looks for, and what it found as a lay."""

from collections.abc import Iterator, Sequence
from dataclasses import replace
from enum import Enum
from typing import Final

from patterns.cutting.drafted import DraftedPiece
from patterns.laying.buying import bought_length_in, on_table_in, whole_cloth
from patterns.laying.cloth import Repeat
from patterns.laying.folding import Fold, Folding
from patterns.laying.lay import Lay, Terms
from patterns.laying.remnant import largest_on_lattice
from patterns.laying.rules import violations
from patterns.planning.clashes import Outlines
from patterns.planning.packing import packed
from patterns.planning.search import Found, Score, Search
from patterns.planning.sliding import Slides, Spot
from patterns.planning.ways import Job, Ways

_NO_MORE_IN: Final = 1e-6  # what rounding may reach beyond the end of the cloth
_REMNANT_CELL_IN: Final = 1 / 2  # coarse: it only tells lays of one length apart


class Prefer(Enum):
    """What a lay saves first.

    LENGTH: what is bought, in steps as it is sold, then what stays whole. REMNANT: cloth that is neither piece nor
    whole remnant. USED: the length up to the last cut, however little, as of cloth that is there already.
    """

    LENGTH = "length"
    REMNANT = "remnant"
    USED = "used"


def is_too_long(score: Score) -> bool:
    """Whether a lay of that score reaches beyond the end of the cloth."""
    return score[0] > 0


class OneFold:
    """The search on one folding; `search` goes on for as long as it is asked."""

    def __init__(
        self,
        folding: Folding,
        pieces: Sequence[DraftedPiece],
        terms: Terms,
        prefer: Prefer,
        outlines: Outlines,
        seed: int,
    ) -> None:
        self._folding, self._pieces, self._terms, self._prefer = folding, tuple(pieces), terms, prefer
        ways = Ways(folding=folding, terms=terms, outlines=outlines)
        jobs = [job for piece in pieces for job in ways.jobs(piece)]
        self._jobs = _in_two_stages(jobs) if folding.fold is Fold.REFOLDED else jobs
        self._slides = Slides(folding.cloth, outlines)
        self.search = Search(self._jobs, self._slides, self._score, seed)

    @property
    def impossible(self) -> tuple[DraftedPiece, ...]:
        """The pieces that this folding has no way for."""
        return tuple(dict.fromkeys(job.piece for job in self._jobs if not job.ways))

    def lay(self, spots: Sequence[Spot]) -> Lay:
        """The spots as a lay, in the order of cutting: what needs no refolding first, large before small."""
        placed = sorted((spot.laid for spot in spots), key=lambda one: (one.stage, -one.piece.area_in2))
        folding = self._folding
        if folding.fold is Fold.CROSSWISE:
            folding = replace(folding, far_in=self._layer_in(max(spot.top_in for spot in spots)))
            line = folding.fold_lines[0]
            placed = [replace(one, fold_line=line) for one in placed]
        return Lay(folding=folding, placed=tuple(placed), terms=self._terms, pieces=self._pieces)

    def _layer_in(self, far_end_in: float) -> float:
        """Where a crosswise fold lies: half a gap beyond the pieces, since what mirrors them is beyond it."""
        return far_end_in + self._terms.gap_in / 2

    def packings(self, seconds: int, seed: int) -> Iterator[Found | None]:
        """What the packing engine finds within the seconds, as far as it keeps the rules; None while nothing new.

        Only in a single layer without flaws or a repeat, of which the engine knows nothing.
        """
        cloth = self._folding.cloth
        if self._folding.fold is not Fold.SINGLE or cloth.flaws or cloth.repeat != Repeat():
            return
        for spots in packed(self._jobs, cloth.usable_in, self._terms.gap_in, seconds, seed):
            keeps = spots is not None and not violations(self.lay(spots))
            yield Found(spots=spots, score=self._score(spots)) if spots is not None and keeps else None

    def _score(self, spots: Sequence[Spot]) -> Score:
        """Less is better; what is beyond the end of the cloth comes first."""
        used = max(spot.top_in for spot in spots)
        if self._folding.fold is Fold.CROSSWISE:
            used = 2 * self._layer_in(used)
        cloth, sold_by = self._folding.cloth, self._terms.sold_by
        beyond = (
            0.0
            if cloth.length_in is None or used <= cloth.length_in + _NO_MORE_IN
            else used - cloth.length_in
        )
        if beyond or self._prefer is Prefer.USED:
            return beyond, used
        bought = bought_length_in(used, cloth, sold_by) if cloth.length_in is None else cloth.length_in
        best = self.search.best
        if self._prefer is Prefer.LENGTH and best is not None and bought > best.score[1]:
            return 0.0, bought, 0.0, used
        table = whole_cloth(cloth, on_table_in(used, cloth, sold_by))
        whole = 0.0
        if self._folding.fold is not Fold.CROSSWISE:
            whole = largest_on_lattice(table, self._slides.standing(tuple(spots)), _REMNANT_CELL_IN).area_in2
        if self._prefer is Prefer.LENGTH:
            return 0.0, bought, -whole, used
        return 0.0, table.area_in2 - whole, bought, used


def _in_two_stages(jobs: Sequence[Job]) -> list[Job]:
    """The largest cut on the first fold and the smallest after it; the others may be either.

    Where all are as large there is nothing to refold for, and no job keeps a way.
    """
    largest = max((job.area_in2 for job in jobs), default=0.0)
    smallest = min((job.area_in2 for job in jobs), default=0.0)
    if largest == smallest:
        return [replace(job, ways=()) for job in jobs]
    return [
        _only(job, 1) if job.area_in2 == largest else _only(job, 2) if job.area_in2 == smallest else job
        for job in jobs
    ]


def _only(job: Job, stage: int) -> Job:
    """The job with only the ways that are wholly of that stage."""
    ways = tuple(
        tuple(tuple(option for option in laying if option.laid.stage == stage) for laying in way)
        for way in job.ways
    )
    return replace(job, ways=tuple(way for way in ways if all(way)))
