"""Where a piece leaves the light, in words."""

from dataclasses import dataclass
from functools import lru_cache
from typing import Final

import numpy as np

from calibration.frames import Array
from patterns.measures import Unit
from projector.lighting.lit_area import LitArea
from projector.person import Person
from projector.trust import rounded_up

LEAST_IN: Final = 1 / 32
LARGER: Final = "larger than the light"


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class _Sides:
    """The sides of the light, named as the person sees them: `normals @ p <= limits` holds where it is lit."""

    normals: Array
    limits: Array
    names: tuple[str, ...]


def overhang_words(outline_in: Array, lit: LitArea, person: Person, unit: Unit = Unit.IN) -> list[str]:
    """What part of the outline, (n, 2) table inches, the projector cannot light; empty when it lights all."""
    sides = _sides(lit, person)
    distance = (sides.normals @ outline_in.T - sides.limits[:, None]).max(axis=1)
    if distance.max() <= LEAST_IN:
        return []
    furthest = dict.fromkeys(sides.names, 0.0)
    for name, side in zip(sides.names, distance.tolist(), strict=True):
        furthest[name] = max(furthest[name], side)
    beyond = {name: far for name, far in furthest.items() if far > LEAST_IN}
    said = ", ".join(f"{rounded_up(far, unit)} beyond the {name} edge" for name, far in beyond.items())
    larger = np.ptp(person.seen(outline_in), axis=0) > np.ptp(person.seen(lit.border_in), axis=0)
    return [f"{LARGER}: {said}" if larger.any() else said]


@lru_cache(maxsize=8)
def _sides(lit: LitArea, person: Person) -> _Sides:
    border = lit.border_in
    along = np.roll(border, -1, axis=0) - border
    normals = np.column_stack([along[:, 1], -along[:, 0]])
    normals /= np.linalg.norm(normals, axis=1, keepdims=True)
    names = tuple(_name(*direction) for direction in person.seen(normals).tolist())
    return _Sides(normals=normals, limits=(normals * border).sum(axis=1), names=names)


def _name(across: float, away: float) -> str:
    if abs(across) > abs(away):
        return "right" if across > 0 else "left"
    return "far" if away > 0 else "near"
