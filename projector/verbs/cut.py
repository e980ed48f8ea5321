"""The verb `cut`: pieces as light on the table, or as the picture that the projector would show."""

import json
import sys
from argparse import Namespace
from collections.abc import Mapping
from dataclasses import replace
from datetime import datetime
from typing import Any

from calibration.table.saved import Alignment
from patterns import read_pattern
from patterns.cutting.drafted import DraftedPattern
from patterns.cutting.marks import LineKind, marks_of
from patterns.laying.rules import violations
from projector.cloth.ground import Ground
from projector.cloth.laid_pieces import in_the_middle
from projector.cutting.kept import CutSession, KeptWork
from projector.cutting.stage import Stage
from projector.errors import ProjectorError
from projector.laying.for_cutting import kept_lay, resumed_by_lay
from projector.lighting.canvas import frame
from projector.lighting.lit_area import lit_area
from projector.outputs import write_picture
from projector.places import known_as, places_path
from projector.scene import Controls
from projector.session import Session
from projector.stations.cut import CutStation
from projector.stations.refusal import RefusalStation
from projector.trust import good_to_in, ruler_words
from projector.verbs.cloth import look_for
from projector.verbs.setup import check_size, setup_to_show


def cut(arguments: Namespace) -> int:
    """Run the verb; the exit code."""
    pattern = read_pattern(arguments.pattern)
    drafted = pattern.drafted(arguments.version)
    for warning in drafted.warnings:
        print(warning, file=sys.stderr)
    setup = setup_to_show(arguments)
    alignment = setup.in_force()
    check_size(arguments.window, alignment, "--window")
    ground = Ground(
        pieces=tuple(drafted.pieces.values()),
        alignment=alignment,
        lit=lit_area(alignment.map),
        warnings=setup.warnings(datetime.now().astimezone()),
        tested=ruler_words(setup.ruler_tests),
        unit=pattern.unit,
    )
    if arguments.frame is not None:
        return _write_frame(arguments, ground)
    return _project(arguments, ground, drafted)


def _warn(arguments: Namespace, ground: Ground) -> None:
    for warning in ground.warnings:
        where = f"{arguments.table}, {ground.alignment.name}"
        print(f"{where}: {warning}; see chalkbeam check --help", file=sys.stderr)


def _distrust(alignment: Alignment) -> str:
    return f"This alignment cannot be trusted, so no cut lines are shown: {alignment.verdict}. Align again."


def _station(arguments: Namespace, ground: Ground) -> CutStation:
    return _showing(arguments, CutStation.begun(ground))


def _showing(arguments: Namespace, station: CutStation) -> CutStation:
    names = [piece.name for piece in station.ground.pieces]
    if arguments.piece is None:
        return station
    if arguments.piece not in names:
        raise ProjectorError(
            f'found no piece "{arguments.piece}"; the pattern has {", ".join(dict.fromkeys(names))}'
        )
    return replace(station, shown=names.index(arguments.piece))


def _placed(arguments: Namespace, station: CutStation) -> CutStation:
    """The shown piece laid as asked on the command line, in the drawing's frame."""
    ground = station.ground
    alignment = ground.alignment
    if arguments.opened and station.piece.fold is None:
        raise ProjectorError(f"{station.piece.name} has no fold to open; leave --opened out")
    placement = replace(station.placement, mirrored=arguments.mirrored, opened=arguments.opened)
    if arguments.at is None:
        placement = in_the_middle(station.piece, placement, ground.lit, station.person)
    if arguments.turn is not None:
        turned = replace(placement, turn_deg=arguments.turn + alignment.turn_deg)
        placement = station.placed(placement).laid.kept_in_place(turned) if arguments.at is None else turned
    if arguments.at is not None:
        x, y = station.ground.person(0).axes.T @ arguments.at + alignment.shift_in
        placement = replace(placement, x_in=float(x), y_in=float(y))
    return station.placed(placement)


