"""Where stripes or checks must run on the cloth for a lay: through the match point of its first piece."""

import numpy as np

from patterns.curves import Array
from patterns.laying.folded import Folded
from patterns.laying.lay import Lay
from patterns.laying.matching import match_point_of


def repeat_lines(lay: Lay, folded: Folded) -> tuple[Array, ...]:
    """(2, 2) inches on the folded cloth of each line, one in every repeat; none where nothing repeats."""
    repeat, (left, bottom, right, top) = lay.cloth.repeat, folded.box_in
    if not lay.placed:
        return ()
    first = lay.placed[0]
    x, y = first.placement.placed(np.array([match_point_of(first.piece, lay.terms)]))[0].tolist()
    lines = []
    if repeat.along_in is not None:
        lines += [np.array([(left, at), (right, at)]) for at in _through(y, repeat.along_in, bottom, top)]
    if repeat.across_in is not None:
        lines += [np.array([(at, bottom), (at, top)]) for at in _through(x, repeat.across_in, left, right)]
    return tuple(lines)


def _through(place: float, every: float, low: float, high: float) -> list[float]:
    """Places from low to high that are whole repeats from one of them."""
    count = np.arange(np.ceil((low - place) / every), np.floor((high - place) / every) + 1)
    places: list[float] = (place + every * count).tolist()
    return places
