"""Tracing on the table: a cross of light is walked round the garment, and the outline grows behind it in light.

First the fold's ends, then round from its top; once closed and named, the outline is a piece, which lies on the
garment in light and is pulled until it is right.
"""

import math
from dataclasses import dataclass, replace
from functools import cached_property
from typing import Final

import numpy as np

from patterns.errors import PatternError
from patterns.saying import lengths_said_in
from patterns.tracing.hand_trace import HandTrace, Place, Way
from patterns.tracing.laid_piece import LaidPiece
from projector.actions import (
    Accept,
    Action,
    Cancel,
    ChangeSide,
    Finish,
    Insert,
    MoveEdge,
    NameEdge,
    PutDown,
    Redo,
    Remove,
    SetCurve,
    Smooth,
    Straighten,
    TakeUp,
    TurnPoint,
    Undo,
)  # fmt: skip
from projector.bindings import Binding
from projector.history import History
from projector.person import SIDES, Person
from projector.scene import Controls, Layer, Scene
from projector.tracing.bindings import GROWING, PULLING
from projector.tracing.ground import TraceGround
from projector.tracing.light import (
    Sketch,
    cross_layer,
    guide_light,
    names_light,
    outline_light,
    points_layer,
    sketch_of,
)
from projector.tracing.question import Question, of_length, of_name
from projector.tracing.table_cross import TableCross
from projector.tracing.words import trace_words
from projector.words.help_page import help_light
from projector.words.strip import lay_strip, strip_light

IN_REACH_IN: Final = 3.0  # of the cross: a point farther away is not meant

Work = HandTrace | LaidPiece


