"""The sewing card as a PDF to pin up by the machine."""

from collections.abc import Iterable
from typing import TYPE_CHECKING, Final

from patterns.paper.card import CAUTIONS
from patterns.paper.standard_letters import in_standard_letters
from patterns.sewing.step import Step
from projector.words.unbroken import unbroken

if TYPE_CHECKING:
    from fpdf import FPDF

MARGIN_MM: Final = 16
TITLE_PT, STEP_PT, TEXT_PT = 18, 11, 10
LINE_PART: Final = 0.48  # height of a line in mm, of its size in points
BOX_MM: Final = 3.6  # to tick off
INDENT_MM: Final = 8
ROOM_MM: Final = 30  # a step is not begun with less left on the page


def card_page(name: str, steps: Iterable[Step], paper: str) -> bytes:
    """The steps, each with a box to tick off; `paper` is letter or a4. A long card goes on over pages."""
    from fpdf import FPDF  # costs 0.4 s, and only here is it needed

    pdf = FPDF(format="letter" if paper == "letter" else "A4")
    pdf.set_title(f"{name}: sewing card")
    pdf.set_margin(MARGIN_MM)
    pdf.set_auto_page_break(True, MARGIN_MM)
    pdf.add_page()
    _write(pdf, name, TITLE_PT, "B")
    pdf.ln(2)
    for number, step in enumerate(steps, start=1):
        _step(pdf, number, step)
    pdf.ln(2)
    for caution in CAUTIONS:
        _write(pdf, caution, TEXT_PT, "I")
    return bytes(pdf.output())


def _step(pdf: "FPDF", number: int, step: Step) -> None:
    if pdf.will_page_break(ROOM_MM):
        pdf.add_page()
    pdf.ln(1.5)
    pdf.rect(pdf.l_margin, pdf.get_y() + 0.9, BOX_MM, BOX_MM)
    _write(pdf, f"{number}  {step.title}", STEP_PT, "B", INDENT_MM)
    for length in step.lengths:
        _write(pdf, length, TEXT_PT, "B", INDENT_MM)
    if step.says:
        _write(pdf, " ".join(step.says), TEXT_PT, "", INDENT_MM)


def _write(pdf: "FPDF", text: str, size_pt: float, style: str, indent_mm: float = 0) -> None:
    pdf.set_font("Helvetica", style, size_pt)
    pdf.set_x(pdf.l_margin + indent_mm)
    pdf.multi_cell(
        0, size_pt * LINE_PART, in_standard_letters(unbroken(text)), new_x="LMARGIN", new_y="NEXT", align="L"
    )
