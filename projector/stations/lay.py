"""The lay on the table: how to fold, then each piece at its place on the cloth, moved by hand under the rules' eyes."""

from dataclasses import dataclass, replace
from typing import Final

import numpy as np

from calibration.frames import Array
from patterns.errors import PatternError
from patterns.laying.lay import PieceOnCloth
from patterns.laying.moving import laid_otherwise, slid, turned_about, turned_over
from patterns.laying.rules import violations, violations_of
from patterns.laying.violation import Violation
from patterns.saying import lengths_said_in
from patterns.tracing.hand_trace import Place
from projector.actions import (
    Accept,
    Action,
    ChangeSide,
    ChangeStep,
    ChangeTool,
    Drag,
    Flip,
    Forget,
    Grab,
    Home,
    Mirror,
    Move,
    Open,
    Redo,
    Show,
    Turn,
    Undo,
)
from projector.bindings import Binding
from projector.cloth.laid_pieces import COARSE_DEG, FINE_DEG
from projector.cloth.on_cloth import LEAST_APART_IN
from projector.history import History
from projector.laying.bindings import MARKING, MOVING, SLIDING
from projector.laying.ground import LayGround
from projector.laying.scene import lay_scene
from projector.laying.tool import Tool
from projector.laying.work import LayWork, Page, by_marks, step_in
from projector.person import SIDES, Person
from projector.scene import Controls, Scene
from projector.tracing.table_cross import TableCross

FOLLOWING: Final = {Tool.PIECE: Tool.CLOTH, Tool.CLOTH: Tool.MARKS, Tool.MARKS: Tool.PIECE}
KEYS: Final = {Tool.PIECE: MOVING, Tool.CLOTH: SLIDING, Tool.MARKS: MARKING}


