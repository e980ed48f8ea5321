"""Crosses of light on marks that an alignment knows, one after the other; the person nudges each on to its mark."""

from collections.abc import Callable
from dataclasses import dataclass, replace
from typing import Final

import numpy as np

from calibration.frames import Array
from calibration.hand.drift import DRIFT_MARKS, LaidMark
from calibration.projector_map import ProjectorMap
from projector.actions import Accept, Action, ChangeSide, Finish, Undo
from projector.aligning.cross_in_hand import CrossInHand
from projector.aligning.words_beside import Pixel, Wanted
from projector.bindings import ARROWS, BLANK, HELP, ON_MARK, QUIT, SIDE, STEP, UNDO, Binding
from projector.person import FAR, across
from projector.scene import Controls, Scene
from projector.words.strip_rows import BETWEEN, StripWords

BINDINGS: Final = (
    replace(ARROWS, shown="arrows, mouse"),
    STEP,
    ON_MARK,
    UNDO,
    Binding(shown="d", says="done: these are enough", keys=("d",), actions=(Finish(),)),
    SIDE,
    BLANK,
    HELP,
    replace(QUIT, says="leave; nothing is kept"),
)


Verdict = Callable[[Array, Array], str]


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class NudgeStation:
    """`left_px` are where the crosses of the first marks were left; `hand` has the next one's.

    `verdict` says in words what (n, 2) marks and the moves of the light there come to, both in inches.
    """

    found: ProjectorMap
    marks: tuple[LaidMark, ...]
    verdict: Verdict
    on_mat: bool
    hand: CrossInHand
    left_px: tuple[Pixel, ...] = ()
    done: bool = False
    side: int = 0
    notice: str = ""

    @classmethod
    def begun(
        cls, found: ProjectorMap, marks: tuple[LaidMark, ...], verdict: Verdict, *, on_mat: bool
    ) -> "NudgeStation":
        """The cross where the map puts the first mark, in fine steps: it should be there already."""
        first = _foreseen(found, marks[0])
        hand = CrossInHand(at_px=first, screen_px=found.screen_px, fine=True)
        still = "" if on_mat else "the sheets must lie just as they lay for the alignment"
        return cls(found=found, marks=marks, verdict=verdict, on_mat=on_mat, hand=hand, notice=still)

    @property
    def upside_down(self) -> bool:
        """Whether the words are turned to the far side."""
        return self.side == FAR

    @property
    def bindings(self) -> tuple[Binding, ...]:
        """The keys that have a meaning here."""
        return BINDINGS

    @property
    def finished(self) -> bool:
        """Whether the person has seen the verdict, or has no more marks to look at."""
        return self.done

    @property
    def mark(self) -> LaidMark | None:
        """The mark in question; None when all have been looked at."""
        return self.marks[len(self.left_px)] if len(self.left_px) < len(self.marks) else None

    @property
    def placed_in(self) -> Array:
        """(n, 2) table inches of the marks that were looked at."""
        return np.array([mark.table_in for mark in self.marks[: len(self.left_px)]]).reshape(-1, 2)

    @property
    def moved_in(self) -> Array:
        """(n, 2) inches by which the light falls beside each: from the mark to where its light falls today."""
        # light that the map sends to `there` falls on the mark, so light sent to the mark falls as far beside it
        there = self.found.table_from_screen(np.array(self.left_px).reshape(-1, 2))
        moved: Array = self.placed_in - there
        return moved

    def after(self, action: Action) -> "NudgeStation":
        """The station after the action; what cannot be done is said and changes nothing."""
        match action:
            case Accept():
                return self._accepted()
            case Undo():
                return self._undone()
            case Finish():
                if len(self.left_px) < DRIFT_MARKS:
                    return replace(self, notice=f"{DRIFT_MARKS} marks are needed before it can be judged")
                return replace(self, done=True)
            case ChangeSide():
                return replace(self, side=across(self.side), notice="")
            case _:
                hand = self.hand.after(action, upside_down=self.upside_down)
                return self if hand is self.hand else replace(self, hand=hand, notice="")

    def scene(self, controls: Controls) -> Scene:
        """The cross, those before it, and words clear of it; the keys instead when asked for."""
        if controls.helping:
            return (self.hand.help_layer(self.bindings, upside_down=self.upside_down),)
        wanted = Wanted(
            words=self.words(controls), screen_px=self.hand.screen_px, upside_down=self.upside_down
        )
        words = self.hand.beside(wanted, self.left_px)
        return self.hand.layers(self.left_px, words, lit=self.mark is not None)

    def words(self, controls: Controls) -> StripWords:
        """Which mark, or the verdict; how many there are; what to do."""
        number = len(self.left_px)
        if self.mark is None:
            first, count, ways = self.verdict(self.placed_in, self.moved_in), "", ["d keeps this and leaves"]
        else:
            name = self.mark.mark.name
            where = f"the mat's lines {name}, from its near left corner" if self.on_mat else name
            first = f"is the cross on {where}?"
            count = f"mark {number + 1} of {len(self.marks)}; nudge the cross on to it if it is not"
            ways = [self.hand.steps, "enter: on the mark"]
            ways += ["d: enough"] if number >= DRIFT_MARKS else []
        if controls.frozen:
            first = "FROZEN: f frees it"
        preview = ["preview, not true to size"] if controls.preview else []
        keys = BETWEEN.join([*preview, *ways, "backspace undoes", "h: keys"])
        aside = tuple(line for line in (self.notice or count, keys) if line)
        return StripWords(first=(first,), aside=aside)

    def _accepted(self) -> "NudgeStation":
        if self.mark is None:
            return replace(self, notice="every mark has been looked at")
        return self._with((*self.left_px, self.hand.at_px))

    def _undone(self) -> "NudgeStation":
        if not self.left_px:
            return replace(self, notice="nothing to undo")
        back = replace(self, left_px=self.left_px[:-1], notice="")
        return replace(back, hand=replace(self.hand, at_px=self.left_px[-1]))

    def _with(self, left_px: tuple[Pixel, ...]) -> "NudgeStation":
        on = replace(self, left_px=left_px, notice="")
        if on.mark is None:
            return on
        return replace(on, hand=replace(self.hand, at_px=_foreseen(self.found, on.mark)))


def _foreseen(found: ProjectorMap, mark: LaidMark) -> Pixel:
    (u, v) = found.screen_from_table([mark.table_in])[0]
    return float(u), float(v)
