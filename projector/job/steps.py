"""The steps of the job in order: what each is, what is done of it so far, and the command that it runs.

The window has no powers of its own: whatever it opens could have been typed.
"""

from collections.abc import Callable
from dataclasses import dataclass, replace
from datetime import datetime
from typing import Final

from calibration.sheets.sheet import RULER_IN
from patterns.laying.folding import FOLD_WORDS
from patterns.measures import said_in
from projector.bindings import BLANK, Binding
from projector.cutting.steps import CUT
from projector.cutting.work import CopyWork
from projector.errors import ProjectorError
from projector.job.found import PRACTICE, SHEETS, Found
from projector.laying.lay_file import is_kept, lay_path, read_lay
from projector.tracing.bindings import NAMING
from projector.trust import rounded_up
from projector.usage.shared import PAPER_NAMES

USUAL_PIECES: Final = ("front", "back", "sleeve")
USUAL_WIDTHS: Final = ("45 in", "60 in", "54 in", "112 cm", "140 cm", "150 cm")
AS_PLANNED: Final = "as planned"
LENGTH: Final = (
    replace(NAMING[0], says="a length, such as 7 31/32 in or 20.3 cm", signs=NAMING[0].signs + '/."'),
    *NAMING[1:5],
    replace(BLANK, shown="F6", keys=("f6",)),  # "." may be meant
    *NAMING[6:],
)
NEW_PATTERN: Final = "garment"
SHEETS_LAID: Final = "5"


@dataclass(frozen=True, slots=True, kw_only=True)
class Asked:
    """What must be typed before a step can begin: a question, and the usual answers."""

    question: str
    offers: tuple[str, ...]
    bindings: tuple[Binding, ...] = NAMING


@dataclass(frozen=True, slots=True, kw_only=True)
class Step:
    """`done` is empty where nothing is done yet; `needs` is empty where nothing is missing.

    `command` takes what was found and what was answered, if anything `asks`.
    """

    name: str
    does: str
    hint: str
    done: Callable[[Found], str]
    needs: Callable[[Found], str]
    command: Callable[[Found, str], tuple[str, ...]]
    asks: Callable[[Found], Asked | None] = lambda _: None


def next_step(found: Found) -> int:
    """The number of the first step of which nothing is done; the last where all are begun."""
    begun = [bool(step.done(found)) for step in STEPS]
    return begun.index(False) if False in begun else len(STEPS) - 1


def number_of(name: str | None) -> int | None:
    """The place of the step of that name."""
    names = [step.name for step in STEPS]
    return names.index(name) if name in names else None


def _day(date: datetime) -> str:
    return f"{date.day} {date:%B}"


def _nothing(_: Found) -> str:
    return ""


def _an_alignment(found: Found) -> str:
    return "" if found.setup else "align first"


def _a_pattern(found: Found) -> str:
    return _an_alignment(found) or ("" if found.pattern else "trace first, or choose a pattern")


def _printed(found: Found) -> str:
    return SHEETS if found.has(SHEETS) else "not needed any more" if found.setup else ""


def _which_paper(found: Found) -> Asked:
    others = (name for name in PAPER_NAMES if name != found.left.paper)
    return Asked(question="on which paper?", offers=(found.left.paper, *others))


def _print(found: Found, paper: str) -> tuple[str, ...]:
    return ("sheet", "--paper", paper, "--count", SHEETS_LAID, "--out", found.path(SHEETS))


def _aligned(found: Found) -> str:
    if found.setup is None:
        return ""
    alignment = found.setup.in_force()
    return f"{_day(alignment.aligned_on)}, good to {rounded_up(alignment.p95_in)}"


def _how_long_printed(found: Found) -> Asked | None:
    """The ruler that was printed with the sheets; a ruled mat has none."""
    if found.left.mat is not None:
        return None
    return Asked(question="the printed ruler measures", offers=(f"{RULER_IN:g} in",), bindings=LENGTH)


def _align(found: Found, printed_ruler: str) -> tuple[str, ...]:
    left = found.left
    table = ("--table", str(left.table_path))
    if left.mat is not None:
        pitch, size = left.mat
        return ("align", "--by-hand", "--mat-pitch", pitch, "--mat-size", size, *table)
    how = ("--by-hand",) if left.camera is None else ("--camera", left.camera)
    sheets = ("--paper", left.paper, "--sheets", SHEETS_LAID, "--printed-ruler", printed_ruler)
    return ("align", *how, *sheets, *table)


def _ruled(found: Found) -> str:
    tests = () if found.setup is None else found.setup.ruler_tests
    if not tests:
        return ""
    return f"{_day(tests[0].tested_on)}, {'passed' if tests[0].passed else 'FAILED: align again'}"


def _rule(found: Found, _: str) -> tuple[str, ...]:
    return ("check", "--table", str(found.left.table_path))


def _practised(found: Found) -> str:
    if not found.has(PRACTICE):
        return ""
    return _cut_of(found, "Practice pocket") or "laid out"


