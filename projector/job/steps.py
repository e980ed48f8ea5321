"""The steps of the job in order: what each is, what is done of it so far, and the command that it runs.

The window has no powers of its own: whatever it opens could have been typed.
"""

from collections.abc import Callable
from dataclasses import dataclass
from typing import Final

from projector.job import lay_questions, questions, states
from projector.job.asked import Answers, Asked, of_nothing
from projector.job.found import PRACTICE, SHEETS, Found
from projector.job.questions import BY_CAMERA, BY_MAT

SHEETS_LAID: Final = "5"

Command = tuple[str, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Step:
    """`done` is empty where nothing is done yet; `needs` is empty where nothing is missing.

    `command` takes what was found and the answers to all that it `asks`, of which the first decide the next.
    `over` says whether the job goes on to the next step; where it is not given, once anything is done. `kept` is
    said when the step is left. `again` is how it is answered where it goes on after a fall.
    """

    name: str
    does: str
    hint: str
    done: Callable[[Found], str]
    needs: Callable[[Found], str]
    command: Callable[[Found, Answers], Command]
    asks: Callable[[Found, Answers], tuple[Asked, ...]] = of_nothing
    over: Callable[[Found], bool] | None = None
    kept: Callable[[Found], str] = lambda _: ""
    again: Callable[[Found, Answers], Answers] = lambda _, answers: answers

    def is_over(self, found: Found) -> bool:
        """Whether the job goes on to the next."""
        return bool(self.done(found)) if self.over is None else self.over(found)

    def asked(self, found: Found, answers: Answers) -> Asked | None:
        """The next question; None once all are answered."""
        return next(iter(self.asked_still(found, answers)), None)

    def asked_still(self, found: Found, answers: Answers) -> tuple[Asked, ...]:
        """All that is known to be asked after those answers."""
        return self.asks(found, answers)[len(answers) :]


def next_step(found: Found) -> int:
    """The number of the first step that is not over; the last where all are."""
    over = [step.is_over(found) for step in STEPS]
    return over.index(False) if False in over else len(STEPS) - 1


def next_after(found: Found, number: int) -> int:
    """The number of the step after one that was left: itself if it is not over, else the next one that is not."""
    left = [later for later in range(number, len(STEPS)) if not STEPS[later].is_over(found)]
    return left[0] if left else next_step(found)


def number_of(name: str | None) -> int | None:
    """The place of the step of that name."""
    names = [step.name for step in STEPS]
    return names.index(name) if name in names else None


def _nothing(_: Found) -> str:
    return ""


def _an_alignment(found: Found) -> str:
    return "" if found.setup else "align first"


def _a_pattern(found: Found) -> str:
    if found.setup is None or found.pattern is not None:
        return _an_alignment(found)
    other = "choose a garment, left or right" if found.patterns else "copy a pattern file into the folder"
    return f"trace first, or {other}"


def _print(found: Found, answers: Answers) -> Command:
    return ("sheet", "--paper", answers[0], "--count", SHEETS_LAID, "--out", found.path(SHEETS))


def _align(found: Found, answers: Answers) -> Command:
    left = found.left
    table = ("--table", str(left.table_path))
    if answers[0] == BY_MAT:
        return ("align", "--by-hand", "--mat-pitch", answers[1], "--mat-size", answers[2], *table)
    how = ("--camera", answers[1]) if answers[0] == BY_CAMERA else ("--by-hand",)
    sheets = ("--paper", left.paper, "--sheets", SHEETS_LAID, "--printed-ruler", answers[-1])
    return ("align", *how, *sheets, *table)


def _rule(found: Found, _: Answers) -> Command:
    return ("check", "--table", str(found.left.table_path))


def _practise(found: Found, _: Answers) -> Command:
    return ("cut", found.path(PRACTICE), "--table", str(found.left.table_path))


def _trace(found: Found, answers: Answers) -> Command:
    piece = answers[-1]
    out = found.left.pattern or f"{answers[0]}.yaml"
    known = found.pattern is not None and any(one.name == piece for one in found.pattern.pieces)
    again = ("--again",) if known and not found.has(f"{out.removesuffix('.yaml')}.{piece}.trace.json") else ()
    table = ("--table", str(found.left.table_path))
    return ("trace", *table, "--piece", piece, "--out", found.path(out), *again)


def _lay(found: Found, answers: Answers) -> Command:
    return (*_opened("lay")(found, answers), *lay_questions.options(answers))


def _opened(verb: str) -> Callable[[Found, Answers], Command]:
    def command(found: Found, _: Answers) -> Command:
        left = found.left
        version = ("--version", left.pattern_version) if left.pattern_version else ()
        return (verb, str(left.pattern_path), "--table", str(left.table_path), *version)

    return command


STEPS: Final = (
    Step(name="print", does="print the alignment sheets",
         hint="It writes them as a PDF. Print that at 100 % and measure the ruler on it: its length is asked for next.",
         done=states.printed, needs=_nothing, command=_print, asks=questions.of_paper,
         kept=lambda found: f"Written: {found.place_of(SHEETS)}. Print it at 100 %, and measure the ruler on it."),
    Step(name="align", does="align the light to the table",
         hint="Lay the sheets flat where you cut, 1 in the middle, the others towards the corners of the light. It "
              "asks for one printed mark after the other. By hand, a ruled mat is truer.",
         done=states.aligned, needs=_nothing, command=_align, asks=questions.of_alignment,
         over=lambda found: found.setup is not None, kept=states.kept_alignment),
    Step(name="ruler", does="ruler test: hold a tape to the light",
         hint="Hold a tape to each line of light and type what it says. Nothing else knows what an inch is.",
         done=states.ruled, needs=_an_alignment, command=_rule, over=states.ruled_well,
         kept=states.kept_ruler),
    Step(name="practise", does="practice piece: a pocket, from paper",
         hint="Fold a sheet of paper, lay its fold on the fold of light, cut along the line, and measure it.",
         done=states.practised, needs=_an_alignment, command=_practise, kept=states.kept_practice),
    Step(name="trace", does="trace the garment",
         hint="Fold the garment on its centre and lay it flat. The cross of light walks round its edge.",
         done=states.traced, needs=_an_alignment, command=_trace, asks=questions.of_piece,
         over=lambda found: found.pattern is not None, kept=states.kept_trace),
    Step(name="draft", does="draft: change it, true it",
         hint="Necks, lengths, widths, facings: every change is seen at full size and can be taken back.",
         done=states.drafted, needs=_a_pattern, command=_opened("draft"), kept=states.kept_pattern),
    Step(name="lay", does="lay: fold the cloth, place the pieces",
         hint="How much to buy, how to fold it, and where each piece lies on it.",
         done=states.laid, needs=_a_pattern, command=_lay, asks=lay_questions.of_cloth, kept=states.kept_lay,
         again=lay_questions.again),
    Step(name="cut", does="cut along the light",
         hint="Dim the room, not the floor. Close the blade whenever you put it down, and cut away from your hand.",
         done=states.cut, needs=_a_pattern, command=_opened("cut"), over=states.all_cut, kept=states.kept_cut),
    Step(name="sew", does="the sewing card",
         hint="The steps for this very garment, with its own lengths.",
         done=states.sewn, needs=_a_pattern, command=_opened("card"), over=lambda _: False),
)  # fmt: skip
