"""Drafting on the table: the pieces as they will be cut, the list of changes that make them, and the traced points.

The arrow keys work on one of the three at a time; the mouse takes a traced point or an edge at any time but while the
piece itself is moved. Whatever is changed, the whole pattern is drafted anew.
"""

import math
from dataclasses import dataclass, replace
from typing import Final

from patterns.changes.change_list import with_change_moved, with_change_switched, without_change
from patterns.errors import PatternError
from patterns.finishing import with_next_hems, with_next_seams
from patterns.paper.joined import Joined
from patterns.stepping import stepped
from projector.actions import (
    Accept,
    Action,
    AddChange,
    Aim,
    Cancel,
    ChangeHems,
    ChangeSeams,
    ChangeSide,
    ChangeTool,
    ChangeVersion,
    Drag,
    Flip,
    Home,
    Insert,
    Mirror,
    Move,
    Next,
    Open,
    PutDown,
    Redo,
    Remove,
    Rewrite,
    Show,
    ShowJoined,
    Smooth,
    Straighten,
    SwitchChange,
    TakeUp,
    Turn,
    Undo,
)  # fmt: skip
from projector.bindings import Binding
from projector.cloth.laid_pieces import LaidPieces
from projector.drafting.bindings import CHANGES, PLACING, POINTS
from projector.drafting.ground import DraftGround
from projector.drafting.held import Held, grip_at
from projector.drafting.question import DraftQuestion, of_change, of_new_change, of_number
from projector.drafting.scene import draft_scene
from projector.drafting.words import Tool
from projector.drafting.work import DraftWork
from projector.history import History
from projector.person import SIDES, Person
from projector.scene import Controls, Scene
from projector.tracing.table_cross import TableCross

ON_POINT_IN: Final = 1 / 64  # the cross is on a point
KEYS: Final = {Tool.CHANGES: CHANGES, Tool.POINTS: POINTS, Tool.PIECE: PLACING}
FOLLOWING: Final = {Tool.CHANGES: Tool.POINTS, Tool.POINTS: Tool.PIECE, Tool.PIECE: Tool.CHANGES}


