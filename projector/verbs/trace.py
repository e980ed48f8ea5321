"""The verb `trace`: one or two photos of a folded garment, or what a camera sees, become a piece of a file."""

from argparse import Namespace
from collections.abc import Iterator

from calibration.cameras.camera import Camera
from calibration.cameras.still import still_picture
from calibration.garment.silhouette import Picture, Silhouette, read_colour_photo
from patterns.piece import Piece
from patterns.tracing.averaging import averaged
from patterns.tracing.edge_shift import all_shifted
from patterns.tracing.outline import TracedPiece
from patterns.tracing.smoothing import smoothed, straightened
from projector.errors import ProjectorError
from projector.pictures.traced_picture import Outline, write_traced_picture
from projector.progress import Progress, on_terminal, quiet
from projector.tracing.goal import Goal
from projector.tracing.photo_finder import Find, by_sheets, by_standing_camera
from projector.tracing.photo_trace import Asked, PhotoTrace, photo_trace
from projector.tracing.report import Traced, report
from projector.tracing.tape_words import checked
from projector.tracing.traced_file import with_piece
from projector.usage.trace import USES
from projector.verbs.setup import setup_asked


def trace(arguments: Namespace) -> int:
    """Trace what photos or a camera show; the exit code."""
    traced_from_photo(arguments)
    return 0


def traced_from_photo(arguments: Namespace) -> tuple[Silhouette, TracedPiece]:
    """Trace, write the pattern file, and say how true the piece is; what the photo that is used shows."""
    goal = Goal.of(arguments)
    with quiet() if arguments.json else on_terminal() as progress:
        try:
            traces = _traces(arguments, goal, progress)
            traced = _one_of(traces, arguments.use)
            piece = goal.finished(touched_up(traced.piece, arguments))
        except KeyboardInterrupt as stopped:
            raise ProjectorError(f"stopped; nothing was written to {arguments.out}") from stopped
    if arguments.picture is not None:
        beside = tuple(one.traced.piece for one in traces) if len(traces) > 1 else ()
        shown = traced.of
        outline = Outline(piece=piece, placement=shown.traced.placement, beside=beside)
        write_traced_picture(arguments.picture, shown.photo, shown.found, outline)
    checks = checked(with_piece(goal.pattern, piece, goal.file), piece, arguments.taped)
    goal.write(piece)
    report(arguments, piece, traced, checks)
    return traced.of.found, traced.of.traced


def touched_up(piece: Piece, arguments: Namespace) -> Piece:
    """The piece with its edges smoothed, straightened and moved as was asked; PatternError where that cannot be."""
    for edge in arguments.smooth:
        piece = smoothed(piece, edge)
    for edge in arguments.straighten:
        piece = straightened(piece, edge)
    return all_shifted(piece, arguments.moves)


def _traces(arguments: Namespace, goal: Goal, progress: Progress) -> list[PhotoTrace]:
    asked = Asked.of(arguments, goal.names(arguments.edges), goal.unit)
    sides = arguments.fold or [None]
    find = _finder(arguments, progress)
    traces = []
    for number, (name, photo) in enumerate(_pictures(arguments, progress)):
        side = sides[min(number, len(sides) - 1)]
        traces.append(photo_trace(name, photo, side, asked, find))
        progress("fold and corners found")
    return traces


def _pictures(arguments: Namespace, progress: Progress) -> Iterator[tuple[str, Picture]]:
    """Each photo with its name, or what the camera sees."""
    if arguments.camera is not None:
        with Camera(arguments.camera) as camera:
            progress.of(camera.name)
            seen = still_picture(camera, progress)
        yield camera.name, seen
        return
    for path in arguments.photo:
        progress.of(path.name)
        photo = read_colour_photo(path)
        progress("photo read")
        yield str(path), photo


def _finder(arguments: Namespace, progress: Progress) -> Find:
    if arguments.table is None or (arguments.camera is None and not arguments.standing):
        return by_sheets(arguments, progress)
    return by_standing_camera(arguments, setup_asked(arguments).in_force(), progress)


def _one_of(traces: list[PhotoTrace], use: str | None) -> Traced:
    """The piece of the one photo, or of two: their average, or the one that is to be used."""
    first, *others = traces
    if not others:
        return Traced(piece=first.traced.piece, of=first, photos=(first,))
    between = averaged(first.traced.piece, others[0].traced.piece)
    of = first if use is None else traces[USES.index(use)]
    return Traced(
        piece=between.piece if use is None else of.traced.piece,
        of=of,
        photos=tuple(traces) if use is None else (of,),
        between=between,
    )
