"""What is said of reaches: which it is, and how far the cloth is slid."""

from typing import TYPE_CHECKING

import numpy as np

from patterns.saying import Say
from patterns.tracing.hand_trace import Place

if TYPE_CHECKING:
    from projector.stations.cut import CutStation

LEAST_IN = 1 / 8  # a slide shorter than that is none


def reach_words(station: "CutStation") -> list[str]:
    """Which reach it is, of a piece that is cut in reaches."""
    reaches = station.copy.reaches
    return [] if reaches is None else [f"reach {station.copy.reach + 1} of {len(reaches.reaches)}"]


def slide_words(station: "CutStation", slide_in: Place) -> str:
    """How far, and where to as the person sees it; nothing where the cloth stays."""
    say = Say(station.ground.unit)
    right, away = station.person.seen(np.array([slide_in]))[0].tolist()
    ways = [
        f"{say(abs(far), 4)} {way}"
        for far, way in (
            (right, "to the right" if right > 0 else "to the left"),
            (away, "away from you" if away > 0 else "towards you"),
        )
        if abs(far) >= LEAST_IN
    ]
    return f"slide the cloth {' and '.join(ways)}" if ways else ""
