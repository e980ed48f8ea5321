"""What a drift test tells, sentence by sentence."""

import pytest

from calibration.trust.drift_words import Cause, drift_sentence

REALIGN = "Align again before you cut: the same command with --realign does it."
FROM = "from above the near left corner, about 5 ft up"


@pytest.mark.parametrize(
    ("cause", "strayed", "said"),
    [
        ("nothing", (), "Nothing has moved: the light falls within 1/32 in of where it did."),
        (
            "light",
            (),
            "The projector has moved, or the table under it: the light falls up to 5/64 in off near the far left "
            f"corner. {REALIGN}",
        ),
        (
            "sheets",
            (2,),
            "Only the sheets: sheet 2 has been moved. The light falls within 1/32 in of where it did, so you can go "
            "on cutting.",
        ),
        (
            "light and sheets",
            (1, 2, 4),
            "Sheets 1, 2 and 4 have been moved, and so has the projector, or the table under it: the light falls up "
            f"to 5/64 in off near the far left corner. {REALIGN}",
        ),
        (
            "light or sheet",
            (),
            "The light falls up to 5/64 in off near the far left corner, or else sheet 1 was moved: one sheet cannot "
            f"tell which. {REALIGN}",
        ),
        (
            "unsure",
            (),
            "Whether the light has moved cannot be told from this side: it seems up to 5/64 in off near the far left "
            "corner, but curled sheets seem to shift when they are seen from another side. Look again from above "
            "the near left corner, about 5 ft up: the table was aligned from there.",
        ),
        (
            "unsure",
            (3, 5),
            "Sheets 3 and 5 have been moved. Whether the light has moved cannot be told from this side: it seems up "
            "to 5/64 in off near the far left corner, but curled sheets seem to shift when they are seen from "
            "another side. Look again from above the near left corner, about 5 ft up: the table was aligned from "
            "there.",
        ),
    ],
)
def test_each_has_its_sentence(cause: Cause, strayed: tuple[int, ...], said: str) -> None:
    where = "near the far left corner"
    assert drift_sentence(cause, 2 / 25.4, where, strayed, within_in=0.03, look_from=FROM) == said