@dataclass(frozen=True, kw_only=True, eq=False)
class LayStation:
    """`shown` is the place of the page that is lit; `marks_in` are those set so far, in table inches.

    While `dragging`, a drag goes on, which is one thing to undo.
    """

    ground: LayGround
    history: History[LayWork]
    cross: TableCross
    shown: int = 0
    chosen: Tool = Tool.PIECE
    marks_in: tuple[Place, ...] = ()
    side: int = 0
    fine: bool = False
    dragging: bool = False
    notice: str = ""

    @classmethod
    def begun(cls, ground: LayGround, work: LayWork) -> "LayStation":
        """On the first page."""
        cross = TableCross.in_the_middle(ground.lit, ground.say.unit)
        return cls(ground=ground, history=History(now=work), cross=cross)

    def remembering(self, left: "LayStation") -> "LayStation":
        """With what could be undone when `left` was left, if all lies as it did."""
        return replace(self, history=left.history) if left.work.is_like(self.work) else self

    @property
    def work(self) -> LayWork:
        """The lay and where the cloth lies."""
        return self.history.now

    @property
    def page(self) -> Page:
        """What is shown."""
        return self.work.pages[self.shown]

    @property
    def tool(self) -> Tool:
        """What the arrows work on; where no piece is shown there is only the cloth."""
        return Tool.CLOTH if self.chosen is Tool.PIECE and self.page.piece is None else self.chosen

    @property
    def bindings(self) -> tuple[Binding, ...]:
        """The keys that have a meaning now."""
        return KEYS[self.tool]

    @property
    def finished(self) -> bool:
        """The lay ends when the person leaves."""
        return False

    @property
    def person(self) -> Person:
        """The person at the table."""
        return self.ground.person(self.side)

    @property
    def broken(self) -> tuple[Violation, ...]:
        """The rules that the shown piece breaks; those that the whole lay does where none is shown."""
        with lengths_said_in(self.ground.say.unit):
            lay, number = self.work.lay, self.page.piece
            return violations(lay) if number is None else violations_of(lay, number)

    @property
    def outline_in(self) -> Array:
        """(n, 2) table inches of what must be seen: the piece, or all of the cloth."""
        if self.page.piece is not None:
            return self.work.outline_in(self.page.piece)
        left, bottom, right, top = self.work.folded(self.page.stage).box_in
        corners = np.array([(left, bottom), (right, bottom), (right, top), (left, top)])
        return self.work.cloth.on_table(corners)

    def after(self, action: Action) -> "LayStation":
        """The station after the action; what cannot be done is said and changes nothing."""
        try:
            with lengths_said_in(self.ground.say.unit):
                return self._after(action)
        except PatternError as error:
            return self.refusing(str(error))

    def refusing(self, reason: str) -> "LayStation":
        """The same, with the reason why something was not done."""
        return replace(self, notice=reason)

    def scene(self, controls: Controls) -> Scene:
        """What is lit."""
        return lay_scene(self, controls)

    def _after(self, action: Action) -> "LayStation":
        match action:
            case Flip(by=by):
                return self._showing((self.shown + by) % len(self.work.pages))
            case Show(number=number):
                return self._numbered(number - 1)
            case ChangeSide():
                return replace(self, side=(self.side + 1) % SIDES, notice="")
            case ChangeTool():
                return replace(self, chosen=FOLLOWING[self.tool], marks_in=(), notice="")
            case Undo() if self.marks_in:
                return replace(self, marks_in=(), notice="")
            case Undo() | Redo():
                return self._gone_back(action)
            case Home():
                return self._then(self.work.brought(self.outline_in, self.ground.lit.centre_in))
            case Grab():
                return replace(self, dragging=False)
        if self.tool is Tool.MARKS:
            return self._marked(action)
        if isinstance(action, ChangeStep):
            return replace(self, fine=not self.fine, notice="")
        return self._on_cloth(action) if self.tool is Tool.PIECE else self._with_cloth(action)

    def _on_cloth(self, action: Action) -> "LayStation":
        """The shown piece moved on the cloth."""
        number = self.page.piece
        assert number is not None, "the piece is the tool only where one is shown"
        one = self.work.lay.placed[number]
        match action:
            case Move():
                return self._laid(number, slid(one, self._turned_to_cloth(self._step_in(action))))
            case Drag():
                moved = slid(one, self._turned_to_cloth(self._dragged_in(action)))
                return self._dragging(self.work.moved(number, moved))
            case Turn():
                return self._laid(number, turned_about(one))
            case Mirror():
                return self._laid(number, turned_over(one))
            case Open():
                return self._laid(number, laid_otherwise(one, self.work.lay))
            case _:
                return self

    def _with_cloth(self, action: Action) -> "LayStation":
        """The light of all the cloth moved on the table."""
        match action:
            case Move():
                return self._then(self.work.slid(self._step_in(action)))
            case Drag():
                return self._dragging(self.work.slid(self._dragged_in(action)))
            case Turn(anticlockwise=way):
                step = FINE_DEG if self.fine != action.other_step else COARSE_DEG
                return self._then(self.work.turned(way * step, self.ground.lit.centre_in))
            case _:
                return self

    def _marked(self, action: Action) -> "LayStation":
        """Two marks on the edge of the cloth, and its light comes on to them."""
        match action:
            case Accept() if not self.marks_in:
                return replace(self, marks_in=(self.cross.at_in,), notice="")
            case Accept():
                return self._by_marks(self.marks_in[0], self.cross.at_in)
            case Forget():
                return replace(self, marks_in=(), notice="")
            case _:
                cross = self.cross.after(action, self.ground.lit, self.person)
                return self if cross is self.cross else replace(self, cross=cross, notice="")

    def _by_marks(self, start: Place, far: Place) -> "LayStation":
        apart_in = float(np.hypot(*np.subtract(far, start)))
        if apart_in < LEAST_APART_IN:
            say = self.ground.say
            return self.refusing(
                f"the marks are {say(apart_in)} apart: set the second at least {say(LEAST_APART_IN)} away"
            )
        cloth = by_marks(self.work.lay, self.page.stage, (start, far))
        return self._then(replace(self.work, cloth=cloth))

    def _step_in(self, move: Move) -> Array:
        """(2,) table inches of a step."""
        step = step_in(self.ground.say.unit, fine=self.fine != move.other_step)
        return np.asarray(self.person.on_table(step * np.array([[move.right, move.away]]))[0])

    def _dragged_in(self, drag: Drag) -> Array:
        """(2,) table inches that the mouse went."""
        start, end = self.ground.lit.projector_map.table_from_screen([drag.from_px, drag.to_px])
        return np.asarray(end - start)

    def _turned_to_cloth(self, by_in: Array) -> Array:
        """(2,) inches along and across the cloth of a way on the table."""
        start, end = self.work.cloth.on_cloth(np.array([(0.0, 0.0), by_in]))
        return np.asarray(end - start)

    def _laid(self, number: int, one: PieceOnCloth) -> "LayStation":
        return self._then(self.work.moved(number, one))

    def _then(self, work: LayWork) -> "LayStation":
        """One change more."""
        return replace(self, history=self.history.then(work), dragging=False, marks_in=(), notice="")

    def _dragging(self, work: LayWork) -> "LayStation":
        """In the course of a drag, which is one thing to undo."""
        if not self.dragging:
            return replace(self._then(work), dragging=True)
        return replace(self, history=replace(self.history, now=work), notice="")

    def _gone_back(self, action: Undo | Redo) -> "LayStation":
        history = self.history.back() if isinstance(action, Undo) else self.history.forth()
        if history is self.history:
            return self.refusing(f"nothing to {'undo' if isinstance(action, Undo) else 'redo'}")
        return replace(self, history=history, dragging=False, notice="")

    def _showing(self, shown: int) -> "LayStation":
        return replace(self, shown=shown, marks_in=(), dragging=False, notice="")

    def _numbered(self, number: int) -> "LayStation":
        pieces = [page.piece for page in self.work.pages]
        if number not in pieces:
            return self.refusing(f"there is no piece {number + 1}")
        return self._showing(pieces.index(number))
