"""A trace in light on the garment: its outline, its points by their shape, the edges' names, the cross."""

from collections.abc import Sequence
from dataclasses import dataclass, replace
from functools import lru_cache
from typing import Final

import numpy as np

from calibration.frames import Array
from patterns.cutting.labels import Label
from patterns.cutting.marks import LineKind
from patterns.parts import Kind
from patterns.shape import signed_area
from patterns.tracing.hand_trace import HandTrace, Place, Way
from patterns.tracing.laid_piece import LaidPiece
from projector.lighting.dashes import dashed
from projector.lighting.letters import words_width
from projector.lighting.light import Chalk, chalk_light, followed, words_light
from projector.lighting.lit_area import LitArea
from projector.lighting.look import STYLES, LineStyle
from projector.lighting.strokes import Drawing
from projector.person import Person
from projector.scene import Layer

OUTLINE: Final = LineStyle(width_in=1 / 20, light=0.8)  # of what is set
POINTS: Final = LineStyle(width_in=1 / 24, light=0.6)
IN_HAND: Final = LineStyle(width_in=1 / 16, light=1.0)
GUIDE: Final = LineStyle(width_in=1 / 32, light=0.25, dash_in=(1 / 4, 3 / 8))  # of what is not
CROSS: Final = LineStyle(width_in=1 / 24, light=1.0)
CROSS_ARM_IN: Final = 1.0
MARK_IN: Final = 0.22  # half the width of a point's mark: open, so that the cloth's edge shows within it
LARGER: Final = 1.7  # the mark of the point in hand
NAME_IN: Final = 0.6
NAME_LIGHT: Final = 0.45
NEAR_NAME_LIGHT: Final = 0.9  # of the edge that the keys act on
CLEAR_IN: Final = 0.4  # between an edge and its name

_TURN: Final = np.linspace(0, 2 * np.pi, 25)[:, None]
RING: Final = np.hstack([np.cos(_TURN), np.sin(_TURN)])
SQUARE: Final = np.array([[-1.0, -1.0], [1.0, -1.0], [1.0, 1.0], [-1.0, 1.0], [-1.0, -1.0]])
DIAMOND: Final = 1.3 * np.array([[0.0, -1.0], [1.0, 0.0], [0.0, 1.0], [-1.0, 0.0], [0.0, -1.0]])
SHAPES: Final = {"fold": DIAMOND, Way.CORNER.value: SQUARE, Way.CURVE.value: RING}


Mark = tuple[Place, str]  # a point in table inches, and what it is: the fold's end, a corner, of a curve


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Sketch:
    """What is shown of a trace, in table inches: paths of edges, the fold, each point with its shape, names."""

    edges: tuple[Array, ...]
    fold: Array | None
    marks: tuple[Mark, ...]
    names: tuple[str, ...]


def sketch_of(work: HandTrace | LaidPiece) -> Sketch:
    """Of an outline that grows, or of a piece where it lies."""
    if isinstance(work, HandTrace):
        ends = [(at_in, "fold") for at_in in work.fold]
        rest = [(point.at_in, point.way.value) for point in work.points]
        return Sketch(
            edges=tuple(curve.points for curve in work.edges),
            fold=np.array(work.fold) if work.has_fold else None,
            marks=(*ends, *rest),
            names=tuple(work.said(i) for i in range(len(work.names))),
        )
    folds = [edge.kind is Kind.FOLD for edge in work.piece.edges]
    shown = list(zip(work.piece.edges, work.paths_in, folds, strict=True))
    return Sketch(
        edges=tuple(path for _, path, fold in shown if not fold),
        fold=next((path for _, path, fold in shown if fold), None),
        marks=point_marks(work),
        names=tuple(edge.name for edge, _, fold in shown if not fold),
    )


def point_marks(piece: LaidPiece) -> tuple[Mark, ...]:
    """The points of a piece where it lies."""
    return tuple(
        ((x, y), "fold" if point.at_fold else point.way.value)
        for (x, y), point in zip(piece.places_in.tolist(), piece.points, strict=True)
    )


def outline_light(sketch: Sketch, lit: LitArea) -> Drawing:
    """The edges solid, the fold as a fold."""
    edges = stroked(sketch.edges, OUTLINE, lit)
    return edges if sketch.fold is None else (*edges, *stroked([sketch.fold], STYLES[LineKind.FOLD], lit))


def points_layer(marks: Sequence[Mark], held: int | None, lit: LitArea, person: Person) -> Layer:
    """The points but for the one in hand, which moves with the cross while they lie still."""
    still = tuple(mark for i, mark in enumerate(marks) if i != held)
    return Layer(name="points", key=(still, person), draw=lambda: marks_light(still, lit, person))


