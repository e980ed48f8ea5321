"""The verb `align --by-hand`: crosses of light moved on to printed marks, without a camera."""

from argparse import Namespace

from calibration.by_hand import HandAlignment
from calibration.sheet import PAPERS
from calibration.table_file import save_alignment
from projector.alignment_picture import Known, write_alignment_picture
from projector.crosses import crosses_path, keep_crosses, set_aside, with_kept_crosses
from projector.errors import ProjectorError
from projector.session import Session
from projector.stations.align import AlignStation
from projector.verbs.align import report
from projector.window import InWindow, OnDisplay, Where, display_sizes, run


def by_hand(arguments: Namespace) -> int:
    """An alignment from crosses moved on to marks; the exit code."""
    where, screen_px = _screen(arguments)
    kept_in = crosses_path(arguments.table)
    begun = _begun(arguments, screen_px)
    aside = set_aside(kept_in, begun)
    notice = "" if aside is None else f"crosses of another table, mat or screen are kept in {aside.name}"
    station = AlignStation.begun(with_kept_crosses(kept_in, begun), arguments.setup, notice)
    session = Session(station, preview=arguments.window is not None)

    def keep(station: AlignStation) -> None:
        if station.alignment.crosses or kept_in.exists():
            keep_crosses(kept_in, station.alignment)

    run(session, where, screen_px, keep)
    result = session.station.result
    if result is None:
        placed = len(session.station.alignment.placed)
        raise ProjectorError(
            f"left without an alignment; {placed} cross(es) placed, which wait in {kept_in} for the next time"
        )
    save_alignment(arguments.table, result)
    kept_in.unlink(missing_ok=True)
    if arguments.picture is not None:
        known = Known(alignment=result, arrows_in=session.station.alignment.residual_arrows)
        write_alignment_picture(arguments.picture, known)
    report(result, arguments)
    return 0


def _begun(arguments: Namespace, screen_px: tuple[int, int]) -> HandAlignment:
    if arguments.mat_pitch is not None:
        return HandAlignment.over_mat(screen_px, arguments.mat_pitch, arguments.mat_size)
    paper = PAPERS[arguments.paper]
    return HandAlignment.over_sheets(screen_px, paper, arguments.sheets, arguments.printed_ruler)


def _screen(arguments: Namespace) -> tuple[Where, tuple[int, int]]:
    """Where to show the crosses, and how many pixels there are."""
    if arguments.window is not None:
        where: Where = InWindow(size_px=arguments.window)
        size = arguments.window
    else:
        sizes = display_sizes()
        where = OnDisplay(number=arguments.display)
        size = sizes[min(arguments.display, len(sizes) - 1)]
    if arguments.screen is not None and arguments.screen != size:
        raise ProjectorError(
            f"--screen is {arguments.screen[0]}x{arguments.screen[1]}, but the display is "
            f"{size[0]}x{size[1]}; leave --screen out, or set the display to it"
        )
    return where, size
