"""The verb `align`: the frame to photograph, or an alignment from photos."""

import json
from argparse import Namespace
from collections.abc import Mapping
from dataclasses import replace
from typing import TYPE_CHECKING, Any, Final

from calibration.sheets.sheet import PAPERS
from calibration.table.saved import Alignment
from calibration.table.table_file import save_alignment
from patterns.measures import in_words
from projector.trust import rounded_up

if TYPE_CHECKING:
    from calibration.solving.from_photos import Solved

_THOUSANDTH_IN: Final = 0.001
_TAPE_IN: Final = 1 / 64


def write_targets(arguments: Namespace) -> int:
    """The frame to project for a photo; the exit code."""
    from calibration.sheets.targets import Targets
    from projector.outputs import write_picture

    targets = Targets(screen_px=arguments.screen, sheets=arguments.sheets, paper=PAPERS[arguments.paper])
    write_picture(arguments.targets, targets.frame())
    if arguments.json:
        print(json.dumps({"windows": [window.tolist() for window in targets.windows]}))
    else:
        width, height = arguments.screen
        print(
            f"{arguments.targets}: show it on the projector at {width}x{height}, lay "
            "each sheet in its white window, and photograph the whole table"
        )
    return 0


def align_photos(arguments: Namespace) -> int:
    """An alignment from photos; the exit code."""
    from calibration.solving.from_photos import solved_from_photos

    found = solved_from_photos(
        arguments.photo,
        PAPERS[arguments.paper],
        arguments.screen,
        arguments.sheets,
        arguments.printed_ruler,
        dict(arguments.tape),
    )
    finish(found, arguments)
    return 0


def finish(found: "Solved", arguments: Namespace) -> None:
    """Save an alignment that was found from what a camera saw, draw it if asked to, and say what it is worth."""
    alignment = replace(found.alignment, name=arguments.setup)
    save_alignment(arguments.table, alignment)
    if arguments.picture is not None:
        from projector.pictures.alignment_picture import Known, write_alignment_picture

        known = Known(alignment=alignment, arrows_in=found.residual_arrows)
        write_alignment_picture(arguments.picture, known)
    report(alignment, arguments)


def report(alignment: Alignment, arguments: Namespace) -> None:
    """Print what the alignment is worth."""
    if arguments.json:
        print(json.dumps(_result(alignment)))
        return
    size = "size checked" if alignment.size_checked else "size not checked"
    print(
        f"{arguments.table}: {alignment.verdict}\n"
        f"good to {rounded_up(alignment.p95_in)} nearly everywhere "
        f"(RMS {_fine(alignment.rms_in)}), {size}"
    )


def _fine(length_in: float) -> str:
    """Inches as a tape says them, or in thousandths where they are too few for a tape.

    >>> _fine(0.0004), _fine(0.004), _fine(0.03)
    ('under 0.001 in', '0.004 in', '1/32 in')
    """
    if length_in < _THOUSANDTH_IN:
        return f"under {_THOUSANDTH_IN} in"
    return f"{length_in:.3f} in" if length_in < _TAPE_IN else in_words(length_in, 64)


def _result(alignment: Alignment) -> Mapping[str, Any]:
    return {
        "rms_in": alignment.rms_in,
        "p95_in": alignment.p95_in,
        "verdict": alignment.verdict,
        "size_checked": alignment.size_checked,
        "photos": alignment.photos,
        "sheets": alignment.sheets,
        "marks": alignment.marks,
        "trustworthy": alignment.trustworthy,
    }
