"""The verb `check --surface`: a cutting surface above the aligned plane, and how far light falls off on it."""

import json
from argparse import Namespace
from dataclasses import replace
from typing import Final

import numpy as np

from calibration.table.saved import Alignment
from calibration.table.table_file import load_table, save_table
from calibration.trust.lens_place import LensPlace
from calibration.trust.place_words import place_words
from calibration.trust.surface import Surface, lit_grid
from patterns.measures import in_words
from projector.errors import ProjectorError

MOST_UNSURE_IN: Final = 1 / 32  # two sigmas of a correction at its worst place; a cut shows more
TOLD_SHARE: Final = 0.1  # of the lens's height: a better estimate needs no tape


def surface(arguments: Namespace) -> int:
    """Predict the shift, say it, and keep the height; the exit code."""
    table = load_table(arguments.table)
    setup = table.setup(arguments.setup)
    raised = Surface(
        height_in=arguments.surface,
        lens_in=arguments.lens or setup.surface.lens_in,
        corrected=arguments.correct,
    )
    seen = _Predicted(setup.alignment, raised)
    if raised.corrected and seen.unsure_in > MOST_UNSURE_IN:
        raise ProjectorError(
            f"The shift of up to {seen.shift_in:.2f} in is known only to {seen.unsure_in:.2f} in, since the map "
            f"does not tell the lens's height well; measure it, and give {_lens_option(seen.lens)}"
        )
    save_table(arguments.table, table.with_setup(replace(setup, surface=raised)))
    if arguments.json:
        print(json.dumps(seen.numbers()))
    else:
        print(f"{arguments.table}: {seen.words()}")
    return 0


class _Predicted:
    """What the surface does to the light, at its worst place."""

    def __init__(self, alignment: Alignment, raised: Surface) -> None:
        self.raised = raised
        self.lens = raised.lens(alignment.map)
        area = lit_grid(alignment.map)
        shift = np.hypot(*raised.shift_in(alignment.map, area).T)
        worst = int(shift.argmax())
        self.shift_in = float(shift[worst])
        self.unsure_in = 2 * float(raised.unsure_in(alignment.map, area).max())
        self.where = place_words(area[worst], area, alignment.turn_deg)

    def numbers(self) -> dict[str, object]:
        return {
            "height_in": self.raised.height_in,
            "shift_in": self.shift_in,
            "unsure_in": self.unsure_in,
            "lens_in": list(self.lens.at_in),
            "lens_sigmas_in": list(self.lens.sigmas_in),
            "lens_measured": self.raised.lens_in is not None,
            "corrected": self.raised.corrected,
        }

    def words(self) -> str:
        if self.raised.height_in == 0:
            return "the cutting surface is the aligned table itself; nothing is shifted"
        height = in_words(self.raised.height_in)
        side = "above" if self.raised.height_in > 0 else "below"
        said = [
            f"a surface {height.lstrip('-')} {side} the aligned table shifts the light by up to "
            f"{self.shift_in:.2f} in, {self.where}, give or take {self.unsure_in:.2f} in",
            "allowed for in what is drawn" if self.raised.corrected else "not allowed for: add --correct",
        ]
        if self.raised.lens_in is None:
            said.append(self._lens_words())
        return "; ".join(said)

    def _lens_words(self) -> str:
        x, y, height = self.lens.at_in
        sigma = self.lens.sigmas_in[2]
        found = f"the lens is taken to be {height:.0f} in high, give or take {2 * sigma:.0f}, over {x:.1f}, {y:.1f} in"
        if sigma <= TOLD_SHARE * height:
            return found
        little = "the picture is almost square to the table, which tells little"
        return f"{found}: {little}; measure and give {_lens_option(self.lens)}"


def _lens_option(lens: LensPlace) -> str:
    """What to type, with the foot filled in as far as it is known."""
    x, y, _ = lens.at_in
    return f'--lens "{x:.1f} in,{y:.1f} in,HEIGHT"'