@dataclass(frozen=True, kw_only=True, eq=False)
class DraftStation:
    """`question` is what the person is asked, by typed letters; `idle_px` is where the pointer lay at first.

    `beside` counts what is sewn to the shown piece: so many on is seen joined to it, 0 stands for none.
    """

    ground: DraftGround
    history: History[DraftWork]
    cross: TableCross
    tool: Tool = Tool.CHANGES
    held: Held | None = None
    question: DraftQuestion | None = None
    side: int = 0
    beside: int = 0
    idle_px: tuple[float, float] | None = None
    notice: str = ""

    @classmethod
    def begun(cls, ground: DraftGround, work: DraftWork) -> "DraftStation":
        """On the list of changes, the cross not yet to be seen."""
        return cls(
            ground=ground,
            history=History(now=work),
            cross=TableCross.in_the_middle(ground.lit, work.drafted.unit),
        )

    @property
    def work(self) -> DraftWork:
        """What has been drafted so far."""
        return self.history.now

    @property
    def shown(self) -> DraftWork:
        """The same with what is in hand where it is."""
        return self.work if self.held is None else self.held.trial

    @property
    def joined(self) -> Joined | None:
        """What is seen joined to the shown piece; None for nothing."""
        return self.shown.joined_at(self.beside)

    @property
    def bindings(self) -> tuple[Binding, ...]:
        """The keys that have a meaning now."""
        return KEYS[self.tool] if self.question is None else self.question.bindings

    @property
    def finished(self) -> bool:
        """Drafting ends when the person leaves."""
        return False

    @property
    def person(self) -> Person:
        """The person at the table."""
        return self.ground.person(self.side)

    def after(self, action: Action) -> "DraftStation":
        """The station after the action; what cannot be done is said and changes nothing."""
        try:
            return self._after(action) if self.question is None else self._answering(self.question, action)
        except PatternError as error:
            return self.refusing(error)

    def refusing(self, error: PatternError) -> "DraftStation":
        """The same, with the reason why something was not done."""
        return replace(self, notice=str(error).splitlines()[0])

    def remembering(self, left: "DraftStation") -> "DraftStation":
        """Itself with the undo of one that was left, if the pattern is still as it was then, in the same light."""
        then, now = left.work, self.work
        same = (then.pattern, then.version) == (now.pattern, now.version)
        if not same or left.ground.alignment.aligned_on != self.ground.alignment.aligned_on:
            return self
        return replace(self, history=replace(left.history, now=now))

    def scene(self, controls: Controls) -> Scene:
        """The piece, its list of changes and the strip; the keys instead while help is asked for."""
        return draft_scene(self, controls)

    @property
    def pointing(self) -> bool:
        """Whether the cross is to be seen: once the mouse has moved, or while the arrows move it."""
        if self.tool is Tool.CHANGES:
            return self.cross.pointer_px != self.idle_px
        return self.tool is Tool.POINTS

    def _after(self, action: Action) -> "DraftStation":
        match action:
            case ChangeSide():
                return replace(self, side=(self.side + 1) % SIDES)
            case Undo() | Redo():
                return self._gone_back(action)
            case TakeUp() | PutDown():
                return self._handled(action)
            case Accept() if self.held is not None:
                return self._put_down()
            case ChangeTool():
                return replace(self._put_down(), tool=FOLLOWING[self.tool], notice="")
            case ChangeVersion():
                put_down = self._put_down()
                return put_down._seen(put_down.work.in_next_version().settled())
            case ShowJoined():
                return self._joined_on()
            case Flip() | Show():
                laid = self._put_down()
                return laid._viewed(laid._laid().after(action))
        if self.tool is Tool.CHANGES:
            return self._listed(action)
        return self._pointed(action) if self.tool is Tool.POINTS else self._placed(action)

    def _listed(self, action: Action) -> "DraftStation":
        """An action on the list of changes."""
        work = self.work
        match action:
            case Move(away=0, right=right):
                fine = self.cross.fine != action.other_step
                return self._then(work.with_length(stepped(work.length, right, fine=fine)))
            case Move(away=away, other_step=True):
                number, last = work.stop.number, len(work.pattern.changes) - 1
                to = min(max(number - away, 0), last)
                return self._then(work.with_pattern(with_change_moved(work.pattern, number, to), to))
            case Move(away=away):
                return self._seen(work.stepped(-away))
            case SwitchChange():
                switched = with_change_switched(work.pattern, work.stop.number, work.version)
                return self._then(work.with_pattern(switched))
            case Remove():
                return self._then(work.with_pattern(without_change(work.pattern, work.stop.number)))
            case ChangeSeams():
                return self._then(work.with_pattern(with_next_seams(work.pattern)))
            case ChangeHems():
                return self._then(work.with_pattern(with_next_hems(work.pattern)))
            case Accept():
                return replace(self, question=of_number(work), notice="")
            case Rewrite():
                return replace(self, question=of_change(work), notice="")
            case AddChange():
                return replace(self, question=of_new_change(work), notice="")
            case _:
                return self._crossed(action)

    def _pointed(self, action: Action) -> "DraftStation":
        """An action on the traced points."""
        work, at_in = self.work, self.cross.at_in
        match action:
            case Next():
                return self._put_down()._on_next_point()
            case Insert():
                return self._then(work.with_traced(work.points.inserted(at_in).piece))
            case Smooth():
                return self._then(
                    work.with_traced(work.points.smoothed(work.points.nearest_edge(at_in)).piece)
                )
            case Straighten():
                edge = work.points.nearest_edge(at_in)
                return self._then(work.with_traced(work.points.straightened(edge).piece))
            case Remove() if self.held is not None and self.held.point is not None:
                return self._then(work.with_traced(work.points.without(self.held.point).piece))
            case Remove():
                raise PatternError("take the point up first: enter")
            case _:
                return self._crossed(action)

    def _on_next_point(self) -> "DraftStation":
        """The cross on the nearest point, or where it is on that already, on the one after it."""
        points = self.work.points
        number = points.nearest(self.cross.at_in)
        if math.dist(points.places_in[number], self.cross.at_in) < ON_POINT_IN:
            number = (number + 1) % len(points.points)
        x, y = points.places_in[number].tolist()
        return replace(self, cross=replace(self.cross, at_in=(x, y), stepped=True), notice="")

    def _placed(self, action: Action) -> "DraftStation":
        """An action on the piece as it lies: moves of one piece one after another are one thing to undo."""
        if not isinstance(action, Move | Turn | Drag | Mirror | Open | Home):
            return self._crossed(action)
        laid = self._laid().after(action)
        if laid.notice:
            return replace(self, notice=laid.notice)
        work = replace(self.work.with_laid(laid), placing=True)
        goes_on = self.work.placing and not self.history.undone
        return self._seen(work) if goes_on else self._then(work)

    def _crossed(self, action: Action) -> "DraftStation":
        """The cross moved, and with it what is in hand, as far as a pattern can still be drafted."""
        if isinstance(action, Aim) and self.idle_px is None:
            cross = replace(self.cross, pointer_px=action.at_px)
            return replace(self, cross=cross, idle_px=action.at_px)
        cross = self.cross.after(action, self.ground.lit, self.person)
        if cross == self.cross:
            return self
        if self.held is None:
            return replace(self, cross=cross, notice="")
        try:
            pulled = self.held.grip.pulled(self.work.points, cross.at_in)
            held = Held(grip=self.held.grip, trial=self.work.with_traced(pulled.piece))
        except PatternError as error:
            return replace(self, cross=cross).refusing(error)
        return replace(self, cross=cross, held=held, notice="")

    def _handled(self, action: TakeUp | PutDown) -> "DraftStation":
        if self.held is not None:
            return self._put_down()
        if isinstance(action, PutDown):
            return self
        grip = grip_at(self.work.points, self.cross.at_in)
        held = Held(grip=grip, trial=self.work)
        return replace(self, held=held, cross=self.cross.laid_on(grip.from_in), notice="")

    def _put_down(self) -> "DraftStation":
        return self if self.held is None else self._then(self.held.trial)

    def _gone_back(self, action: Undo | Redo) -> "DraftStation":
        if self.held is not None:
            return replace(self, held=None, cross=self.cross.let_go(), notice="put back")
        history = self.history.back() if isinstance(action, Undo) else self.history.forth()
        if history is self.history:
            return replace(self, notice=f"nothing to {'undo' if isinstance(action, Undo) else 'redo'}")
        return replace(self, history=history, notice="")

    def _then(self, work: DraftWork) -> "DraftStation":
        """The work with one change more."""
        same = work.pattern == self.work.pattern and not work.placing
        history = self.history if same else self.history.then(work.settled())
        return replace(self, history=history, held=None, question=None, cross=self.cross.let_go(), notice="")

    def _seen(self, work: DraftWork) -> "DraftStation":
        """The same work, seen otherwise: nothing to undo."""
        return replace(self, history=replace(self.history, now=work), notice="")

    def _viewed(self, laid: LaidPieces) -> "DraftStation":
        work = replace(self.work.with_laid(laid), placing=False)
        return replace(self._seen(work), beside=0, notice=laid.notice)

    def _joined_on(self) -> "DraftStation":
        if not self.shown.joined:
            raise PatternError(f"nothing is sewn to {self.work.piece.name}: no join names an edge of it")
        return replace(self, beside=(self.beside + 1) % (len(self.shown.joined) + 1), notice="")

    def _laid(self) -> LaidPieces:
        """The pieces as they lie for the person where they stand, with the steps in force."""
        return replace(self.work.laid, side=self.side, fine=self.cross.fine, notice="")

    def _answering(self, question: DraftQuestion, action: Action) -> "DraftStation":
        match action:
            case Accept():
                return self._then(question.answer(self.work, question.text.strip()))
            case Cancel():
                return replace(self, question=None, notice="")
            case _:
                typed = question.after(action)
                return self if typed is question else replace(self, question=typed, notice="")
