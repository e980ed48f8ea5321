"""Folded garments with known edges, lying anywhere on the table, and the contours that a finder would trace.

They are the front and back of the "harbour overtop" with its proportions varied, seeded. The contours are
sampled from curves that the tracing code has no hand in.
"""

import math
from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from patterns import Placement
from patterns.curves import Array, Curve

EDGES = ("neck", "overarm", "sleeve hem", "side", "hem")
SPACING_IN = 0.02  # half a millimetre: a fine camera's pixel on the table


@dataclass(frozen=True, kw_only=True, eq=False)
class Garment:
    """A half garment in piece inches: its edges' curves in order from the fold's top."""

    curves: tuple[Curve, ...]
    back: bool

    @property
    def corners(self) -> Array:
        """(6, 2) the fold's top, the four corners, the fold's bottom."""
        return np.stack([self.curves[0].start, *(curve.end for curve in self.curves)])

    @property
    def ring(self) -> Array:
        """(n, 2) points SPACING_IN apart, corners among them, from the fold's top round."""
        fold = Curve.straight(np.stack([self.curves[-1].end, self.curves[0].start]))
        return np.concatenate([sampled(curve)[:-1] for curve in (*self.curves, fold)])


def sampled(curve: Curve) -> Array:
    """(n, 2) points about SPACING_IN apart."""
    return curve.points_at(np.linspace(0, curve.length_in, max(int(curve.length_in / SPACING_IN), 2)))


def bezier(*points: Sequence[float] | Array) -> Curve:
    """A Bézier chain through the points."""
    return Curve.bezier(np.array(points, dtype=np.float64))


def garment(seed: int) -> Garment:
    """The overtop with neck, sleeve, side and hem of other proportions."""
    chance = np.random.default_rng(seed)
    back = bool(chance.random() < 0.4)
    width = chance.uniform(2.8, 4.4)
    depth = chance.uniform(1.0, 2.6) if back else chance.uniform(3.5, 8.5)
    half_body, body = chance.uniform(8.5, 13), chance.uniform(20, 30)
    reach, slope = chance.uniform(6, 15), math.radians(chance.uniform(2, 24))
    opening, lean = chance.uniform(4.5, 7.0), math.radians(chance.uniform(-4, 12))
    neck = _neck(width, depth, pointed=not back and bool(chance.random() < 0.5))
    along = np.array([math.cos(slope), math.sin(slope)])
    shoulder = np.array([width, 0.0])
    lean_in = math.sin(slope + lean) * opening  # by which the sleeve's lower end lies nearer to the body
    reach = max(reach, (half_body + 3 + lean_in - width) / along[0])
    bow = chance.uniform(-0.15, 0.25)
    across = np.array([along[1], -along[0]]) * bow
    tip = shoulder + along * reach
    overarm = Curve.smooth(np.stack([shoulder, (2 * shoulder + tip) / 3 + across,
                                     (shoulder + 2 * tip) / 3 + across, tip]))  # fmt: skip
    down = np.array([-math.sin(slope + lean), math.cos(slope + lean)])
    cuff = tip + down * opening
    side_end = np.array([half_body + chance.uniform(-0.6, 1.5), body - chance.uniform(0.2, 1.0)])
    side = _side(
        cuff, along, half_body, side_end, deep=chance.uniform(1.5, 5), straight=chance.random() < 0.5
    )
    drop = body - side_end[1]
    hem = bezier(side_end, side_end + (-3.2, 0.15 * drop), (3, body), (0, body))
    return Garment(curves=(neck, overarm, Curve.straight(np.stack([tip, cuff])), side, hem), back=back)


def _neck(width: float, depth: float, *, pointed: bool) -> Curve:
    if pointed:
        return Curve.straight(np.array([[0, depth], [width, 0]]))
    return bezier((0, depth), (0.54 * width, depth), (width, 0.59 * depth), (width, 0))


def _side(cuff: Array, along: Array, half_body: float, end: Array, *, deep: float, straight: bool) -> Curve:
    """From the sleeve hem by a rounded underarm to the hem."""
    run = float(cuff[0]) - half_body
    low = float(cuff[1]) - run * along[1] / along[0]  # where the sleeve's lower line would meet the side
    turn = cuff - along * run * 0.45
    under = np.array([half_body, low + deep])
    waist = 0.0 if straight else 0.5
    slope = (end - under) / (end[1] - under[1])
    return bezier(
        cuff, cuff - along * run * 0.15, turn + along * run * 0.15, turn,
        turn - along * run * 0.4, under - slope * deep * 0.7, under,
        under + slope * (end[1] - under[1]) * 0.35 - (waist, 0), end - slope * 3 - (waist, 0), end,
    )  # fmt: skip


def lying(seed: int) -> Placement:
    """Somewhere on the table, turned any way, with either face up."""
    chance = np.random.default_rng([seed, 1])
    return Placement(
        x_in=chance.uniform(-20, 40),
        y_in=chance.uniform(-20, 30),
        turn_deg=chance.uniform(-180, 180),
        mirrored=bool(chance.random() < 0.5),
    )


def contour(
    one: Garment, placement: Placement, seed: int, *, white_in: float = 0.0, smooth_in: float = 0.0
) -> Array:
    """(n, 2) table inches of its traced contour, begun anywhere and walked either way.

    `white_in` is the one-sigma noise of each point, `smooth_in` that of waves some half an inch long.
    """
    chance = np.random.default_rng([seed, 2])
    ring = one.ring
    if smooth_in:
        ring = ring + smooth_in * _waves(len(ring), chance)
    ring = ring + white_in * chance.standard_normal(ring.shape)
    ring = np.roll(ring, int(chance.integers(len(ring))), axis=0)
    return placement.placed(ring[::-1] if chance.random() < 0.5 else ring)


def _waves(count: int, chance: np.random.Generator) -> Array:
    """(count, 2) unit noise, closed, without waves much shorter than half an inch."""
    waves = np.fft.rfft(chance.standard_normal((count, 2)), axis=0)
    per_inch = np.arange(len(waves)) / (count * SPACING_IN)
    waves *= np.exp(-((per_inch / 1.5) ** 2))[:, None]
    calm = np.fft.irfft(waves, count, axis=0)
    return np.asarray(calm / calm.std(axis=0), dtype=np.float64)
