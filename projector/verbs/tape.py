"""The verb `tape`: a captured piece held against a tape measure."""

import json
from argparse import Namespace

from patterns.checks.half_measures import captured
from patterns.files.reader import read_pattern
from patterns.measures import said_in
from projector.tracing.tape_words import checked, opposite, results, words
from projector.tracing.traced_file import piece_of


def tape(arguments: Namespace) -> int:
    """What was taped beside what was captured; with nothing taped, all that was captured. The exit code."""
    pattern = read_pattern(arguments.pattern)
    piece = piece_of(pattern, arguments.piece, arguments.pattern)
    if arguments.taped:
        checks = checked(pattern, piece, arguments.taped)
        if arguments.json:
            warnings = [check.warning for check in checks if check.warning]
            print(json.dumps({"piece": piece.name, "taped": results(checks), "warnings": warnings}))
        else:
            print("\n".join(words(checks)))
        return 0
    told = captured(piece, opposite(pattern, piece), pattern.unit)
    if arguments.json:
        print(json.dumps({"piece": piece.name, "captured_in": dict(told)}))
        return 0
    print(f"{piece.name} of {pattern.name}, as it lies folded, on its seam line:")
    for what, length_in in told:
        print(f"  {what:<22} {said_in(length_in, pattern.unit):>12}")
    return 0
