"""What drafting shows beside the piece itself: the outline as it was traced, and the two points of a V."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from functools import lru_cache, partial
from typing import Final

import numpy as np
import numpy.typing as npt

from calibration.frames import Array
from patterns.curves import Curve
from patterns.cutting.clips import CLIP_SHORT_IN
from patterns.cutting.drafted import DraftedPiece
from patterns.cutting.labels import Label
from patterns.cutting.placement import Placement
from patterns.measures import TAPE_PARTS
from patterns.parts import Kind
from patterns.piece import Piece
from patterns.saying import Say
from projector.lighting.letters import words_width
from projector.lighting.light import label_light
from projector.lighting.lit_area import LitArea
from projector.lighting.look import LineStyle
from projector.lighting.strokes import Drawing, Plane, in_plane, in_rows
from projector.person import Person
from projector.scene import Layer
from projector.tracing.light import DIAMOND, RING, stroked

TRACED: Final = LineStyle(width_in=1 / 32, light=0.16, dash_in=(1 / 8, 1 / 4))  # dimmer than the seam line
SAME_IN: Final = 1 / 64  # nearer, one line cannot be told from the other
FINE_IN: Final = 1 / 4  # between the places where the traced outline is looked at
NO_LENGTH_IN2: Final = 1e-18
POINT: Final = LineStyle(width_in=1 / 24, light=0.8)
POINT_IN: Final = 0.16  # half the width of a V point's mark
WORDS_IN: Final = 0.5
WORDS_REACH_IN: Final = 5.5  # that they take beside the fold
WORDS_LIGHT: Final = 0.35
WORDS_STEP_IN: Final = 1 / TAPE_PARTS
CLEAR_IN: Final = 0.4  # between a point and its words
ROW_IN: Final = 0.85  # from one row of words to the next


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class VPoints:
    """Where a V is stitched and where it is cut, on the fold, (2,) piece inches each."""

    stitched: Array
    cut: Array

    def words(self, say: Say) -> str:
        """Both depths below the high shoulder point, in words."""
        return f"stitched {say(float(self.stitched[1]))}, cut {say(float(self.cut[1]))} deep"


def v_points(piece: DraftedPiece) -> VPoints | None:
    """Those of the piece's neck; None where it comes to no point on the fold."""
    for clip in piece.clips:
        if not clip[:, 0].any():
            way = np.sign(clip[1] - clip[0])
            return VPoints(stitched=clip[1] + way * CLIP_SHORT_IN, cut=clip[0])
    return None


def v_layers(
    points: VPoints, say: Say, placement: Placement, lit: LitArea, person: Person
) -> Iterator[Layer]:
    """A diamond on the stitched point and a ring on the cut one, with their depths in words beside the fold."""
    for shape, name, at in ((DIAMOND, "stitched", points.stitched), (RING, "cut", points.cut)):
        mark = partial(_mark_light, shape, at, placement, lit, person)
        yield Layer(name=f"{name} point", key=(float(at[1]), placement, person), draw=mark)
    if placement.opened:  # no room in the neck: the strip says the depths
        return
    for number, label in enumerate(v_labels(points, say, placement, person)):
        words = partial(label_light, label, WORDS_LIGHT, lit)
        yield Layer(name=f"depth {number}", key=(label.text, *label.at.tolist(), person), draw=words)


def v_labels(points: VPoints, say: Say, placement: Placement, person: Person) -> tuple[Label, Label]:
    """The depths of the stitched and of the cut point, in words beside the fold, neither on the other.

    They move in steps, with what they say, while the points move smoothly.
    """
    depths = (("stitched", float(points.stitched[1])), ("cut", float(points.cut[1])))
    stitched, cut = (
        (f"{name} {say(down_in)}", round(down_in / WORDS_STEP_IN) * WORDS_STEP_IN) for name, down_in in depths
    )
    return _v_labels(stitched, cut, placement, person)


@lru_cache(maxsize=64)
def _v_labels(
    stitched_at: tuple[str, float], cut_at: tuple[str, float], placement: Placement, person: Person
) -> tuple[Label, Label]:
    stitched, cut = (_beside_fold(*words_at, placement, person) for words_at in (stitched_at, cut_at))
    apart = person.seen((stitched.at - cut.at)[None])[0]
    width_in = WORDS_IN * (words_width(stitched.text) + words_width(cut.text)) / 2
    if abs(apart[0]) >= width_in + CLEAR_IN or abs(apart[1]) >= ROW_IN:
        return stitched, cut
    way = -1.0 if apart[1] < -SAME_IN else 1.0
    shift = person.on_table(np.array([[0.0, way * ROW_IN - apart[1]]]))[0]
    if shift @ placement.direction(np.array([-1.0, 0.0])) < 0:  # that would bring it onto the piece
        return stitched, replace(cut, at=cut.at - shift)
    return replace(stitched, at=stitched.at + shift), cut


