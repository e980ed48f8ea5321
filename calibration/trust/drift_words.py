"""What a drift test tells the person, and what to do about it."""

from collections.abc import Sequence
from fractions import Fraction
from typing import Final, Literal

from calibration.solving.proof import in_words

Cause = Literal["nothing", "light", "sheets", "light and sheets", "light or sheet", "unsure"]

FROM_ELSEWHERE: Final = (
    " The table or the paper is not flat, and from another side that can look like a small move: photograph from "
    "where you did for the alignment to be sure."
)
_REALIGN: Final = "Align again before you cut: the same command with --realign does it."


def drift_sentence(
    cause: Cause, moved_in: float, where: str, strayed: Sequence[int], within_in: float, look_from: str
) -> str:
    """One for each cause: `moved_in` inches at the worst place, which is `where`; `within_in` is the most it can be.

    `strayed` are the sheets that were moved by themselves; `look_from` is where the alignment's photo was taken.
    """
    off = f"up to {_nearly(moved_in)} off {where}"
    match cause:
        case "nothing":
            return f"Nothing has moved: the light falls within {in_words(within_in)} of where it did."
        case "sheets":
            return (
                f"Only the sheets: {_sheets(strayed).lower()} moved. The light falls within {in_words(within_in)} "
                "of where it did, so you can go on cutting."
            )
        case "light":
            return f"The projector has moved, or the table under it: the light falls {off}. {_REALIGN}"
        case "light or sheet":
            return (
                f"The light falls {off}, or else sheet 1 was moved: one sheet cannot tell which. {_REALIGN}"
            )
        case "light and sheets":
            return (
                f"{_sheets(strayed)} moved, and so has the projector, or the table under it: the light falls {off}. "
                f"{_REALIGN}"
            )
        case "unsure":
            return (
                f"{_sheets(strayed) + ' moved. ' if strayed else ''}Whether the light has moved cannot be told from "
                f"this side: it seems {off}, but curled sheets seem to shift when they are seen from another side. "
                f"Look again {look_from}: the table was aligned from there."
            )


def _nearly(length_in: float) -> str:
    """Inches to the nearest 64th, where they are few, or 16th; one of them at least.

    >>> _nearly(0.001), _nearly(0.08), _nearly(0.517)
    ('1/64 in', '5/64 in', '1/2 in')
    """
    parts = 64 if length_in < 1 / 8 else 16
    whole, rest = divmod(Fraction(max(1, round(length_in * parts)), parts), 1)
    return " ".join(str(part) for part in (whole, rest) if part) + " in"


def _sheets(numbers: Sequence[int]) -> str:
    if len(numbers) < 2:
        return "".join(f"Sheet {number} has been" for number in numbers)
    *most, last = (str(number) for number in numbers)
    return f"Sheets {', '.join(most)} and {last} have been"
