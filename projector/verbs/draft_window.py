"""The verb `draft` on the table: a pattern changed live, in its light, its file kept up with it."""

from argparse import Namespace
from dataclasses import replace
from datetime import datetime

from patterns.checks.head_check import USUAL_HEAD_IN
from patterns.errors import PatternError
from patterns.files.kept_file import KeptFile
from projector.actions import Action
from projector.drafting.checks import Wearer
from projector.drafting.ground import DraftGround
from projector.drafting.opening import opened
from projector.drafting.work import DraftWork
from projector.errors import ProjectorError
from projector.lighting.lit_area import lit_area
from projector.session import Session
from projector.stations.draft import DraftStation
from projector.verbs.setup import check_size, setup_asked
from projector.verbs.where import where_asked
from projector.window import run


def draft_in_window(arguments: Namespace) -> int:
    """Draft on the table; the exit code."""
    file = KeptFile.of(arguments.pattern)
    setup = setup_asked(arguments)
    alignment = setup.in_force()
    check_size(arguments.window, alignment, "--window")
    if not alignment.trustworthy:
        raise ProjectorError(
            f"this alignment cannot be trusted to draft by: {alignment.verdict}; align again"
        )
    ground = DraftGround(
        alignment=alignment,
        lit=lit_area(alignment.map),
        wearer=Wearer(head_in=arguments.head or USUAL_HEAD_IN, opening_in=arguments.opening or 0.0),
        warnings=setup.warnings(datetime.now().astimezone()),
    )
    work, notice = opened(file.pattern, arguments.version, ground.under)
    station = replace(DraftStation.begun(ground, _showing(work, arguments.piece)), notice=notice)
    session = DraftSession(station, file, preview=arguments.window is not None)
    run(session, where_asked(arguments), alignment.map.screen_px, lambda _: None)
    return 0


class DraftSession(Session[DraftStation]):
    """A session whose every change is in the pattern file before its light is seen; else it is not made."""

    def __init__(self, station: DraftStation, file: KeptFile, *, preview: bool = False) -> None:
        super().__init__(station, preview=preview)
        self._file = file

    def take(self, action: Action) -> None:
        before = self.station
        super().take(action)
        if self.station.work.pattern is before.work.pattern:
            return
        try:
            self._file = self._file.keep(self.station.work.pattern)
        except PatternError as error:
            self.station = before.refusing(error)


def _showing(work: DraftWork, name: str | None) -> DraftWork:
    """With that piece lit; ProjectorError where there is none of that name."""
    names = list(work.drafted.pieces)
    if name is not None and name not in names:
        raise ProjectorError(f'found no piece "{name}"; the pattern has {", ".join(names)}')
    return work.showing(0 if name is None else names.index(name))