def _beside_fold(text: str, down_in: float, placement: Placement, person: Person) -> Label:
    """Words for the person to read, level with a place on the fold so far below the high shoulder point."""
    outwards = placement.direction(np.array([-1.0, 0.0]))
    right, away = np.abs(person.seen(outwards[None])[0]) * WORDS_IN / 2
    aside = CLEAR_IN + right * words_width(text) + away
    place = placement.placed(np.array([[0.0, down_in]]))[0] + aside * outwards
    return Label(text=text, at=place, height_in=WORDS_IN, along=person.axes[0])


def _mark_light(shape: Array, at: Array, placement: Placement, lit: LitArea, person: Person) -> Drawing:
    place = placement.placed(at[None])[0]
    return stroked([person.on_table(POINT_IN * shape) + place], POINT, lit)


def with_words_beside(lies_in: Array, piece: DraftedPiece, placement: Placement) -> Array:
    """The outline (n, 2) table inches with the room for a V's words beside the fold.

    It is kept on every half piece, or what else is lit would change sides from piece to piece.
    """
    if placement.opened or piece.fold is None:
        return lies_in
    top = float(piece.cut_line[[0, -1], 1].min())
    return np.vstack([lies_in, placement.placed(np.array([[-WORDS_REACH_IN, top]]))])


def traced_runs(traced: Piece, curves: Sequence[Curve], piece: DraftedPiece) -> tuple[Array, ...]:
    """The runs (n, 2) of the traced outline, in piece inches, where changes have left it."""
    ring = in_plane(np.concatenate([piece.seam_line, piece.seam_line[:1]]))
    runs: list[Array] = []
    for edge, curve in zip(traced.edges, curves, strict=True):
        now = piece.edges.get(edge.name)
        unchanged = now is not None and now.curve == curve
        if edge.kind is not Kind.FOLD and not unchanged:
            runs += _apart(curve.points, ring)
    return tuple(runs)


def traced_light(runs: Sequence[Array], placement: Placement, lit: LitArea) -> Drawing:
    """Them as the piece lies, faint."""
    return stroked([placement.placed(run) for run in runs], TRACED, lit)


def _apart(path_in: Array, ring: Plane) -> Sequence[Array]:
    """The runs of the path (n, 2) that lie off the ring, each with the points where it comes off."""
    path = in_plane(path_in)
    along = np.concatenate([[0.0], np.abs(path[1:] - path[:-1]).cumsum()])
    fine = np.concatenate([along, np.arange(FINE_IN, along[-1], FINE_IN)])
    fine.sort()
    points = np.interp(fine, along, path)
    off = ~_beside(points, ring)
    turns = np.flatnonzero(off[1:] != off[:-1]) + 1
    begins, ends = [0, *turns.tolist()], [*turns.tolist(), len(points)]
    return [
        in_rows(points[max(begin - 1, 0) : end + 1])
        for begin, end in zip(begins, ends, strict=True)
        if off[begin]
    ]


def _beside(points: Plane, path: Plane) -> npt.NDArray[np.bool_]:
    """Which points, (n,), lie so near a path that two lines could not be told from one another there."""
    start, end = path[:-1], path[1:]
    near = _spans_meet(start.real, end.real, points.real) & _spans_meet(start.imag, end.imag, points.imag)
    start, step = start[near], (end - start)[near]
    from_start = points[:, None] - start
    share = (from_start * step.conj()).real / np.maximum(step.real**2 + step.imag**2, NO_LENGTH_IN2)
    astray = from_start - np.minimum(np.maximum(share, 0.0), 1.0) * step
    beside: npt.NDArray[np.bool_] = np.abs(astray).min(axis=1, initial=np.inf) <= SAME_IN
    return beside


def _spans_meet(start: Array, end: Array, values: Array) -> npt.NDArray[np.bool_]:
    """Which spans between two numbers, (n,), come as near to some of the values as makes no difference."""
    low, high = values.min() - SAME_IN, values.max() + SAME_IN
    meet: npt.NDArray[np.bool_] = (np.minimum(start, end) <= high) & (np.maximum(start, end) >= low)
    return meet
