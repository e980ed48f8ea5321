"""The verb `sheet`: alignment sheets to print."""

from argparse import Namespace

from calibration.sheets.sheet import PAPERS, RULER_IN
from calibration.sheets.sheet_pdf import write_sheets
from patterns.measures import in_words


def sheet(arguments: Namespace) -> int:
    """Run the verb; the exit code."""
    write_sheets(arguments.out, PAPERS[arguments.paper], arguments.count)
    print(
        f"{arguments.out}: {arguments.count} sheet(s). Print at full size, then measure the printed ruler: "
        f"it should be {in_words(RULER_IN)}; if not, give its length to align as --printed-ruler."
    )
    return 0
