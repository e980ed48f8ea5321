"""The seams of the garment itself, step by step, as the finish has them."""

import math
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import replace
from itertools import pairwise
from types import MappingProxyType
from typing import Final

import numpy as np

from patterns.changes import EdgeRef
from patterns.changes.facings import JOINING_IN
from patterns.changes.truings import TRUABLE_IN
from patterns.checks.joins import TRUE_IN, JoinReport
from patterns.cutting.drafted import DraftedEdge, DraftedPiece
from patterns.cutting.finish import SeamFinish
from patterns.sewing.garment import Garment, Turn
from patterns.sewing.step import Step, listed
from patterns.shape import signed_area

EASED_PART: Final = 1 / 4  # of an edge's length: more would be gathers (common practice)
CURVES_IN_RAD: Final = math.radians(
    40
)  # a seam that turns in by more strains its allowance (common practice)
COUNTED: Final[Mapping[int, str]] = MappingProxyType({1: "single", 2: "double", 3: "triple"})
IN_ONE: Final = "Pin this and the next one, and sew both in one."
_RAW: Final[Mapping[SeamFinish, str]] = MappingProxyType(
    {
        SeamFinish.OVERLOCKED: "Overlock the raw edges together, and press.",
        SeamFinish.OVERCAST: "Overcast the raw edges together with a zigzag stitch, and press.",
    }
)


def seam_steps(garment: Garment) -> Iterator[Step]:
    """A collar's own, those at the neck, down the centre, the others, and last those that go round."""
    seams, titles = garment.seams, [_title(garment, report) for report in garment.seams]
    made = [
        _seam_step(garment, one, _alone(title, titles, one)) for one, title in zip(seams, titles, strict=True)
    ]
    for number, (one, following) in enumerate(pairwise(seams)):
        if _goes_on(garment, one, following):
            made[number] = replace(made[number], says=(IN_ONE, *made[number].says))
    steps = [(garment.turn_of(report), step) for report, step in zip(seams, made, strict=True)]
    centre = [(garment.goes_round(ref), _centre_step(garment, ref)) for ref in garment.centre_seams]
    yield from (step for turn, step in steps if turn <= Turn.FROM_NECK)
    yield from (step for late, step in centre if not late)
    yield from (step for turn, step in steps if Turn.FROM_NECK < turn < Turn.ROUND)
    yield from (step for late, step in centre if late)
    yield from (step for turn, step in steps if turn is Turn.ROUND)


def _goes_on(garment: Garment, one: JoinReport, following: JoinReport) -> bool:
    """Whether a seam that goes round runs on into the following one along the same piece, as round a sleeve's cap."""
    turn = garment.turn_of(one)
    if turn not in (Turn.COLLAR_ON, Turn.ROUND) or garment.turn_of(following) is not turn:
        return False
    ends, others = ((report.join.first, report.join.second) for report in (one, following))
    return any(
        ref.piece == other.piece and other.edge in garment.beside(ref) for ref in ends for other in others
    )


def _title(garment: Garment, report: JoinReport) -> str:
    one, two = report.join.first, report.join.second
    if one.edge == two.edge:
        return f"Sew the {one.edge}"
    if one.piece == two.piece:
        return f"Sew the {one.edge} to {two.edge}"
    return f"Sew the {one.piece}'s {one.edge} to the {two.piece}'s {two.edge}"


def _alone(title: str, titles: list[str], report: JoinReport) -> str:
    """The title, with its pieces where another seam is called so too."""
    if titles.count(title) == 1:
        return title
    return f"{title}, {report.join.first.piece} to {report.join.second.piece}"


def _seam_step(garment: Garment, report: JoinReport, title: str) -> Step:
    one, two, say = report.join.first, report.join.second, garment.say
    cuts = [garment.pattern.pieces[ref.piece].cut for ref in (one, two)]
    whole = all(map(garment.is_across_fold, (one, two)))
    alike = "; left and right alike" if not whole and all(cut.on_fold or cut.mirrored for cut in cuts) else ""
    first, second = (
        say(garment.whole_in(ref) if whole else garment.edge(ref).length_in) for ref in (one, two)
    )
    caught = garment.caught_in(report)
    along = [garment.edge(ref).length_in for ref in caught]
    facing = f", and on through the opened facing, {say(along[0])} more" if len(along) > 1 else ""
    lengths = f"{one.piece} {first} on {two.piece} {second}{facing}{alike}."
    says = [
        *_notches(garment, one),
        *_caught(garment, caught),
        *_eased(garment, report),
        *(_enclosed(garment, one) if garment.turn_of(report) is Turn.COLLAR else _stitched(garment, one)),
        *_tacked(garment, caught),
    ]
    return Step(title=title, lengths=(lengths,), says=tuple(says))


def _centre_step(garment: Garment, ref: EdgeRef) -> Step:
    length = garment.say(garment.edge(ref).length_in)
    named_so = [one for one in garment.centre_seams if one.edge == ref.edge]
    return Step(
        title=f"Sew the {ref.edge}" if len(named_so) == 1 else f"Sew the {ref.piece}'s {ref.edge}",
        lengths=(f"{ref.piece} on {ref.piece}, left on right, {length} each.",),
        says=(
            *_notches(garment, ref),
            *_stitched(garment, ref),
            "Where an opening or a zip is to be, baste it there and leave the seam open.",
        ),
    )


