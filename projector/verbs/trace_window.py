"""The verb `trace` on the table: with a cross of light, or with the outline of a photo laid on the garment."""

from argparse import Namespace
from datetime import datetime
from pathlib import Path
from typing import Final

import scipy.interpolate  # noqa: F401  # loaded before the light, or the first curve would be waited for

from calibration.table.saved import Alignment
from calibration.table.setups import Setup
from patterns.files.reader import read_pattern
from patterns.parts import check_name
from patterns.piece import Piece
from patterns.saying import Say
from patterns.tracing.hand_trace import HandTrace
from patterns.tracing.laid_piece import LaidPiece
from projector.actions import Action
from projector.errors import ProjectorError
from projector.lighting.lit_area import lit_area
from projector.session import Session
from projector.stations.trace import TraceStation, Work
from projector.tracing.file import KeptTrace, keep_trace, kept_path, read_kept
from projector.tracing.goal import Goal
from projector.tracing.ground import TraceGround
from projector.tracing.photo_frame import photo_frame
from projector.tracing.traced_file import pattern_with, pattern_without, with_piece, write_piece
from projector.verbs.setup import check_size, setup_asked
from projector.verbs.trace import traced_from_photo
from projector.verbs.where import where_asked
from projector.window import run

UNPROVED: Final = "nothing shows that all is as it was aligned: look whether the light lies on the garment"


def trace_in_window(arguments: Namespace) -> int:
    """Trace with a cross of light, or go on with a trace that is kept; the exit code."""
    check_name(arguments.piece)
    setup = setup_asked(arguments)
    alignment = _alignment(setup, arguments)
    kept_in = kept_path(arguments.out, arguments.piece)
    kept = read_kept(kept_in) if kept_in.exists() else None
    if kept is not None and arguments.again and not isinstance(kept.lies, HandTrace):
        kept = None  # where it lay does not matter to an outline that is taken anew
    work = _begun(arguments, kept, kept_in)
    notice = ""
    if kept is not None:
        notice = kept.doubt(alignment) or _going_on(work)
        print(f"{kept_in}: {notice}", flush=True)
    return _traced(arguments, setup, work, notice)


def trace_photo_and_show(arguments: Namespace) -> int:
    """Trace a photo, and lay its outline in light on the garment; the exit code."""
    setup = setup_asked(arguments)
    alignment = _alignment(setup, arguments)
    kept_in = kept_path(arguments.out, arguments.piece)
    if kept_in.exists() and isinstance(read_kept(kept_in).lies, HandTrace):
        raise ProjectorError(
            f"{kept_in} has an outline that was begun with the cross; leave --photo out to go on with it, or delete it"
        )
    found, traced = traced_from_photo(arguments)
    try:
        frame = photo_frame(found.camera, alignment)
    except ProjectorError as error:
        raise ProjectorError(f"{arguments.out} is written, but {error}") from error
    placement = frame.on_table(traced.placement)
    keep_trace(kept_in, placement, alignment)
    work = LaidPiece(piece=_written(arguments, kept_in), placement=placement)
    return _traced(arguments, setup, work, "" if frame.moved_in is not None else UNPROVED)


def _traced(arguments: Namespace, setup: Setup, work: Work, notice: str) -> int:
    """Run the window; the exit code."""
    ground = _ground(arguments, setup)
    station = TraceStation.begun(ground, work, arguments.offset or (0.0, 0.0), notice)
    session = _KeptSession(station, arguments.out, preview=arguments.window is not None)
    run(session, where_asked(arguments), ground.alignment.map.screen_px, lambda _: None)
    traced, kept_in = session.station.work, kept_path(arguments.out, arguments.piece)
    if isinstance(traced, HandTrace):
        raise ProjectorError(
            f"left before the outline was written; what is traced so far waits in {kept_in} for the next time"
        )
    say = Say(traced.piece.unit)
    lengths = (f"{edge.name} {say(edge.curve.length_in)}" for edge in traced.piece.edges)
    print(f"{arguments.out}: {traced.piece.name} with {', '.join(lengths)}")
    return 0


class _KeptSession(Session[TraceStation]):
    """A session whose every change is on disk before its light is seen."""

    def __init__(self, station: TraceStation, out: Path, *, preview: bool) -> None:
        super().__init__(station, preview=preview)
        self._out = out

    def take(self, action: Action) -> None:
        before = self.station.work
        super().take(action)
        if self.station.work is not before:
            self._keep(self.station.ground, self.station.work)

    def _keep(self, ground: TraceGround, work: Work) -> None:
        kept_in = kept_path(self._out, ground.piece)
        if isinstance(work, HandTrace):
            keep_trace(kept_in, work, ground.alignment)
            return
        # the piece first: until it is in its file, its outline must not be lost
        write_piece(self._out, work.piece)
        keep_trace(kept_in, work.placement, ground.alignment)


def _alignment(setup: Setup, arguments: Namespace) -> Alignment:
    """What to light the table by; ProjectorError where it fits no screen, or is not to be trusted."""
    alignment = setup.in_force()
    check_size(arguments.window, alignment, "--window")
    if not alignment.trustworthy:
        raise ProjectorError(
            f"this alignment cannot be trusted to trace by: {alignment.verdict}; align again"
        )
    return alignment


def _begun(arguments: Namespace, kept: KeptTrace | None, kept_in: Path) -> Work:
    """What there is to go on with, or a trace of nothing yet."""
    if kept is None:
        known = pattern_with if arguments.again else pattern_without
        known(arguments.out, arguments.piece)
        if not kept_in.parent.is_dir():
            raise ProjectorError(
                f"{kept_in.parent}: no such folder; make it, or name another file with --out"
            )
        return HandTrace()
    if isinstance(kept.lies, HandTrace):
        return kept.lies
    return LaidPiece(piece=_written(arguments, kept_in), placement=kept.lies)


def _written(arguments: Namespace, kept_in: Path) -> Piece:
    """The piece as its pattern file has it now."""
    pieces = read_pattern(arguments.out).pieces if arguments.out.exists() else ()
    for piece in pieces:
        if piece.name == arguments.piece:
            return piece
    raise ProjectorError(
        f"{arguments.out} has no piece {arguments.piece} any more, though {kept_in} says where it lies; delete "
        f"{kept_in} to trace it anew"
    )


def _going_on(work: Work) -> str:
    if isinstance(work, LaidPiece):
        return f"{work.piece.name} where it was traced"
    state = "closed" if work.closed else "not closed yet"
    return f"going on with the outline that was begun, {state}"


def _ground(arguments: Namespace, setup: Setup) -> TraceGround:
    out: Path = arguments.out
    pattern = read_pattern(out) if out.exists() else None
    pieces = () if pattern is None else pattern.pieces
    old = next((piece for piece in pieces if piece.name == arguments.piece), None)
    goal = Goal(file=out, pattern=pattern, old=old, forward=None)
    alignment = setup.in_force()
    return TraceGround(
        piece=arguments.piece,
        unit=goal.unit,
        file=out.name,
        alignment=alignment,
        lit=lit_area(alignment.map),
        judge=lambda piece: with_piece(pattern, piece, out).drafted(),
        old=old,
        names=tuple(goal.names(arguments.edges) or ()),
        moves=tuple(arguments.moves),
        warnings=setup.warnings(datetime.now().astimezone()),
    )
