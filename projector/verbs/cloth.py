"""The verbs `check --cloth-frame` and `check --cloth`: which look is seen best on the cloth, by a photo of it."""

import json
import sys
from argparse import Namespace
from collections.abc import Iterator
from fractions import Fraction
from pathlib import Path
from typing import Final

from calibration.table.table_file import load_table
from projector.lighting.cloth_photo import is_burnt, tones_of, window_frame
from projector.lighting.contrast import ENOUGH, ClothTones, best_look, line_contrast, room_share
from projector.lighting.looks import LOOKS, Look
from projector.outputs import write_picture

NOT_TOLD: Final = ("dark", "sheer", "shiny")  # by a photo: a camera makes dark cloth bright


def cloth_frame(arguments: Namespace) -> int:
    """Write the frame with the bright window; the exit code."""
    width, height = load_table(arguments.table).setup(arguments.setup).screen_px
    write_picture(arguments.cloth_frame, window_frame((width, height)))
    print(
        f"{arguments.cloth_frame}: show it on the projector at {width}x{height}, spread the cloth so that the window "
        "ends on it, darken the room as for cutting, and photograph nothing but cloth, half of it in the window"
    )
    return 0


def look_for(photo: Path) -> tuple[Look, ClothTones]:
    """The look for the cloth in a photo, and its tones; warnings with what to do go to standard error."""
    from calibration.garment.silhouette import read_colour_photo  # 0.5 s to import

    tones = tones_of(read_colour_photo(photo))
    look = best_look(tones)
    for warning in _warnings(look, tones):
        print(f"{photo}: {warning}", file=sys.stderr)
    return look, tones


def cloth(arguments: Namespace) -> int:
    """Say how well each look is seen on the cloth, and which to take; the exit code."""
    look, tones = look_for(arguments.cloth)
    ratios = {name: line_contrast(one, tones) for name, one in LOOKS.items()}
    if arguments.json:
        result = {
            "look": look.name,
            "contrast": ratios,
            "needed": ENOUGH,
            "printed": tones.printed,
            "warnings": list(_warnings(look, tones)),
        }
        print(json.dumps(result))
    else:
        kind = "printed" if tones.printed else "plain"
        print(f"{arguments.cloth}: {kind} cloth, best seen with --look {look.name}")
        for name, ratio in ratios.items():
            where = f"   take it if the cloth is {name}" if name in NOT_TOLD and name != look.name else ""
            print(f"  {name:8} {ratio:4.1f} to 1{where}")
    return 0


def _warnings(look: Look, tones: ClothTones) -> Iterator[str]:
    """What to do where the cut line does not stand out as it should, and where the photo cannot say."""
    ratio = line_contrast(look, tones)
    if ratio < ENOUGH:
        yield (
            f"the cut line's light is {ratio:.1f} times that of the cloth, and {ENOUGH:g} times is needed; "
            f"{_mended(look, tones)}"
        )
    if is_burnt(tones):
        yield "the lit cloth is burnt out in the photo, so it may be seen better than this; expose it less"


def _mended(look: Look, tones: ClothTones) -> str:
    aids = "a line up to 1/4 in wide (--line), and white paper under sheer cloth, help too"
    share = Fraction(room_share(look, tones))
    if share:
        return f"dim the room to about {share} of its light; {aids}"
    return f"make the room as dark as is safe, and the projector brighter or nearer; {aids}"
