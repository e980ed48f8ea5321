"""The alignment sheets as a PDF to print, from the same rectangles as the picture of the page."""

import os
import tempfile
from pathlib import Path

from calibration.errors import AlignmentError
from calibration.sheets.sheet import MOST_SHEETS, Paper, Sheet

_POINTS = 72  # an inch has 72 user units (ISO 32000, default user space)


def write_sheets(path: Path, paper: Paper, count: int) -> None:
    """Write sheets 1 to `count` to `path`, one a page; the file is whole or not there.

    Raises AlignmentError if there cannot be so many sheets or `path` cannot be written.
    """
    if not 1 <= count <= MOST_SHEETS:
        raise AlignmentError(f"found {count} sheets asked for; there are 1 to {MOST_SHEETS}: ask for so many")
    document = _document(paper, count)
    try:
        _replace(path, document)
    except OSError as error:
        reason = error.strerror or str(error)
        raise AlignmentError(
            f"could not write the sheets to {path} ({reason}); name a file in a folder that you may write to"
        ) from error


def _document(paper: Paper, count: int) -> bytes:
    from fpdf import FPDF  # costs 0.4 s, and only here is it needed

    width, height = paper.width_in * _POINTS, paper.height_in * _POINTS
    pdf = FPDF(unit="pt", format=(width, height))
    pdf.set_title("Chalkbeam alignment sheets")
    for number in range(1, count + 1):
        pdf.add_page()
        with pdf.new_path() as path:
            path.style.fill_color, path.style.stroke_color = "#000000", None
            # one path for all: rectangles that touch then show no hairline between them
            for left, bottom, right, top in Sheet(paper=paper, number=number).ink_in * _POINTS:
                path.rectangle(left + width / 2, height / 2 - top, right - left, top - bottom)
    return bytes(pdf.output())


def _replace(path: Path, content: bytes) -> None:
    with tempfile.NamedTemporaryFile(dir=path.parent, prefix=f".{path.name}.", delete=False) as partial:
        try:
            partial.write(content)
            partial.close()
            Path(partial.name).chmod(0o666 & ~_umask())
            Path(partial.name).replace(path)
        except BaseException:
            Path(partial.name).unlink(missing_ok=True)
            raise


def _umask() -> int:
    mask = os.umask(0o022)
    os.umask(mask)
    return mask
