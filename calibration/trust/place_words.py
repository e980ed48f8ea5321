"""Where things are, as one says it who stands at the table's near edge."""

from typing import Final

import numpy as np

from calibration.cameras.kept import Triple
from calibration.frames import Array, TableInches

_FOOT_IN: Final = 12.0


def place_words(point: Array, area: TableInches, turn_deg: float) -> str:
    """Where a point lies in the area.

    >>> place_words(np.array([-9.0, 8.0]), TableInches(np.array([[-10.0, -9], [10, 9]])), 0.0)
    'near the far left corner'
    """
    return f"near the {_part(*_turned(point, area, turn_deg))}"


def camera_words(at_in: Triple, area: TableInches, turn_deg: float) -> str:
    """From where a camera at that place looks at the area, to half a foot.

    >>> camera_words((-9.0, 8.0, 57.0), TableInches(np.array([[-10.0, -9], [10, 9]])), 0.0)
    'from above the far left corner, about 5 ft up'
    >>> camera_words((0.0, -30.0, 56.0), TableInches(np.array([[-10.0, -9], [10, 9]])), 0.0)
    'from about 2 ft outside the near edge, about 4 1/2 ft up'
    """
    across, up = _turned(np.array(at_in[:2]), area, turn_deg)
    outside_in = float(np.hypot(_outside(across), _outside(up)))
    part = _part(across, up)
    where = f"about {_feet(outside_in)} outside" if outside_in > _FOOT_IN / 2 else "above"
    return f"from {where} the {part}, about {_feet(at_in[2])} up"


def _turned(point: Array, area: TableInches, turn_deg: float) -> tuple[Array, Array]:
    """Across the drawing and up it: (1 + n,) of the point and of the area's."""
    angle = np.deg2rad(turn_deg)
    own = np.array([[np.cos(angle), np.sin(angle)], [-np.sin(angle), np.cos(angle)]])
    across, up = own @ np.column_stack([point, area.T])
    return across, up


def _part(across: Array, up: Array) -> str:
    column = _third(across, ("left", "", "right"))
    row = _third(up, ("near", "", "far"))
    if column and row:
        return f"{row} {column} corner"
    return f"{row or column} edge" if column or row else "middle"


def _third(along: Array, names: tuple[str, str, str]) -> str:
    low, high = along[1:].min(), along[1:].max()
    return names[int(np.clip(3 * (along[0] - low) / (high - low), 0, 2))]


def _outside(along: Array) -> float:
    """Inches from the point to the range of the area's, 0 within it."""
    return float(max(along[1:].min() - along[0], along[0] - along[1:].max(), 0.0))


def _feet(length_in: float) -> str:
    whole, half = divmod(max(round(2 * length_in / _FOOT_IN), 1), 2)
    return " ".join(str(part) for part in (whole or "", "1/2" if half else "") if part) + " ft"
