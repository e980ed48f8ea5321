"""What of the cloth the strip of words leaves free: its edges and folds with their words, and what lies on it."""

from collections.abc import Iterator
from typing import TYPE_CHECKING

import numpy as np

from calibration.frames import Array
from patterns.cutting.labels import Label
from patterns.laying.folded import Folded
from projector.cloth.cloth_place import ClothPlace
from projector.laying.cloth_signs import whole_words
from projector.laying.light import GONE, edge_words, name_label, turned_edges, turning
from projector.lighting.letters import words_width
from projector.person import Person
from projector.words.free_room import boxed

if TYPE_CHECKING:
    from projector.stations.lay import LayStation


def left_free(station: "LayStation") -> list[Array]:
    """(n, 2) table inches of each line that words must not cover, on the page that is shown."""
    work, page, person = station.work, station.page, station.person
    folded = work.folded(page.stage)
    lines = list(_cloth_lines(folded, work.cloth))
    if page.piece is None:
        say = station.ground.say
        labels = edge_words(folded, work.cloth, say, person)
        labels += whole_words(work.lay, folded, work.cloth, say, person)
        lines += [_around(label) for label in labels]
        lines += [work.cloth.on_table(path) for path in turning(folded)]
    else:
        for number in work.pieces_of(page.stage):
            if number != page.piece:
                lines += _named(work.lay.placed[number].piece.name, work.outline_in(number), person)
    return lines + [line for hole in work.gone_in(page.stage) for line in _named(GONE, hole, person)]


def _named(name: str, outline_in: Array, person: Person) -> list[Array]:
    return [_closed(outline_in), _around(name_label(name, outline_in, person))]


def _cloth_lines(folded: Folded, cloth: ClothPlace) -> Iterator[Array]:
    yield _closed(cloth.on_table(boxed(folded.box_in)))
    for fold in folded.folds:
        yield cloth.on_table(np.array(fold.ends_in))
    for line in turned_edges(folded):
        yield cloth.on_table(line)


def _around(label: Label) -> Array:
    """(5, 2) the room of a label."""
    half = np.array([words_width(label.text), 1.0]) * label.height_in / 2
    up = np.array([-label.along[1], label.along[0]])
    return _closed(label.at + boxed((-half[0], -half[1], half[0], half[1])) @ np.stack([label.along, up]))


def _closed(points: Array) -> Array:
    return np.vstack([points, points[:1]])