def _practise(found: Found, _: str) -> tuple[str, ...]:
    return ("cut", found.path(PRACTICE), "--table", str(found.left.table_path))


def _traced(found: Found) -> str:
    return "" if found.pattern is None else ", ".join(piece.name for piece in found.pattern.pieces)


def _which_piece(found: Found) -> Asked:
    known = () if found.pattern is None else tuple(piece.name for piece in found.pattern.pieces)
    missing = tuple(name for name in USUAL_PIECES if name not in known)
    return Asked(question="which piece?", offers=missing + known)


def _trace(found: Found, piece: str) -> tuple[str, ...]:
    out = found.left.pattern or f"{NEW_PATTERN}.yaml"
    known = found.pattern is not None and any(one.name == piece for one in found.pattern.pieces)
    again = ("--again",) if known and not found.has(f"{out.removesuffix('.yaml')}.{piece}.trace.json") else ()
    table = ("--table", str(found.left.table_path))
    return ("trace", *table, "--piece", piece, "--out", found.path(out), *again)


def _drafted(found: Found) -> str:
    changes = () if found.pattern is None else found.pattern.changes
    return f"{len(changes)} change{'' if len(changes) == 1 else 's'}" if changes else ""


def _laid(found: Found) -> str:
    path, drafted = found.left.pattern_path, found.drafted
    if path is None or drafted is None:
        return ""
    try:
        if not is_kept(lay_path(path), found.left.pattern_version):
            return ""
        lay, unit = read_lay(lay_path(path), found.left.pattern_version, drafted)
    except ProjectorError:
        return "planned for other pieces"
    return f"{FOLD_WORDS[lay.folding.fold]}, {said_in(lay.cloth.bought_width_in, unit)} wide"


def _how_wide(found: Found) -> Asked:
    kept = (AS_PLANNED,) if _laid(found) else ()
    return Asked(question="how wide is the cloth?", offers=(*kept, *USUAL_WIDTHS), bindings=LENGTH)


def _lay(found: Found, width: str) -> tuple[str, ...]:
    command = _opened("lay")(found, "")
    return command if width == AS_PLANNED else (*command, "--width", width)


def _cut(found: Found) -> str:
    return "" if found.pattern is None else _cut_of(found, found.pattern.name)


def _cut_of(found: Found, pattern: str) -> str:
    work = found.work(pattern)
    if work is None or not work.begun:
        return ""
    copies = [copy for copy in work.copies if copy.gives]  # the others come with one of them
    return f"{sum(map(_is_cut, copies))} of {len(copies)} cut"


def _is_cut(copy: CopyWork) -> bool:
    """Whether the last cut of it is made."""
    last = CUT.name if copy.reaches is None else f"{CUT.name} {len(copy.reaches.reaches)}"
    return last in copy.ticked


def _opened(verb: str) -> Callable[[Found, str], tuple[str, ...]]:
    def command(found: Found, _: str) -> tuple[str, ...]:
        left = found.left
        version = ("--version", left.pattern_version) if left.pattern_version else ()
        return (verb, str(left.pattern_path), "--table", str(left.table_path), *version)

    return command


STEPS: Final = (
    Step(name="print", does="print the alignment sheets",
         hint="Print at 100 % and measure the ruler on the sheets: its length is asked for next.",
         done=_printed, needs=_nothing, command=_print,
         asks=_which_paper),
    Step(name="align", does="align the light to the table",
         hint="Lay the sheets flat where you cut. The light asks for one printed mark after the other.",
         done=_aligned, needs=_nothing, command=_align,
         asks=_how_long_printed),
    Step(name="ruler", does="ruler test: hold a tape to the light",
         hint="Hold a tape to each line of light and type what it says. Nothing else knows what an inch is.",
         done=_ruled, needs=_an_alignment, command=_rule),
    Step(name="practise", does="practice piece: a pocket, from paper",
         hint="Fold a sheet of paper, lay its fold on the fold of light, cut along the line, and measure it.",
         done=_practised, needs=_an_alignment,
         command=_practise),
    Step(name="trace", does="trace the garment",
         hint="Fold the garment on its centre and lay it flat. The cross of light walks round its edge.",
         done=_traced, needs=_an_alignment, command=_trace,
         asks=_which_piece),
    Step(name="draft", does="draft: change it, true it",
         hint="Necks, lengths, widths, facings: every change is seen at full size and can be taken back.",
         done=_drafted, needs=_a_pattern, command=_opened("draft")),
    Step(name="lay", does="lay: fold the cloth, place the pieces",
         hint="How much to buy, how to fold it, and where each piece lies on it.",
         done=_laid, needs=_a_pattern, command=_lay, asks=_how_wide),
    Step(name="cut", does="cut along the light",
         hint="Dim the room, not the floor. Close the blade whenever you put it down, and cut away from your hand.",
         done=_cut, needs=_a_pattern, command=_opened("cut")),
    Step(name="sew", does="the sewing card",
         hint="The steps for this very garment, with its own lengths.",
         done=_nothing, needs=_a_pattern, command=_opened("card")),
)  # fmt: skip
