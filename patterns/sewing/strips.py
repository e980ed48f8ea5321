"""How the strips are sewn on: bindings, which wrap an edge, and bands, which are joined to one."""

import math
from collections.abc import Iterator
from itertools import pairwise
from typing import Final

import numpy as np

from patterns.changes import EdgeRef, Strip
from patterns.curves import Array
from patterns.cutting.clips import CLIP_SHORT_IN, CLIP_TURN_RAD
from patterns.cutting.finish import SeamFinish
from patterns.parts import Kind
from patterns.sewing.garment import Garment
from patterns.sewing.rings import rings_of
from patterns.sewing.seams import french_seam, raw_edges_finished, right_sides_together
from patterns.sewing.step import Step
from patterns.shape import signed_area

SLACK_IN: Final = 1 / 32  # so that what a join takes is said as enough, to the next mark of a tape


def strip_step(garment: Garment, strip: Strip) -> Step:
    """A strip along edges that are joined by now: bare ones are wrapped by it, others sewn to it."""
    title = f"Sew on the {strip.name.replace('/', ' ')}"
    says = _wrapped(garment, strip) if strip.wraps_in else _joined_on(garment, strip)
    return Step(title=title, lengths=(_cut(garment, strip),), says=tuple(says))


def _cut(garment: Garment, strip: Strip) -> str:
    them = "it" if strip.count == 1 else f"{strip.count}"
    size = f"{garment.say(strip.width_in)} wide and {garment.say(strip.length_in)} long"
    if strip.wraps_in:
        join = garment.say(2 * math.sqrt(2) * garment.gauge.fold.inches + SLACK_IN)
        return (
            f"Cut {them} on the bias, {size}; where the cloth is too short for that, join it from pieces on the grain, "
            f"with {join} more for each join."
        )
    if _closes(garment, strip):
        return f"Cut {them} {size}, and close {'it' if strip.count == 1 else 'each'} to a ring."
    return f"Cut {them} {size}."


def _joined_on(garment: Garment, strip: Strip) -> Iterator[str]:
    """A band, right sides together."""
    yield (
        f"So wide it is of lace, which has an edge of its own; of cloth cut it {garment.say(2 * strip.width_in)} wide "
        "and fold it in half lengthwise."
    )
    if not _closes(garment, strip):
        yield f"Turn in {garment.say(strip.joining_in / 2)} at either end of it first, and press."
    allowance_in = max(garment.edge(ref).allowance_in for ref in strip.edges)
    if garment.finish.seam is SeamFinish.FRENCH:
        yield from french_seam(garment, allowance_in, curves=False)
        return
    yield right_sides_together(garment, allowance_in)
    yield raw_edges_finished(garment, strip.length_in)


def _wrapped(garment: Garment, strip: Strip) -> Iterator[str]:
    """A binding: stitched on along the raw edge, then brought over it."""
    wide, half = garment.say(strip.wraps_in), garment.say(strip.joining_in / 2)
    if strip.doubled:
        yield "Fold it in half lengthwise, wrong sides together, and press; from now on it is one strip."
    yield (
        f"Right sides together, {'its raw edges' if strip.doubled else 'one edge of it'} along the raw edge; stitch "
        f"{wide} from there, stretching the strip a little where the edge curves in."
    )
    yield from _at_corners(garment, strip)
    if _closes(garment, strip):
        yield (
            f"Begin beside a seam and leave a hand's width free at either end; sew the ends together, {half} from "
            "each, and then stitch on what was left free."
        )
    else:
        yield f"Let {half} stand out at either end, and turn it in before the strip is brought over."
    edge = "its fold" if strip.doubled else f"its other edge, turned under by {wide},"
    yield f"Bring {edge} over the raw edge to just past the stitches, and edge-stitch it there."


def _at_corners(garment: Garment, strip: Strip) -> Iterator[str]:
    """What is done where the edge has a point or corners."""
    say, turns = garment.say, [turn for ref in strip.edges for turn in _turns_rad(garment, ref)]
    if any(turn > CLIP_TURN_RAD for turn in turns):
        yield (
            f"Where the edge has a corner into the piece, clip it there by {say(strip.wraps_in - CLIP_SHORT_IN)}, "
            "spread it straight and stitch across; then fold the strip to a mitre, and stitch the mitre."
        )
    if any(turn < -CLIP_TURN_RAD for turn in turns):
        yield (
            f"At a corner of the piece stop {say(strip.wraps_in)} short of it, fold the strip back on itself square "
            "to the next edge, and begin again there; the fold makes the mitre."
        )


def _closes(garment: Garment, strip: Strip) -> bool:
    return all(ring.closed for ring in rings_of(garment, strip.edges))


def _turns_rad(garment: Garment, ref: EdgeRef) -> Iterator[float]:
    """How far the edge turns at each of its corners, into the piece more than nothing; across the fold too."""
    piece, curve = garment.pattern.pieces[ref.piece], garment.edge(ref).curve
    outward = 1.0 if signed_area(piece.seam_line) > 0 else -1.0
    for one, two in pairwise(curve.runs()):
        yield -outward * _turn_rad(one.end_tangent, two.start_tangent)
    before, after = garment.neighbours(ref)
    mirror = np.array([-1.0, 1.0])
    if garment.edge(before).kind is Kind.FOLD:
        yield -outward * _turn_rad(-curve.start_tangent * mirror, curve.start_tangent)
    if garment.edge(after).kind is Kind.FOLD:
        yield -outward * _turn_rad(curve.end_tangent, -curve.end_tangent * mirror)


def _turn_rad(arriving: Array, leaving: Array) -> float:
    """From one direction to the next, (2,) each, positive from x towards y."""
    return math.atan2(arriving[0] * leaving[1] - arriving[1] * leaving[0], float(arriving @ leaving))
