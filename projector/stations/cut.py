"""Cutting: the pieces are laid in light on the cloth, then cut and marked one by one in a light that is frozen."""

from dataclasses import dataclass, replace

from calibration.frames import Array
from patterns.cutting.drafted import DraftedPiece
from patterns.cutting.placement import Placement
from projector.actions import (
    Action,
    Back,
    ChangeSide,
    ChangeTool,
    Flip,
    Freeze,
    Next,
    Redo,
    Show,
    Stand,
    Undo,
    Untick,
)
from projector.bindings import Binding
from projector.cloth.ground import Ground
from projector.cloth.laid_pieces import LaidPieces
from projector.cloth.reach_light import part_in
from projector.cutting.asking import asked
from projector.cutting.bindings import ASKING, CUTTING
from projector.cutting.copies import Copies, laid_out
from projector.cutting.following import lies_of
from projector.cutting.in_reaches import is_unlit, lit_before_held
from projector.cutting.measure_tool import MeasureTool, beside_tape
from projector.cutting.scene import cut_scene
from projector.cutting.stage import Stage
from projector.cutting.steps import BLADE, LIGHT_OUT, Step
from projector.cutting.ticking import stepped, unticked
from projector.cutting.toolbox import TOOLS, following_tool
from projector.cutting.tools import CutTool
from projector.cutting.words import strip_words
from projector.cutting.work import CopyWork, CutWork, Lies, changes, fitted
from projector.history import History
from projector.lighting.looks import Look
from projector.person import SIDES, Person
from projector.scene import Controls, Scene
from projector.words.strip_rows import StripWords


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class CutStation:
    """`shown` is the place in the order of the copy that is lit; `ground.pieces` has the piece of each copy.

    `history` is of where everything lies: undoing a move takes no tick back. While `dragging`, a drag goes on.
    `changed` says what did since cutting began, as long as it is asked whether the cloth has moved. `on_marks` is
    whether a piece was brought to marks on this cloth.
    """

    ground: Ground
    work: CutWork
    history: History[Lies]
    stage: Stage = Stage.LAYING
    shown: int = 0
    side: int = 0
    fine: bool = False
    tool: CutTool = TOOLS[0]
    dragging: bool = False
    notice: str = ""
    changed: str = ""
    on_marks: bool = False

    @classmethod
    def begun(cls, ground: Ground) -> "CutStation":
        """Every copy of every piece in the middle of the light, the other hand of a pair mirrored."""
        copies = laid_out(ground.pieces, ground.lit, ground.person(0))
        work = replace(copies.work, aligned=ground.aligned)
        return cls(ground=replace(ground, pieces=copies.pieces), work=work, history=History(now=work.lies))

    def resumed(self, kept: CutWork) -> "CutStation":
        """The station with work that was left; where cutting was begun, it is asked whether the cloth has moved."""
        work = fitted(kept, self.work, self.ground.pieces)
        stage = Stage.ASKING if work.begun else Stage.LAYING
        changed, history = changes(kept, work), History(now=work.lies)
        return replace(self, work=work, history=history, shown=work.at, stage=stage, changed=changed)

    @property
    def bindings(self) -> tuple[Binding, ...]:
        """The keys that have a meaning now."""
        match self.stage:
            case Stage.LAYING | Stage.FINDING:
                return self.tool.bindings
            case Stage.ASKING:
                return ASKING
            case Stage.CUTTING:
                return CUTTING if self.measured is None else self.measured.frozen_bindings

    @property
    def finished(self) -> bool:
        """Cutting ends when the person leaves."""
        return False

    @property
    def frozen(self) -> bool:
        """While pieces are cut the light stays where it is."""
        return self.stage is Stage.CUTTING

    @property
    def measured(self) -> MeasureTool | None:
        """What is measured with in the frozen light, if it is."""
        return self.tool if self.frozen and isinstance(self.tool, MeasureTool) else None

    @property
    def lies(self) -> tuple[Lies, int]:
        """Where the light is, and to which side its words are turned."""
        return self.work.lies, self.side

    @property
    def laid(self) -> LaidPieces:
        """The copies as they lie on the table."""
        return LaidPieces(
            ground=self.ground,
            placements=self.work.placements,
            shown=self.shown,
            side=self.side,
            fine=self.fine,
        )

    @property
    def copy(self) -> CopyWork:
        """The copy that is lit."""
        return self.work.copies[self.shown]

    @property
    def piece(self) -> DraftedPiece:
        """Its piece."""
        return self.ground.pieces[self.shown]

    @property
    def placement(self) -> Placement:
        """Where it lies on the table."""
        return self.work.cloth.laid(self.copy.place)

    @property
    def placements(self) -> tuple[Placement, ...]:
        """Where each copy lies on the table."""
        return self.work.placements

    @property
    def person(self) -> Person:
        """The person at the table."""
        return self.ground.person(self.side)

    @property
    def outline_in(self) -> Array:
        """(n, 2) table inches: the cut line of the piece as it lies, or what is lit of it in the reach at hand."""
        reaches, placement = self.copy.reaches, self.placement
        if reaches is None:
            return self.laid.outline_in
        return part_in(self.piece, placement, reaches, self.copy.reach)

    @property
    def copies(self) -> Copies:
        """How far the work is."""
        return Copies(pieces=self.ground.pieces, work=self.work)

    @property
    def look(self) -> Look:
        """How it is drawn."""
        return self.work.seeing.look

    @property
    def step(self) -> Step | None:
        """What is to be done next to the copy that is lit; None where all is done."""
        return next(iter(self.copies.steps_left(self.shown)), None)

    def after(self, action: Action) -> "CutStation":
        """The station after the action."""
        seeing = self.work.seeing.after(action)
        if seeing is not self.work.seeing:
            return replace(self, work=replace(self.work, seeing=seeing), notice=seeing.words(action))
        match self.stage:
            case Stage.LAYING | Stage.FINDING:
                return self.tool.after(self, action)
            case Stage.ASKING:
                return asked(self, action)
            case Stage.CUTTING:
                return self._cutting(action) if self.measured is None else self.tool.after(self, action)

    def remembering(self, left: "CutStation") -> "CutStation":
        """Itself with the undo of one that was left, if the same copies lie as they did."""
        same = left.work.copies == self.work.copies
        return replace(self, history=self.history.recalling(left.history)) if same else self

    def scene(self, controls: Controls) -> Scene:
        """What is lit."""
        return cut_scene(self, controls)

    def strip_words(self, controls: Controls) -> StripWords:
        """What the strip says."""
        return strip_words(self, controls)

    def placed(self, placement: Placement) -> "CutStation":
        """The copy that is lit placed so on the table."""
        return self.with_laid(self.laid.placed(placement))

    def with_laid(self, laid: LaidPieces) -> "CutStation":
        """The copies lying so on the table, which is one thing to undo."""
        lying = self.lying(lies_of(self.work, self.shown, laid))
        return replace(lying, fine=laid.fine, notice=laid.notice)

    def lying(self, lies: Lies) -> "CutStation":
        """Everything lying so, which is one thing to undo."""
        work, history = self.work.lying(lies), self.history.then(lies)
        return replace(self, work=work, history=history, dragging=False, notice="")

    def grabbed(self) -> "CutStation":
        """A drag begins."""
        return replace(self, dragging=False)

    def dragged(self, laid: LaidPieces) -> "CutStation":
        """The copies lying so in the course of a drag."""
        if not self.dragging:
            return replace(self.with_laid(laid), dragging=True)
        work = self.work.lying(lies_of(self.work, self.shown, laid))
        return replace(self, work=work, history=replace(self.history, now=work.lies))

    def refusing(self, reason: str) -> "CutStation":
        """The same, with the reason why something was not done."""
        return replace(self, notice=reason)

    def besides(self, action: Action) -> "CutStation":
        """The station after an action that is no tool's own."""
        match action:
            case _ if self.frozen:
                return beside_tape(self, action)
            case Undo() | Redo():
                return self._gone_back(action)
            case Freeze():
                return self.held()
            case Next() if self.work.begun and is_unlit(self):
                return lit_before_held(self)
            case Next() if self.work.begun:
                return self.held()
            case Next() if self.shown == self.copies.order[-1]:
                return self.showing(0).held()
            case Next():
                return self.showing(self.copies.beside(self.shown, 1))
            case ChangeTool():
                return replace(self, tool=following_tool(self), notice="")
            case _:
                return self.flipped(action)

    def _cutting(self, action: Action) -> "CutStation":
        """An action in the frozen light."""
        match action:
            case Next():
                return stepped(self)
            case Stand():
                return self.standing()
            case Untick():
                return unticked(self)
            case ChangeTool():
                return replace(self, tool=MeasureTool().taken_up(self), notice="")
            case Freeze():
                return replace(self, stage=Stage.LAYING, notice="")
            case _:
                return self.flipped(action)

    def freed(self, why: str = "") -> "CutStation":
        """The light freed, to move the piece that is lit."""
        return replace(self, tool=TOOLS[0], stage=Stage.LAYING, notice=why)

    def held(self) -> "CutStation":
        """The light frozen over the copy that is lit."""
        work, tool = replace(self.work, begun=True), self.tool
        tool = TOOLS[0] if isinstance(tool, MeasureTool) else tool
        held = replace(self, work=work, tool=tool, stage=Stage.CUTTING, dragging=False).showing(self.shown)
        return replace(held, notice=LIGHT_OUT)

    def ticking(self, step: Step) -> "CutStation":
        """With that step of the lit copy ticked off."""
        work = self.work.ticked(self.shown, (*self.copy.ticked, step.name))
        done = replace(self, work=work, notice=BLADE if step.cuts else "")
        return done if done.step is not None else replace(done.standing(), notice=done.notice)

    def standing(self) -> "CutStation":
        """The copy at work lit, or the next at which something is to be done."""
        return self.showing(self.copies.standing(self.shown))

    def showing(self, number: int) -> "CutStation":
        """The copy at a place in the order lit; the work is there if there is any to do, and looking is no work."""
        work = self.work if self.stage is Stage.ASKING else self.copies.at(number)
        return replace(self, shown=number, work=work, notice="")

    def flipped(self, action: Action) -> "CutStation":
        """Another copy lit, or the words turned."""
        match action:
            case Flip(by=by):
                return self.showing(self.copies.beside(self.shown, by))
            case Back() if self.shown == 0:
                return self.refusing("this is the first piece")
            case Back():
                return self.showing(self.copies.beside(self.shown, -1))
            case Show(number=number):
                return self._numbered(number)
            case ChangeSide():
                return replace(self, side=(self.side + 1) % SIDES, notice="")
            case _:
                return self

    def _numbered(self, number: int) -> "CutStation":
        copy = self.copies.of_piece(number)
        return self.refusing(f"there is no piece {number}") if copy is None else self.showing(copy)

    def _gone_back(self, action: Undo | Redo) -> "CutStation":
        history = self.history.back() if isinstance(action, Undo) else self.history.forth()
        if history is self.history:
            return self.refusing(f"nothing to {'undo' if isinstance(action, Undo) else 'redo'}")
        return replace(self, work=self.work.lying(history.now), history=history, notice="")
