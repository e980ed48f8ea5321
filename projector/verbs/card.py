"""The verb `card`: the sewing card of a pattern, said or as a PDF."""

import json
from argparse import Namespace
from collections.abc import Iterator

from patterns import read_pattern
from patterns.paper.card import CAUTIONS, card
from patterns.sewing.step import Step
from projector.outputs import write_bytes


def card_of(arguments: Namespace) -> int:
    """Run the verb; the exit code."""
    pattern = read_pattern(arguments.pattern)
    drafted = pattern.drafted(arguments.version)
    steps = card(drafted, pattern.finish)
    name = f"{drafted.name}, {arguments.version}" if arguments.version else drafted.name
    if arguments.out is not None:
        from projector.pictures.card_page import card_page

        write_bytes(arguments.out, card_page(name, steps, arguments.paper))
    if arguments.json:
        told = [
            {"title": step.title, "says": list(step.sentences), "lengths": list(step.lengths)}
            for step in steps
        ]
        print(json.dumps({"pattern": name, "steps": told, "cautions": list(CAUTIONS)}))
    elif arguments.out is not None:
        print(f"{arguments.out}: {name}, {len(steps)} steps")
    else:
        print("\n".join(_lines(name, steps)))
    return 0


def _lines(name: str, steps: tuple[Step, ...]) -> Iterator[str]:
    yield name
    for number, step in enumerate(steps, start=1):
        yield f"{number:2}  {step.title}"
        yield from (f"      {sentence}" for sentence in step.sentences)
    yield from CAUTIONS
