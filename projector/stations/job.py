"""The whole job: its steps with what is done of each; one of them is chosen and opened.

Left and right go through the garments of the folder and on to a new one.
"""

import math
from dataclasses import dataclass, replace
from typing import Final

from projector.actions import Accept, Action, Aim, Cancel, ChangeSide, ChangeVersion, Finish, Move, Show
from projector.bindings import BLANK, HELP, POINTER, QUIT, SIDE, Binding
from projector.errors import ProjectorError
from projector.job.asked import Asked
from projector.job.found import Found
from projector.job.left import Left
from projector.job.page import Page, Row, page_light, row_at
from projector.job.steps import STEPS, next_step
from projector.lighting.look import STRIP_ASIDE_LIGHT, STRIP_LIGHT
from projector.person import FAR, across
from projector.scene import Controls, Layer, Scene
from projector.words.messages import columns_light
from projector.words.typed_answer import TypedAnswer

TOUCHED_PX: Final = 20.0  # a mouse goes less far by itself, or when the table is knocked
NOT_YET_LIGHT: Final = 0.08  # of a step that something is missing for
JOB_BINDINGS: Final = (
    Binding(
        shown="up, down; page up", says="another step", keys=("up", "down", "page up"),
        actions=(Move(away=1), Move(away=-1), Move(away=1)),
    ),
    Binding(
        shown=f"1 to {len(STEPS)}", says="open that step",
        keys=tuple(str(number + 1) for number in range(len(STEPS))),
        actions=tuple(Show(number=number + 1) for number in range(len(STEPS))),
    ),
    Binding(shown="enter, page down", says="open the framed step", keys=("return", "enter", "page down"),
            actions=(Accept(),)),
    replace(POINTER, says="frames a step"),
    Binding(shown="left button", says="open the framed step", keys=("left button",), actions=(Accept(),)),
    Binding(shown="left, right", says="another garment of this folder, or a new one", keys=("left", "right"),
            actions=(Move(right=-1), Move(right=1))),
    Binding(shown="v", says="another version of its pattern", keys=("v",), actions=(ChangeVersion(),)),
    SIDE,
    BLANK,
    HELP,
    replace(QUIT, says="leave; all is kept"),
)  # fmt: skip
CAUTIONS: Final = (
    "Never look into the lens: space puts the light out. The projector is well fixed and tethered, and no cord "
    "lies across the way."
)


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class JobStation:
    """`chosen` counts the steps; `opens` is the command to run next, once there is one.

    `answers` are those given so far to what the step asks. `wants` is what the job is to go on with instead.
    `rest_px` is where the mouse was when it was first heard of.
    """

    found: Found
    screen_px: tuple[int, int]
    chosen: int
    question: TypedAnswer | None = None
    answers: tuple[str, ...] = ()
    opens: tuple[str, ...] | None = None
    wants: Left | None = None
    side: int = 0
    rest_px: tuple[float, float] | None = None
    notice: str = ""

    @classmethod
    def begun(
        cls, found: Found, screen_px: tuple[int, int], chosen: int | None = None, notice: str = ""
    ) -> "JobStation":
        """With the step that comes next framed, unless another is meant."""
        number = next_step(found) if chosen is None else chosen
        return cls(found=found, screen_px=screen_px, chosen=number, notice=notice)

    @property
    def bindings(self) -> tuple[Binding, ...]:
        """The keys that have a meaning now."""
        return JOB_BINDINGS if self.question is None else self.question.bindings

    @property
    def upside_down(self) -> bool:
        """Whether the words are turned to the far side."""
        return self.side == FAR

    @property
    def finished(self) -> bool:
        """Whether a step is to be opened, or the job goes on with another garment."""
        return self.opens is not None or self.wants is not None

    def after(self, action: Action) -> "JobStation":
        """The station after the action."""
        if self.question is not None:
            return self._answering(self.question, action)
        match action:
            case Move(right=right) if right:
                return self._another_garment(right)
            case ChangeVersion():
                return self._another_version()
            case Move(away=away):
                return replace(self, chosen=(self.chosen - away) % len(STEPS), notice="")
            case Show(number=number):
                return replace(self, chosen=number - 1).opened()
            case Accept():
                return self.opened()
            case Aim(at_px=at_px):
                return self._pointed(at_px)
            case ChangeSide():
                return replace(self, side=across(self.side))
            case _:
                return self

    def again(self, answers: tuple[str, ...]) -> "JobStation":
        """The chosen step opened as it was before, with those answers."""
        return replace(self, answers=STEPS[self.chosen].again(self.found, answers)).opened()

    def opened(self) -> "JobStation":
        """With the command of the chosen step to be run; else with what is asked or missing first."""
        step = STEPS[self.chosen]
        if missing := step.needs(self.found):
            return replace(self, notice=f"not yet: {missing}")
        asked = step.asked(self.found, self.answers)
        if asked is not None:
            return replace(self, question=_question(asked), notice="")
        return replace(self, question=None, opens=step.command(self.found, self.answers))

    def scene(self, controls: Controls) -> Scene:
        """The steps; the keys instead while help is asked for."""
        if controls.helping:
            keys = [(binding.shown, binding.says) for binding in self.bindings]
            return (
                Layer(
                    name="main",
                    key=("help", self.upside_down, self.question is None),
                    draw=lambda: columns_light(
                        keys,
                        self.screen_px,
                        (STRIP_LIGHT, STRIP_ASIDE_LIGHT),
                        upside_down=self.upside_down,
                    ),
                ),
            )
        page = self.page(controls)
        return (
            Layer(
                name="main",
                key=(page, self.upside_down),
                draw=lambda: page_light(page, self.screen_px, upside_down=self.upside_down),
            ),
        )

    def page(self, controls: Controls) -> Page:
        """What is to be read."""
        found = self.found
        version = found.left.pattern_version
        return Page(
            title=found.name if version is None else f"{found.name}, version {version}",
            aside=self._which(),
            rows=tuple(self._row(number) for number in range(len(STEPS))),
            framed=self.chosen,
            said=self._said(),
            besides=self._besides(),
            ways=self._ways(controls),
        )

    def _which(self) -> str:
        """Which of the folder's garments it is, where there are several."""
        names, now = self.found.patterns, self.found.left.pattern
        if now is None or now not in names or len(names) < 2:
            return ""
        return f"{names.index(now) + 1} of {len(names)}: {now}"

    def _row(self, number: int) -> Row:
        step = STEPS[number]
        possible = NOT_YET_LIGHT if step.needs(self.found) else STRIP_ASIDE_LIGHT
        light = STRIP_LIGHT if number == self.chosen else possible
        return Row(number=str(number + 1), does=step.does, state=step.done(self.found), light=light)

    def _said(self) -> tuple[str, ...]:
        """What comes first: the question, or what happened, or what the framed step wants."""
        notice = (self.notice,) if self.notice else ()
        if self.question is not None:
            return (*notice, self.question.words)
        if notice or self.found.unread:
            return (*notice, *self.found.unread)
        hint = STEPS[self.chosen].hint
        return (hint,) if self.found.setup is not None else (hint, CAUTIONS)

    def _besides(self) -> tuple[str, ...]:
        """What is asked next, with the usual answers; or what the framed step wants, if something else comes first."""
        if self.question is not None:
            return tuple(asked.in_short for asked in self._asked[1:])
        quiet = self.found.unread or not self.notice
        return () if quiet else (STEPS[self.chosen].hint,)

    def _ways(self, controls: Controls) -> tuple[str, ...]:
        if self.question is not None:
            more = ["tab: another answer"] if len(self.question.offers) > 1 else []
            rest = ["page down: all as it is shown"] if len(self._asked) > 1 else []
            return ("enter: that is it", *more, *rest, "escape: not now")
        ways = ["preview, not true to size"] if controls.preview else []
        ways.append("enter opens")
        if self.found.patterns:
            ways.append("left, right: another garment")
        if len(self.found.versions) > 1:
            ways.append("v: another version")
        return (*ways, "h: keys", "q leaves")

    def _pointed(self, at_px: tuple[float, float]) -> "JobStation":
        """The step that is pointed at framed, if one is; a mouse that was only touched points at nothing."""
        if self.rest_px is None:
            return replace(self, rest_px=at_px)
        if math.dist(self.rest_px, at_px) < TOUCHED_PX:
            return self
        row = row_at(self.page(Controls()), self.screen_px, at_px, upside_down=self.upside_down)
        return self if row is None or row == self.chosen else replace(self, chosen=row, notice="")

    @property
    def _asked(self) -> tuple[Asked, ...]:
        """What is asked now, and then."""
        return STEPS[self.chosen].asked_still(self.found, self.answers)

    def _answering(self, question: TypedAnswer, action: Action) -> "JobStation":
        match action:
            case Accept():
                return self._answered(question.text.strip())
            case Finish():
                return self._answered_throughout(question.text.strip())
            case Cancel():
                return replace(self, question=None, answers=(), notice="")
            case _:
                typed = question.after(action)
                return self if typed is question else replace(self, question=typed)

    def _answered(self, text: str) -> "JobStation":
        try:
            answer = self._asked[0].answer(text)
        except ProjectorError as error:
            return replace(self, notice=str(error))
        return replace(self, answers=(*self.answers, answer)).opened()

    def _answered_throughout(self, text: str) -> "JobStation":
        """That answer, and after it what is shown as the answer to all that is asked."""
        after = self._answered(text)
        for asked in () if after.notice else self._asked[1:]:
            after = after._answered(asked.offers[0])
        return after

    def _another_garment(self, by: int) -> "JobStation":
        """The folder's next pattern, or after the last none: a new garment."""
        left = self.found.left
        if not self.found.patterns:
            return replace(self, wants=left)  # the folder is looked at again
        names = (*self.found.patterns, None)
        at = names.index(left.pattern) if left.pattern in names else len(names) - 1
        name = names[(at + by) % len(names)]
        return replace(self, wants=replace(left, pattern=name, pattern_version=None))

    def _another_version(self) -> "JobStation":
        versions, left = self.found.versions, self.found.left
        if len(versions) < 2:
            return replace(self, notice="this pattern has no versions: its file names them")
        at = versions.index(left.pattern_version) if left.pattern_version in versions else -1
        return replace(self, wants=replace(left, pattern_version=versions[(at + 1) % len(versions)]))


def _question(asked: Asked) -> TypedAnswer:
    return TypedAnswer(asks=asked.question, bindings=asked.bindings, offers=asked.offers).offered()
