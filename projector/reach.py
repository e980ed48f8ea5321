"""Where a piece leaves the light, in words."""

import numpy as np

from calibration.frames import Array
from projector.lit_area import LitArea
from projector.person import Person
from projector.trust import rounded_up

LEAST_IN = 1 / 32


def overhang_words(outline_in: Array, lit: LitArea, person: Person) -> list[str]:
    """What part of the outline, (n, 2) table inches, the projector cannot light; empty when it lights all."""
    beyond = {name: far for name, far in _overhangs(outline_in, lit, person).items() if far > LEAST_IN}
    if not beyond:
        return []
    said = ", ".join(f"{rounded_up(far)} beyond the {name} edge" for name, far in beyond.items())
    larger = np.ptp(person.seen(outline_in), axis=0) > np.ptp(person.seen(lit.border_in), axis=0)
    return [f"larger than the light: {said}" if larger.any() else said]


def _overhangs(outline_in: Array, lit: LitArea, person: Person) -> dict[str, float]:
    """How far the outline lies beyond each side of the light, named as the person sees the sides."""
    border = lit.border_in
    along = np.roll(border, -1, axis=0) - border
    normals = np.column_stack([along[:, 1], -along[:, 0]])
    normals /= np.linalg.norm(normals, axis=1, keepdims=True)
    distance = outline_in @ normals.T - (normals * border).sum(axis=1)
    facing = person.seen(normals)
    far: dict[str, float] = {}
    for side, direction in zip(distance.max(axis=0), facing, strict=True):
        name = _side(*direction.tolist())
        far[name] = max(far.get(name, 0.0), float(side))
    return far


def _side(across: float, away: float) -> str:
    if abs(across) > abs(away):
        return "right" if across > 0 else "left"
    return "far" if away > 0 else "near"
