"""The verbs `check --loop-frame` and `--loop-photo`: crosses of light on the margins of sheets, and their misses."""

import json
from argparse import Namespace
from datetime import datetime

import numpy as np

from calibration.errors import AlignmentError
from calibration.frames import Array
from calibration.photos.photo import read_photo
from calibration.table.setups import Setup
from calibration.table.table_file import load_table, save_table
from calibration.trust.closed_loop import LoopTest
from calibration.trust.loop_photo import look_at_loop
from projector.outputs import write_picture
from projector.trust import rounded_up
from projector.verbs.drift import sheets_lying


def loop_frame(arguments: Namespace) -> int:
    """Write the frame of crosses; the exit code."""
    from calibration.trust import loop_crosses

    alignment = load_table(arguments.table).setup(arguments.setup).alignment
    paper, _ = sheets_lying(arguments, alignment)
    write_picture(arguments.loop_frame, loop_crosses.loop_frame(alignment, paper))
    width, height = alignment.map.screen_px
    print(
        f"{arguments.loop_frame}: show it on the projector at {width}x{height}, leave the sheets where they lay, "
        "and photograph the whole table"
    )
    return 0


def loop_photo(arguments: Namespace) -> int:
    """Look at the crosses in the photos, keep how far off they are, and say it; the exit code."""
    table = load_table(arguments.table)
    setup = table.setup(arguments.setup)
    paper, _ = sheets_lying(arguments, setup.alignment)
    misses: list[Array] = []
    for path in arguments.loop_photo:
        try:
            seen = look_at_loop(read_photo(path), setup.alignment, paper)
        except AlignmentError as error:
            raise AlignmentError(f"{path.name}: {error}") from error
        misses.extend(cross.miss_in for cross in seen)
    test = LoopTest.of(np.array(misses), datetime.now().astimezone())
    setup = setup.tested(test)
    save_table(arguments.table, table.with_setup(setup))
    _report(arguments, setup, test)
    return 0


def _report(arguments: Namespace, setup: Setup, test: LoopTest) -> None:
    claim_in = setup.in_force().p95_in
    if arguments.json:
        result = {
            "marks": test.marks,
            "rms_in": test.rms_in,
            "p95_in": test.p95_in,
            "most_in": test.most_in,
            "claim_in": claim_in,
        }
        print(json.dumps(result))
        return
    print(
        f"{arguments.table}: {test.marks} crosses of light are off by {test.rms_in:.3f} in RMS, 95 % by up to "
        f"{test.p95_in:.3f}, at most {test.most_in:.3f}; the light is good to {rounded_up(claim_in)}"
    )
