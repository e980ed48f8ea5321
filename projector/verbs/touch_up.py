"""The verb `trace` without a photo or a table: a piece in its file is touched up."""

from argparse import Namespace

from projector.tracing.goal import shoulder_asked, with_shoulder_forward
from projector.tracing.traced_file import pattern_with, piece_of, write_piece
from projector.verbs.trace import touched_up


def touch_up(arguments: Namespace) -> int:
    """Smooth, straighten and move edges of the piece as was asked; the exit code."""
    pattern = pattern_with(arguments.out, arguments.piece)
    forward = shoulder_asked(arguments, pattern)
    piece = touched_up(piece_of(pattern, arguments.piece, arguments.out), arguments)
    write_piece(
        arguments.out, piece, lambda now: now if forward is None else with_shoulder_forward(now, forward)
    )
    done = [f"{edge} smoothed" for edge in arguments.smooth]
    done += [f"{edge} straightened" for edge in arguments.straighten]
    done += [f"{edge} moved {'out' if out_in > 0 else 'in'}" for edge, out_in in arguments.moves]
    if forward is not None:
        done.append(f"shoulder {forward.words} forward")
    print(f"{arguments.out}: {piece.name} with {', '.join(done)}")
    return 0
