"""Curves reshaped so that straight lines stay straight and smooth ones smooth."""

from collections.abc import Callable
from typing import Final

import numpy as np

from patterns.alterations.parting import parted
from patterns.curves import Array, Curve

_PIECES: Final = 24  # about so many of each smooth run are reshaped one by one
_HELD_AT: Final = 17  # places of each smooth run at which an eased curve is held to its true course
_FLAT_IN: Final = 1e-6  # ends closer than this along x or y do not differ there
_NUDGE: Final = 1e-4  # of a handle: a step along it by which the new one is found


def warped(curve: Curve, moved: Callable[[Array], Array]) -> Curve:
    """The curve with each point (n, 2) where `moved` puts it, its corners still corners."""
    return Curve.chain(*(_warped(parted(run, _PIECES), moved) for run in curve.runs()))


def _warped(run: Curve, moved: Callable[[Array], Array]) -> Curve:
    """A run with its pieces' ends moved, and each handle moved as a short step along it would be."""
    starts, handles, others, ends = run.beziers.swapaxes(0, 1)
    leaves, arrives = (handles - starts) * _NUDGE, (ends - others) * _NUDGE
    steps = starts + leaves, starts - leaves, ends + arrives, ends - arrives
    placed = moved(np.concatenate([run.corners, *steps]))
    starts, ends = placed[: len(leaves)], placed[1 : len(leaves) + 1]
    on, back, beyond, before = placed[len(leaves) + 1 :].reshape(4, -1, 2)
    handles, others = starts + (on - back) / (2 * _NUDGE), ends - (beyond - before) / (2 * _NUDGE)
    return Curve(np.stack([starts, handles, others, ends], axis=1))


def stretched(curve: Curve, start: Array, end: Array) -> Curve:
    """The curve stretched along x and along y, each by one measure, so that it runs from `start` to `end`.

    What is level stays level and what is upright upright; but a curve whose ends are level, or upright over one
    another, and should not stay so is sheared.
    """
    old, new = curve.end - curve.start, end - start
    offset = curve.beziers - curve.start
    spanned = np.abs(old) > _FLAT_IN
    share = offset / np.where(spanned, old, np.inf)
    placed = np.where(spanned, share * new, offset + share[..., ::-1] * new)
    return Curve(start + placed).from_to(start, end)


def eased(curve: Curve, by: Array, over_in: float) -> Curve:
    """The curve with its start moved `by` (2,) inches, what follows less and less, up to `over_in` along it.

    A point at the share u of that way moves by (1 - u)^2 as much, so that the curve bends evenly and runs on
    smoothly where it stays.
    """
    over_in = min(over_in, curve.length_in)
    made = []
    begun = 0.0
    for run in curve.between(0.0, over_in).runs():
        lengths = np.linspace(0, run.length_in, _HELD_AT)
        spans, along = run.places_at(lengths)
        left = np.maximum(1 - (begun + lengths) / over_in, 0.0)[:, None]
        slopes = run.tangents(spans, along) - 2 * left / over_in * by
        made.append(Curve.hermite(run.at_parameters(spans, along) + left**2 * by, slopes, np.diff(lengths)))
        begun += run.length_in
    if over_in < curve.length_in:
        made.append(curve.between(over_in, curve.length_in))
    return Curve.chain(*made).from_to(curve.start + by, curve.end)
