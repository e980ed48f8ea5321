"""The verb `card` on the table: the steps as light, or as the picture that the projector would show."""

from argparse import Namespace
from dataclasses import replace

from patterns import read_pattern
from patterns.paper.card import CAUTIONS, card
from projector.errors import ProjectorError
from projector.lighting.canvas import frame
from projector.lighting.lit_area import lit_area
from projector.outputs import write_picture
from projector.scene import Controls
from projector.session import Session
from projector.sewing.kept import KeptStep, steps_path
from projector.stations.card import CardGround, CardStation
from projector.verbs.setup import check_size, setup_to_show


def card_on_table(arguments: Namespace) -> int:
    """Show the card; the exit code."""
    pattern = read_pattern(arguments.pattern)
    drafted = pattern.drafted(arguments.version)
    name = f"{drafted.name}, {arguments.version}" if arguments.version else drafted.name
    alignment = setup_to_show(arguments).in_force()
    check_size(arguments.window, alignment, "--window")
    ground = CardGround(
        name=name,
        steps=card(drafted, pattern.finish),
        cautions=CAUTIONS,
        alignment=alignment,
        lit=lit_area(alignment.map),
    )
    kept = KeptStep(path=steps_path(arguments.table), garment=name)
    station = _station(arguments, ground, kept)
    if arguments.frame is not None:
        return _write_frame(arguments, station)
    from projector.verbs.where import where_asked
    from projector.window import run

    session = Session(station, preview=arguments.window is not None)
    run(session, where_asked(arguments), alignment.map.screen_px, lambda shown: kept.write(shown.step.title))
    return 0


def _station(arguments: Namespace, ground: CardGround, kept: KeptStep) -> CardStation:
    """At the step that was asked for, or else where it was left."""
    station = CardStation.begun(ground, kept.read())
    if arguments.step is None:
        return station
    if arguments.step > len(ground.steps):
        raise ProjectorError(f"there is no step {arguments.step}; the card has {len(ground.steps)}")
    return replace(station, shown=arguments.step - 1)


def _write_frame(arguments: Namespace, station: CardStation) -> int:
    scene = station.scene(Controls(preview=arguments.window is not None))
    screen_px = station.ground.alignment.map.screen_px
    write_picture(arguments.frame, frame((layer.draw() for layer in scene), screen_px))
    words = station.strip_words(Controls())
    print(f"{arguments.frame}: {', '.join((*words.first, station.step.title))}")
    return 0