def _notches(garment: Garment, ref: EdgeRef) -> Iterator[str]:
    counts = [notch.count for notch in garment.pattern.pieces[ref.piece].notches if notch.edge == ref.edge]
    if counts:
        kinds = listed(f"{COUNTED.get(count, count)}" for count in counts)
        yield f"Pin the ends and the {kinds} {'notch' if len(counts) == 1 else 'notches'} first."


def _caught(garment: Garment, caught: Sequence[EdgeRef]) -> Iterator[str]:
    """A facing beside a neck that has none ends in the seam; two of them are sewn to one another."""
    if len(caught) == 1:
        length = garment.say(garment.edge(caught[0]).length_in)
        yield f"Fold the {caught[0].piece} back over the end at the neck, and catch its {length} in the seam."


def _tacked(garment: Garment, caught: Sequence[EdgeRef]) -> Iterator[str]:
    """What keeps facings in once the seam through them is sewn."""
    if len(caught) > 1:
        yield "Turn the facing in again, press, and catch it by hand to the allowance of this seam."


def _eased(garment: Garment, report: JoinReport) -> Iterator[str]:
    apart = report.difference_in
    if abs(apart) > EASED_PART * min(report.first_in, report.second_in):
        yield f"They differ by {garment.say(abs(apart))}, more than can be eased: look at the pattern first."
    elif abs(apart) > TRUE_IN:
        longer = report.join.first if apart > 0 else report.join.second
        yield (
            f"The {longer.piece}'s {longer.edge} is {garment.say(abs(apart))} longer: "
            "ease it in evenly, without tucks."
        )
        if report.join.ease is None and abs(apart) > TRUABLE_IN:
            yield "The pattern does not say that this ease is meant: look at it first."


def _stitched(garment: Garment, ref: EdgeRef) -> Iterator[str]:
    """How that edge is sewn to its other."""
    piece, edge = garment.pattern.pieces[ref.piece], garment.edge(ref)
    curves = curves_in_rad(piece, edge) > CURVES_IN_RAD and not garment.goes_round(ref)
    if garment.finish.seam is SeamFinish.FRENCH:
        yield from french_seam(garment, edge.allowance_in, curves)
        return
    yield right_sides_together(garment, edge.allowance_in)
    if curves:
        yield "Where it curves in, clip the allowance to just short of the stitches, so that it lies flat."
    yield raw_edges_finished(garment, edge.length_in)


def _enclosed(garment: Garment, ref: EdgeRef) -> Iterator[str]:
    """How an edge of a collar is sewn to that of its under side: whatever finishes the others, this one is turned."""
    yield right_sides_together(garment, garment.edge(ref).allowance_in)
    yield (
        "Trim the allowance to half, and clip its curves; when all round is sewn, cut off the corners, turn it right "
        "side out, and press."
    )


def right_sides_together(garment: Garment, allowance_in: float) -> str:
    """Where a plain seam is stitched; or that it cannot be."""
    if not allowance_in:
        return (
            "It is cut on the seam line, with nothing to sew it by: give it an allowance, and cut it again."
        )
    return f"Right sides together, {garment.say.allowance(allowance_in)} from the edge."


def raw_edges_finished(garment: Garment, length_in: float) -> str:
    """How the raw edges of a plain seam of that length are finished."""
    say, finish = garment.say, garment.finish.seam
    if finish is SeamFinish.BOUND:
        strip = f"{say(garment.gauge.strip.inches)} wide and {say(length_in + JOINING_IN)} long"
        return f"Bind the raw edges with a strip of bias cloth, {strip}, and press."
    return _RAW[finish]


def french_seam(garment: Garment, allowance_in: float, curves: bool) -> Iterator[str]:
    """Both seams of a french seam, the second where the seam line is drawn."""
    say, first_in = garment.say.allowance, garment.gauge.fold.inches
    if allowance_in < 2 * first_in:
        yield f"{say(allowance_in)} is too little for a french seam: cut it with {say(2 * first_in)} or more."
        return
    yield (
        f"Wrong sides together first, {say(first_in)} from the edge; trim to {say(garment.gauge.trim.inches)} and "
        "press."
    )
    if curves:
        yield "Where it curves in, clip what is left to just short of the stitches before it is enclosed."
    yield (
        f"Then right sides together, {say(allowance_in - first_in)} from the fold, so that the raw edges are "
        "enclosed; press."
    )


def curves_in_rad(piece: DraftedPiece, edge: DraftedEdge) -> float:
    """How far the edge turns into its piece, where it does, in radians all told."""
    way = np.diff(edge.points, axis=0)
    turns = np.arctan2(way[:-1, 0] * way[1:, 1] - way[:-1, 1] * way[1:, 0], (way[:-1] * way[1:]).sum(axis=1))
    turns_in = -turns * (1.0 if signed_area(piece.seam_line) > 0 else -1.0)
    return float(turns_in[turns_in > 0].sum())