def _seen(arguments: Namespace, station: CutStation) -> CutStation:
    """The station in the look that was asked for; a new look comes with its own line."""
    seeing = station.work.seeing
    name = arguments.look if arguments.cloth is None else look_for(arguments.cloth)[0].name
    if name is not None:
        seeing = replace(seeing, name=name, line_in=None)
    line_in, text_in = arguments.line or seeing.line_in, arguments.text or seeing.text_in
    seeing = replace(seeing, line_in=line_in, text_in=text_in)
    return replace(station, work=replace(station.work, seeing=seeing))


def _write_frame(arguments: Namespace, ground: Ground) -> int:
    alignment = ground.alignment
    if not alignment.trustworthy:
        raise ProjectorError(_distrust(alignment))
    station = _placed(arguments, _seen(arguments, _station(arguments, ground)))
    scene = station.scene(Controls(preview=arguments.window is not None))
    write_picture(arguments.frame, frame((layer.draw() for layer in scene), alignment.map.screen_px))
    _warn(arguments, ground)
    if arguments.json:
        print(json.dumps(_result(station)))
    else:
        words = station.strip_words(Controls())
        print(f"{arguments.frame}: {', '.join((*words.first, *words.aside))}")
    return 0


def _result(station: CutStation) -> Mapping[str, Any]:
    """What the frame shows, in table inches."""
    piece, placement, alignment = station.piece, station.placement, station.ground.alignment
    marks = marks_of(piece, placement)
    outline = {kind: marks.of_kind(kind) for kind in LineKind}
    words = station.strip_words(Controls())
    return {
        "piece": piece.name,
        "origin_in": [placement.x_in, placement.y_in],
        "turn_deg": placement.turn_deg,
        "mirrored": placement.mirrored,
        "opened": placement.opened,
        "cut_line_in": outline[LineKind.CUT][0].points.tolist(),
        "seam_line_in": outline[LineKind.SEAM][0].points.tolist(),
        "fold_in": [line.points.tolist() for line in outline[LineKind.FOLD]],
        "notches_in": [line.points.tolist() for line in outline[LineKind.NOTCH]],
        "screen_px": list(alignment.map.screen_px),
        "good_to_in": good_to_in(alignment, station.outline_in),
        "size_checked": alignment.size_checked,
        "setup": alignment.name,
        "warnings": list(station.ground.warnings),
        "strip": [*words.first, *words.aside],
        "look": station.look.name,
    }


def draw_all(station: CutStation) -> None:
    """Each copy drawn once, unseen, which finds room for its words: in the window none comes later than another."""
    for number in station.copies.order:
        for layer in replace(station, stage=Stage.CUTTING, shown=number).scene(Controls()):
            layer.draw()


def _project(arguments: Namespace, ground: Ground, drafted: DraftedPattern) -> int:
    from projector.verbs.where import where_asked
    from projector.window import run

    alignment = ground.alignment
    screen_px, where = alignment.map.screen_px, where_asked(arguments)
    if not alignment.trustworthy:
        reason = _distrust(alignment)
        run(Session(RefusalStation(reason=reason, screen_px=screen_px)), where, screen_px, lambda _: None)
        raise ProjectorError(reason)
    name = known_as(drafted.name, arguments.version)
    kept = KeptWork(path=places_path(arguments.table), setup=alignment.name, pattern=name)
    lay = kept_lay(arguments, drafted)
    if lay is None:
        station = kept.resumed(_station(arguments, ground))
    else:
        station = _showing(arguments, resumed_by_lay(ground, lay, kept.work))
        for broken in violations(lay):
            print(f"look: {broken}", file=sys.stderr)
    station = _seen(arguments, station)
    if arguments.at or arguments.turn is not None or arguments.mirrored or arguments.opened:
        station = replace(_placed(arguments, station), stage=Stage.LAYING)  # it lies no more as it was left
    _warn(arguments, ground)
    draw_all(station)
    session = CutSession(station, kept, preview=arguments.window is not None)
    run(session, where, screen_px, lambda _: None)
    return 0