def cross_layer(at_in: Place, in_hand: Mark | None, lit: LitArea, person: Person) -> Layer:
    """The cross, with the mark of the point in hand."""
    if in_hand is None:
        return Layer(name="cross", key=(at_in, person), draw=lambda: cross_light(at_in, lit, person))
    return Layer(
        name="cross",
        key=(at_in, in_hand, person),
        draw=lambda: holding_cross_light(at_in, in_hand, lit, person),
    )


def marks_light(marks: Sequence[Mark], lit: LitArea, person: Person) -> Drawing:
    """A square at each corner, a ring at each point of a curve, a diamond at the fold's ends."""
    return stroked([_outline(mark, MARK_IN, person) for mark in marks], POINTS, lit)


def _outline(mark: Mark, size_in: float, person: Person) -> Array:
    place, shape = mark
    outline: Array = person.on_table(size_in * SHAPES[shape]) + place
    return outline


def names_light(sketch: Sketch, near: str, lit: LitArea, person: Person) -> Drawing:
    """Each edge's name beside its middle, within the outline; that of the edge that keys act on is brighter."""
    if not sketch.names:
        return ()
    inward = -1.0 if signed_area(np.concatenate(sketch.edges)) > 0 else 1.0
    labels = []
    for name, path in zip(sketch.names, sketch.edges, strict=True):
        at, along = _halfway(path)
        inwards = inward * np.array([along[1], -along[0]])
        right, away = np.abs(person.seen(inwards[None])[0]) * NAME_IN / 2
        aside = CLEAR_IN + right * words_width(name) + away
        labels.append(Label(text=name, at=at + aside * inwards, height_in=NAME_IN, along=person.axes[0]))
    lights = [NEAR_NAME_LIGHT if name == near else NAME_LIGHT for name in sketch.names]
    return words_light(labels, lights, lit)


def cross_light(at_in: Place, lit: LitArea, person: Person) -> Drawing:
    """The cross."""
    arms = _arms(person, lit.span_in)
    return chalk_light(replace(arms, points_in=arms.points_in + at_in), lit)


def holding_cross_light(at_in: Place, in_hand: Mark, lit: LitArea, person: Person) -> Drawing:
    """The cross with the mark of the point in hand, larger and brighter than the others: all mapped in one go."""
    place, shape = in_hand
    arms, mark = _arms(person, lit.span_in), _large_mark(shape, person, lit.span_in)
    both = Chalk(
        points_in=np.concatenate([arms.points_in + at_in, mark.points_in + place]),
        ends=np.concatenate([arms.ends, mark.ends + len(arms.points_in)]),
        styles=(*arms.styles, *mark.styles),
    )
    return chalk_light(both, lit)


@lru_cache(maxsize=8)
def _arms(person: Person, span_in: float) -> Chalk:
    """Those of a cross at the origin."""
    paths = CROSS_ARM_IN * np.array([[[-1.0, 0.0], [1.0, 0.0]], [[0.0, -1.0], [0.0, 1.0]]])
    points, ends = followed([person.on_table(path) for path in paths], span_in)
    return Chalk(points_in=points, ends=ends, styles=((CROSS, len(ends)),))


@lru_cache(maxsize=8)
def _large_mark(shape: str, person: Person, span_in: float) -> Chalk:
    """That of a point in hand at the origin."""
    points, ends = followed([_outline(((0.0, 0.0), shape), LARGER * MARK_IN, person)], span_in)
    return Chalk(points_in=points, ends=ends, styles=((IN_HAND, 1),))


def guide_light(from_in: Place, to_in: Place, lit: LitArea) -> Drawing:
    """From the last point to the cross: nothing is set there yet."""
    path = np.array([from_in, to_in])
    return stroked([path], GUIDE, lit) if np.hypot(*(path[1] - path[0])) > MARK_IN else ()


def stroked(paths_in: Sequence[Array], style: LineStyle, lit: LitArea) -> Drawing:
    """Paths (n, 2) in table inches in one style; nothing where there are none."""
    if not paths_in:
        return ()
    points, ends = followed(paths_in, lit.span_in)
    if style.dash_in:
        points, ends = dashed(points, ends, style.dash_in)
    return chalk_light(Chalk(points_in=points, ends=ends, styles=((style, len(ends)),)), lit)


def _halfway(path: Array) -> tuple[Array, Array]:
    """The point (2,) halfway along, and the unit direction (2,) there."""
    steps = np.diff(path, axis=0)
    ends = np.cumsum(np.hypot(*steps.T))
    here = int(np.searchsorted(ends, ends[-1] / 2))
    along = steps[here] / np.hypot(*steps[here])
    return path[here + 1] - (ends[here] - ends[-1] / 2) * along, along