@dataclass(frozen=True, kw_only=True, eq=False)
class TraceStation:
    """`held` is the number of the point in hand; `question` is what the person is asked, by typed letters."""

    ground: TraceGround
    cross: TableCross
    history: History[Work]
    held: int | None = None
    question: Question | None = None
    side: int = 0
    notice: str = ""
    finished: bool = False

    @classmethod
    def begun(
        cls, ground: TraceGround, work: Work, offset_in: Place = (0.0, 0.0), notice: str = ""
    ) -> "TraceStation":
        """With the cross in the middle of the light."""
        cross = TableCross.in_the_middle(ground.lit, ground.unit, offset_in)
        return cls(ground=ground, cross=cross, history=History(now=work), notice=notice)

    @property
    def work(self) -> Work:
        """What has been traced so far."""
        return self.history.now

    @cached_property
    def shown(self) -> Work:
        """The same with the point in hand where the cross is; as it was where that cannot be."""
        if self.held is None:
            return self.work
        try:
            return self.work.moved(self.held, self.cross.at_in)
        except PatternError:
            return self.work

    @cached_property
    def near(self) -> int | None:
        """The number of the edge that keys act on: the nearest, or the one asked about; None while none ends."""
        if self.question is not None:
            return self.question.edge
        if isinstance(self.work, HandTrace) and not self.work.closed:
            return None
        return self.work.nearest_edge(self.cross.at_in)

    @property
    def bindings(self) -> tuple[Binding, ...]:
        """The keys that have a meaning now."""
        if self.question is not None:
            return self.question.bindings
        return PULLING if isinstance(self.work, LaidPiece) else GROWING

    @property
    def person(self) -> Person:
        """The person at the table."""
        return self.ground.person(self.side)

    def after(self, action: Action) -> "TraceStation":
        """The station after the action; what cannot be done is said and changes nothing."""
        question = self.question
        try:
            with lengths_said_in(self.ground.unit):
                return self._after(action) if question is None else self._answering(question, action)
        except PatternError as error:
            return replace(self, notice=str(error).splitlines()[0])

    def remembering(self, left: "TraceStation") -> "TraceStation":
        """Itself with the undo of one that was left, if the same piece lies there as it was left."""
        same = left.ground.piece == self.ground.piece
        return replace(self, history=self.history.recalling(left.history)) if same else self

    def scene(self, controls: Controls) -> Scene:
        """The outline, its points, names, the cross and the strip; the keys instead while help is asked for."""
        lit, person = self.ground.lit, self.person
        sketch = sketch_of(self.shown)
        garment = np.concatenate(sketch.edges) if sketch.edges and not controls.helping else None
        said = trace_words(self, controls)
        strip, numbers = lay_strip(said, lit, person, garment), said.numbers
        words = Layer(
            name="strip",
            key=(strip, numbers, person),
            draw=lambda: strip_light(strip, lit, person, numbers),
        )
        if controls.helping:
            keys = self.bindings
            page = Layer(name="help", key=(keys, person), draw=lambda: help_light(keys, lit, person))
            return (page, words)
        return (*self._trace_layers(sketch), words)

    def _trace_layers(self, sketch: Sketch) -> Scene:
        lit, person, work, held, cross = self.ground.lit, self.person, self.shown, self.held, self.cross.at_in
        last, near = self._last, "" if self.near is None else work.said(self.near)
        layers = [
            Layer(name="outline", key=work, draw=lambda: outline_light(sketch, lit)),
            points_layer(sketch.marks, held, lit, person),
            cross_layer(cross, None if held is None else sketch.marks[held], lit, person),
        ]
        if held is None:  # else the names would run about with the edges
            key = (work, near, person)
            layers.append(Layer(name="names", key=key, draw=lambda: names_light(sketch, near, lit, person)))
        if last is not None:
            layers.append(Layer(name="guide", key=(last, cross), draw=lambda: guide_light(last, cross, lit)))
        return tuple(layers)

    @property
    def _last(self) -> Place | None:
        """Where the outline has come to, from where it goes on to the cross."""
        work = self.shown
        if isinstance(work, LaidPiece) or work.closed or self.held is not None or not work.fold:
            return None
        return work.points[-1].at_in if work.points else work.fold[0]

    def _after(self, action: Action) -> "TraceStation":
        work, at_in = self.work, self.cross.at_in
        match action:
            case ChangeSide():
                return replace(self, side=(self.side + 1) % SIDES)
            case Undo() | Redo():
                return self._gone_back(action)
            case TakeUp() | PutDown():
                return self._handled(action)
            case Accept() | SetCurve() if self.held is not None:
                return self._put_down()
            case Accept() | SetCurve() if isinstance(work, HandTrace):
                return self._then(
                    work.with_point(at_in, Way.CORNER if isinstance(action, Accept) else Way.CURVE)
                )
            case Remove() | TurnPoint():
                return self._changed_in_hand(action)
            case Insert():
                return self._then(
                    work.inserted(at_in, Way.CURVE) if isinstance(work, HandTrace) else work.inserted(at_in)
                )
            case NameEdge():
                return self._asked(of_name(work, self._nearest_edge()))
            case MoveEdge() if isinstance(work, LaidPiece):
                return self._asked(of_length(work, self._nearest_edge()))
            case Smooth() if isinstance(work, LaidPiece):
                return self._then(work.smoothed(self._nearest_edge()))
            case Straighten() if isinstance(work, LaidPiece):
                return self._then(work.straightened(self._nearest_edge()))
            case Finish():
                return self._finished()
            case _:
                cross = self.cross.after(action, self.ground.lit, self.person)
                return self if cross == self.cross else replace(self, cross=cross, notice="")

    def _nearest_edge(self) -> int:
        if self.near is None:
            raise PatternError("close the outline first: d")
        return self.near

    def _then(self, work: Work, notice: str = "") -> "TraceStation":
        """The work with one change more; PatternError for a piece that its file cannot take."""
        if isinstance(work, LaidPiece):
            self.ground.judge(work.piece)
        return replace(
            self,
            history=self.history.then(work),
            held=None,
            question=None,
            cross=self.cross.let_go(),
            notice=notice,
        )

    def _gone_back(self, action: Undo | Redo) -> "TraceStation":
        if self.held is not None:
            return replace(self, held=None, cross=self.cross.let_go(), notice="put back")
        history = self.history.back() if isinstance(action, Undo) else self.history.forth()
        if history is self.history:
            return replace(self, notice=f"nothing to {'undo' if isinstance(action, Undo) else 'redo'}")
        return replace(self, history=history, notice="")

    def _handled(self, action: TakeUp | PutDown) -> "TraceStation":
        if self.held is not None:
            return self._put_down()
        if isinstance(action, PutDown):
            return self
        number = self.work.nearest(self.cross.at_in)
        x, y = self.work.places_in[number].tolist()
        if math.dist((x, y), self.cross.at_in) > IN_REACH_IN:
            raise PatternError("no point is near the cross")
        return replace(self, held=number, cross=self.cross.laid_on((x, y)), notice="")

    def _put_down(self) -> "TraceStation":
        if self.held is None or self.cross.at_in == tuple(self.work.places_in[self.held]):
            return self._then(self.work)
        return self._then(self.work.moved(self.held, self.cross.at_in))

    def _changed_in_hand(self, action: Remove | TurnPoint) -> "TraceStation":
        if self.held is None:
            raise PatternError("pick the point up first: p")
        if isinstance(action, Remove):
            return self._then(self.work.without(self.held))
        if isinstance(self.work, LaidPiece):
            return self
        return self._then(self.work.turned(self.held))

    def _finished(self) -> "TraceStation":
        work = self.work
        if isinstance(work, LaidPiece):
            return replace(self, finished=True)
        if not work.closed:
            closed = self._then(work.closed_up(self.ground.names))
            return closed._asked_for_missing()
        if not all(work.names):
            return self._asked_for_missing()
        return self._then(self.ground.made(work), f"written to {self.ground.file}")

    def _asked(self, question: Question) -> "TraceStation":
        return replace(self, question=question, notice="")

    def _asked_for_missing(self) -> "TraceStation":
        """Asking for the first name that is missing, if one is."""
        if isinstance(self.work, HandTrace) and not all(self.work.names):
            return self._asked(of_name(self.work, self.work.names.index("")))
        return self

    def _answering(self, question: Question, action: Action) -> "TraceStation":
        match action:
            case Accept():
                return self._then(question.answered(self.work))._asked_for_missing()
            case Cancel():
                return replace(self, question=None, notice="")
            case _:
                typed = question.after(action)
                return self if typed is question else replace(self, question=typed, notice="")
