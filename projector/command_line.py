"""The command `chalkbeam`: parses, calls, prints. What a verb needs is imported when it is called."""

import os
import sys
from argparse import ArgumentParser, Namespace, RawDescriptionHelpFormatter
from collections.abc import Callable, Mapping, Sequence
from importlib import import_module
from io import TextIOWrapper
from typing import Final

from projector.usage.align import ALIGN
from projector.usage.card import CARD
from projector.usage.check import CHECK
from projector.usage.cut import CUT
from projector.usage.demo import DEMO
from projector.usage.draft import DRAFT
from projector.usage.export import EXPORT
from projector.usage.import_ import IMPORT
from projector.usage.lay import LAY
from projector.usage.open import OPEN
from projector.usage.sheet import SHEET
from projector.usage.tape import TAPE
from projector.usage.trace import TRACE
from projector.usage.verb import Verb

VERBS: Final = {
    verb.name: verb
    for verb in (DEMO, SHEET, ALIGN, CHECK, TRACE, TAPE, DRAFT, LAY, CUT, CARD, EXPORT, IMPORT, OPEN)
}
MENDABLE_EXIT: Final = 1


def main(arguments: Sequence[str] | None = None) -> int:
    """Run one command; the exit code: 0 done, 1 something a person can mend, 2 usage."""
    # Our matrices are small: OpenBLAS's own threads would wait for one another longer than they work.
    os.environ.setdefault("OPENBLAS_NUM_THREADS", "1")
    for stream in (sys.stdout, sys.stderr):
        if isinstance(stream, TextIOWrapper):
            stream.reconfigure(errors="replace")  # a name that the terminal cannot spell is no reason to stop
    verb, typed = parsed(sys.argv[1:] if arguments is None else arguments)
    from projector.errors import MENDABLE

    try:
        return run_parsed(verb, typed)
    except MENDABLE as error:
        print(f"chalkbeam {verb.name}: {error}", file=sys.stderr)
    except OSError as error:
        where = f"{error.filename}: " if error.filename else ""
        print(f"chalkbeam {verb.name}: {where}{error.strerror or error}", file=sys.stderr)
    except KeyboardInterrupt:
        print(f"chalkbeam {verb.name}: stopped", file=sys.stderr)
    return MENDABLE_EXIT


def parsed(arguments: Sequence[str]) -> tuple[Verb, Namespace]:
    """What was typed, nothing being the same as `open`; exits with 2 and a sentence where it makes no command."""
    parser, parsers = _parsers()
    typed = parser.parse_args(arguments or [OPEN.name])
    verb = VERBS[typed.verb]
    complaint = verb.complaint(typed)
    if complaint:
        parsers[verb.name].error(complaint)
    return verb, typed


def run_parsed(verb: Verb, typed: Namespace) -> int:
    """Do it; the exit code. What a person can mend is raised."""
    return _named(verb.runs(typed))(typed)


def _named(name: str) -> Callable[[Namespace], int]:
    module, _, function = name.rpartition(".")
    found: Callable[[Namespace], int] = getattr(import_module(module), function)
    return found


def _parsers() -> tuple[ArgumentParser, Mapping[str, ArgumentParser]]:
    """The parser of the whole line, and that of each verb."""
    parser = ArgumentParser(
        prog="chalkbeam",
        description="Full-scale cut lines, seam lines and fold marks, projected on cloth.",
        epilog="Each verb has its own --help with an example. Without one, the whole job opens where it was left.",
    )
    verbs = parser.add_subparsers(dest="verb", required=True, metavar="VERB")
    for verb in VERBS.values():
        verb.options(_added(verbs.add_parser, verb))
    return parser, verbs.choices


def _added(add_parser: Callable[..., ArgumentParser], verb: Verb) -> ArgumentParser:
    return add_parser(
        verb.name,
        help=verb.does,
        description=f"{verb.does[0].upper()}{verb.does[1:]}.",
        epilog=f"example:\n{verb.example}",
        formatter_class=RawDescriptionHelpFormatter,
    )
