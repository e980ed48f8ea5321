"""The saved alignment beside a new look: which sheets kept together, and how far the light has moved beside them.

Light that has not moved may still seem to have: by the noise of both looks, and by paper and table that stand up
and are seen from another side than they were.
"""

from collections.abc import Callable, Mapping, Sequence
from itertools import combinations
from typing import Final

import numpy as np

from calibration.errors import AlignmentError
from calibration.frames import Array
from calibration.solving.joint_model import lie
from calibration.solving.starts import rigid
from calibration.table.saved import Alignment
from calibration.trust.look_again import LookAgain
from calibration.trust.surface import lit_grid

LEAST_MOVE_IN: Final = 1 / 64  # no one sees less
SURE_SIGMAS: Final = 2.5  # of both looks' noise, or of curl, that still light may seem to have moved by
_SHEET_SIGMAS: Final = 4.2  # of noise, for a corner of a page
_LEAST_SHEET_MOVE_IN: Final = 1 / 32
_PAGE_IN: Final = np.array([(-4.2, -5.5), (4.2, -5.5), (4.2, 5.5), (-4.2, 5.5)])  # either paper, nearly


class BothLooks:
    """Sheets and light of the saved alignment beside those of the new look."""

    def __init__(self, again: LookAgain, alignment: Alignment) -> None:
        saved = {n: np.array((x, y, np.deg2rad(t))) for n, (x, y, t) in enumerate(alignment.sheet_places, 1)}
        self.numbers = sorted(set(saved) & set(again.places))
        if not self.numbers:
            raise AlignmentError(
                "The alignment knows no places of sheets to compare with; it was made without them: check by hand "
                "with --by-hand, or align again from a photo"
            )
        self._saved, self._again = saved, again
        self.area = lit_grid(alignment.map)
        self._pixels = alignment.map.screen_from_table(self.area)
        sigma_in = float(again.map.forecast(again.map.table_from_screen(self._pixels)).max())
        if again.curled:  # what is beyond the noise expected is counted there
            sigma_in /= max(again.noise_times, 1.0)
        both_sigma_in = np.sqrt(2) * sigma_in
        self.least_move_in = max(SURE_SIGMAS * both_sigma_in, LEAST_MOVE_IN)
        self._least_sheet_move_in = max(_SHEET_SIGMAS * both_sigma_in, _LEAST_SHEET_MOVE_IN)
        self.together = self._kept_together()

    def frame(self, group: Sequence[int]) -> Array:
        """Place of the new look's frame in the saved one, by the pages of the sheets that stayed."""
        return self._frame(self._again, group)

    def _frame(self, look: LookAgain, group: Sequence[int]) -> Array:
        return rigid(_pages(look.places, group), _pages(self._saved, group))

    def light_moves(self, group: Sequence[int]) -> Array:
        """(n, 2) inches by which the light for each point of the area has moved, if these sheets have not."""
        return self._light_moves(self._again, group)

    def light_doubt(self, group: Sequence[int]) -> Array:
        """(n,) inches by which curl that is seen from another side can make still light seem to have moved."""
        return self._doubt(self._light_moves, group)

    def _light_moves(self, look: LookAgain, group: Sequence[int]) -> Array:
        lands: Array = lie(self._frame(look, group), look.map.table_from_screen(self._pixels)) - self.area
        return lands

    def _page_moves(self, look: LookAgain, group: Sequence[int]) -> Array:
        """(n, 2) inches that corners of pages are off when these sheets are laid on their saved places together."""
        return lie(self._frame(look, group), _pages(look.places, group)) - _pages(self._saved, group)

    def _doubt(self, moves: Callable[[LookAgain, Sequence[int]], Array], group: Sequence[int]) -> Array:
        found = moves(self._again, group)
        squares = [((moves(curled, group) - found) ** 2).sum(axis=1) for curled in self._again.curled]
        doubt: Array = SURE_SIGMAS * np.sqrt(np.sum([np.zeros(len(found)), *squares], axis=0))
        return doubt

    def _kept_together(self) -> tuple[int, ...]:
        """The most sheets that kept their places to one another; a lone one only if the light kept to it too."""
        for count in range(len(self.numbers), 1, -1):
            groups = [(self._strain(group), group) for group in combinations(self.numbers, count)]
            strain, group = min(groups)
            most = 2 * count > len(self.numbers)
            if strain < 1 and (most or self._light_kept_to(group)):
                return group
        alone = [number for number in self.numbers if self._light_kept_to((number,))]
        return (alone[0],) if alone else tuple(self.numbers) if len(self.numbers) == 1 else ()

    def _strain(self, group: Sequence[int]) -> float:
        """How far these sheets are from lying as they did, as a share of what sheets that stayed may seem to be."""
        off = np.hypot(*self._page_moves(self._again, group).T)
        return float((off / (self._least_sheet_move_in + self._doubt(self._page_moves, group))).max())

    def _light_kept_to(self, group: Sequence[int]) -> bool:
        away = np.hypot(*self.light_moves(group).T)
        return bool((away <= self.least_move_in + self.light_doubt(group)).all())


def _pages(places: Mapping[int, Array], group: Sequence[int]) -> Array:
    """(n, 2) corners of the pages of these sheets."""
    return np.vstack([lie(places[number], _PAGE_IN) for number in group])
