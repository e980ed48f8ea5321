"""Aligning by hand: a cross of light is moved on to one printed mark after the other.

Everything is drawn in projector pixels: until the crosses are placed there is no map, and nothing is known
of inches on the table.
"""

from dataclasses import dataclass, replace
from datetime import datetime

from calibration.errors import AlignmentError
from calibration.hand.by_hand import HandAlignment, HandReport
from calibration.hand.marks import HandMark
from calibration.table.saved import Alignment
from projector.actions import Accept, Action, ChangeSide, Finish, TakeUp, Undo
from projector.aligning.cross_in_hand import RING_SHARE, CrossInHand
from projector.aligning.mark_plan import plan_light, plan_size_px, ring
from projector.aligning.words_beside import NO_PLAN, Pixel, Wanted
from projector.bindings import ALIGN_BINDINGS, Binding
from projector.lighting.look import CROSS_LIGHT
from projector.lighting.strokes import Drawing
from projector.person import FAR, across
from projector.scene import Controls, Layer, Scene
from projector.trust import rounded_up
from projector.words.strip_rows import BETWEEN, StripWords


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class AlignStation:
    """`hand` has the cross for `mark`; `report` says what the crosses so far are worth."""

    alignment: HandAlignment
    name: str
    mark: HandMark | None
    hand: CrossInHand
    report: HandReport
    side: int = 0
    notice: str = ""
    result: Alignment | None = None

    @classmethod
    def begun(cls, alignment: HandAlignment, name: str, notice: str = "") -> "AlignStation":
        """The cross for the first mark that has none, where it is expected; AlignmentError if nowhere."""
        mark = alignment.next_mark()
        return cls(
            alignment=alignment,
            name=name,
            mark=mark,
            hand=CrossInHand(at_px=_expected(alignment, mark), screen_px=alignment.screen_px),
            report=alignment.report(),
            notice=notice,
        )

    @property
    def cross_px(self) -> Pixel:
        """Where the cross is."""
        return self.hand.at_px

    @property
    def upside_down(self) -> bool:
        """Whether the words are turned to the far side."""
        return self.side == FAR

    @property
    def bindings(self) -> tuple[Binding, ...]:
        """The keys that have a meaning here."""
        return ALIGN_BINDINGS

    @property
    def finished(self) -> bool:
        """Whether there is an alignment to save."""
        return self.result is not None

    def after(self, action: Action) -> "AlignStation":
        """The station after the action; what cannot be done is said and changes nothing."""
        try:
            return self._after(action)
        except AlignmentError as error:
            return replace(self, notice=str(error))

    def scene(self, controls: Controls) -> Scene:
        """The cross, those placed before it, a plan and words clear of it; the keys instead when asked for."""
        if controls.helping:
            return (self.hand.help_layer(self.bindings, upside_down=self.upside_down),)
        crosses, mark, ringed = self.alignment.crosses, self.mark, self._ringed
        # the one in hand is not shown a second time
        placed = [cross.at_px for cross in self.alignment.placed if cross.mark != mark]
        wanted = Wanted(
            words=self.words(controls),
            screen_px=self.alignment.screen_px,
            plan_px=NO_PLAN if mark is None else plan_size_px(self.alignment, mark),
            upside_down=self.upside_down,
        )
        words = self.hand.beside(wanted, placed, ringed)
        plan_px = words.plan_middle_px if words.has_plan else None
        return (
            *self.hand.layers(placed, words, lit=mark is not None),
            Layer(name="doubted", key=ringed, draw=lambda: self._rings(ringed)),
            Layer(name="plan", key=(crosses, mark, plan_px), draw=lambda: self._plan(plan_px)),
        )

    def words(self, controls: Controls) -> StripWords:
        """Which mark, and which one to redo; then what the crosses are worth, and what to do."""
        first = ["every mark has its cross: d saves"]
        if self.mark is not None:
            again = "again, " if self._redoing else ""
            first = [f"{again}put the cross on {_said(self.mark, self.alignment.mat is not None)}"]
        if controls.frozen:
            first = ["FROZEN: f frees it"]
        worst = self.report.worst
        if worst is not None and worst != self.mark:
            off = rounded_up(self.report.worst_in)
            first.append(f"{worst.name}, ringed, disagrees with the others by {off}: r redoes it")
        ways = [self.hand.steps, "enter accepts", "backspace undoes"]
        if self.alignment.enough:
            ways.append("d saves")
        preview = ["preview, not true to size"] if controls.preview else []
        keys = BETWEEN.join([*preview, *ways, "h: keys"])
        return StripWords(first=tuple(first), aside=(self.notice or self.said, keys))

    @property
    def said(self) -> str:
        """What the crosses are worth, and how many more are usual."""
        left = self.alignment.usual_marks - self.report.placed
        if not self.alignment.enough:
            return self.report.words
        usual = f"{left} more {'is' if left == 1 else 'are'} usual" if left > 0 else "that is enough"
        return f"{self.report.words}; {usual}"

    @property
    def _redoing(self) -> bool:
        return any(cross.mark == self.mark for cross in self.alignment.placed)

    def _after(self, action: Action) -> "AlignStation":
        match action:
            case Accept():
                return self._with(self.alignment.with_cross(self.cross_px, self.mark))
            case TakeUp():
                return self._taken_up()
            case Undo():
                return self._undone()
            case Finish():
                return replace(self, result=self.alignment.finished(self.name, datetime.now().astimezone()))
            case ChangeSide():
                return replace(self, side=across(self.side), notice="")
            case _:
                return self._holding(self.hand.after(action, upside_down=self.upside_down))

    def _holding(self, hand: CrossInHand) -> "AlignStation":
        return self if hand is self.hand else replace(self, hand=hand, notice="")

    def _with(self, alignment: HandAlignment) -> "AlignStation":
        mark = alignment.next_mark()
        hand = replace(self.hand, at_px=_expected(alignment, mark))
        return replace(self, alignment=alignment, mark=mark, hand=hand, report=alignment.report(), notice="")

    def _taken_up(self) -> "AlignStation":
        """The cross that disagrees, from where it was left; it counts until it is placed again."""
        worst = self.report.worst
        if worst is None:
            return replace(self, notice="no mark disagrees with the others")
        hand = replace(self.hand, at_px=_left_at(self.alignment, worst))
        return replace(self, mark=worst, hand=hand, notice="")

    def _undone(self) -> "AlignStation":
        """The last cross in hand again, where it was left; a cross that was taken up is put back."""
        if not self.alignment.crosses:
            return replace(self, notice="nothing to undo")
        if self._redoing:
            return self._with(self.alignment)
        last = self.alignment.crosses[-1]
        back = self._with(self.alignment.undone())
        return replace(back, mark=last.mark, hand=replace(self.hand, at_px=last.at_px))

    @property
    def _ringed(self) -> tuple[Pixel, ...]:
        """The cross that disagrees, until it is taken up."""
        worst = self.report.worst
        return () if worst is None or worst == self.mark else (_left_at(self.alignment, worst),)

    def _rings(self, at_px: tuple[Pixel, ...]) -> Drawing:
        radius_px = RING_SHARE * self.alignment.screen_px[1]
        return tuple(ring(middle, radius_px, CROSS_LIGHT) for middle in at_px)

    def _plan(self, middle_px: Pixel | None) -> Drawing:
        if self.mark is None or middle_px is None:
            return ()
        return plan_light(self.alignment, self.mark, middle_px)


def _expected(alignment: HandAlignment, mark: HandMark | None) -> Pixel:
    """Where the cross for the mark starts; the middle of the screen when all are placed."""
    if mark is None:
        width, height = alignment.screen_px
        return (width / 2, height / 2)
    x, y = alignment.predicted_px(mark)[0]
    return (float(x), float(y))


def _left_at(alignment: HandAlignment, mark: HandMark) -> Pixel:
    """Where the mark's cross was left."""
    return next(cross.at_px for cross in alignment.placed if cross.mark == mark)


def _said(mark: HandMark, on_mat: bool) -> str:
    return f"the mat's lines {mark.name}, from its near left corner" if on_mat else mark.name
