"""The whole job: its steps with what is done of each; one of them is chosen and opened."""

from dataclasses import dataclass, replace
from typing import Final

from projector.actions import Accept, Action, Cancel, ChangeSide, Move, Show
from projector.bindings import BLANK, HELP, QUIT, SIDE, Binding
from projector.job.found import Found
from projector.job.page import Page, Row, page_light
from projector.job.steps import STEPS, Asked, next_step
from projector.lighting.look import STRIP_ASIDE_LIGHT, STRIP_LIGHT
from projector.scene import Controls, Layer, Scene
from projector.words.messages import columns_light
from projector.words.typed_answer import TypedAnswer

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
    Binding(shown="left, right", says="another pattern of this folder", keys=("left", "right"),
            actions=(Move(right=-1), Move(right=1))),
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
    """`chosen` counts the steps; `opens` is the command to run next, once there is one."""

    found: Found
    screen_px: tuple[int, int]
    chosen: int
    question: TypedAnswer | None = None
    opens: tuple[str, ...] | None = None
    wants: str | None = None
    upside_down: bool = False
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
    def finished(self) -> bool:
        """Whether a step is to be opened, or another pattern looked at."""
        return self.opens is not None or self.wants is not None

    def after(self, action: Action) -> "JobStation":
        """The station after the action."""
        if self.question is not None:
            return self._answering(self.question, action)
        match action:
            case Move(right=right) if right:
                return self._another_pattern(right)
            case Move(away=away):
                return replace(self, chosen=(self.chosen - away) % len(STEPS), notice="")
            case Show(number=number):
                return replace(self, chosen=number - 1).opened()
            case Accept():
                return self.opened()
            case ChangeSide():
                return replace(self, upside_down=not self.upside_down)
            case _:
                return self

    def opened(self) -> "JobStation":
        """With the command of the chosen step to be run; else with what is asked or missing first."""
        step = STEPS[self.chosen]
        if missing := step.needs(self.found):
            return replace(self, notice=f"not yet: {missing}")
        asked = step.asks(self.found)
        if asked is not None:
            return replace(self, question=_question(asked), notice="")
        return replace(self, opens=step.command(self.found, ""))

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
        title = "a new garment" if self.found.pattern is None else self.found.pattern.name
        rows = tuple(self._row(number) for number in range(len(STEPS)))
        return Page(title=title, rows=rows, framed=self.chosen, said=self._said(), ways=self._ways(controls))

    def _row(self, number: int) -> Row:
        step = STEPS[number]
        possible = NOT_YET_LIGHT if step.needs(self.found) else STRIP_ASIDE_LIGHT
        light = STRIP_LIGHT if number == self.chosen else possible
        return Row(number=str(number + 1), does=step.does, state=step.done(self.found), light=light)

    def _said(self) -> tuple[str, ...]:
        if self.question is not None:
            return (self.question.words,)
        said = (*((self.notice,) if self.notice else ()), *self.found.unread)
        if said:
            return said
        hint = STEPS[self.chosen].hint
        return (hint,) if self.found.setup is not None else (hint, CAUTIONS)

    def _ways(self, controls: Controls) -> str:
        if self.question is not None:
            return "enter: that is it  ·  tab: a usual answer  ·  escape: not now"
        preview = "preview, not true to size  ·  " if controls.preview else ""
        return f"{preview}enter opens  ·  h: keys  ·  q leaves"

    def _answering(self, question: TypedAnswer, action: Action) -> "JobStation":
        match action:
            case Accept() if question.text.strip():
                return replace(self, opens=STEPS[self.chosen].command(self.found, question.text.strip()))
            case Cancel():
                return replace(self, question=None)
            case _:
                typed = question.after(action)
                return self if typed is question else replace(self, question=typed)

    def _another_pattern(self, by: int) -> "JobStation":
        names = self.found.patterns
        if not names:
            return replace(self, notice="no pattern in this folder yet: trace one")
        now = self.found.left.pattern
        at = names.index(now) + by if now in names else 0
        return replace(self, wants=names[at % len(names)])


def _question(asked: Asked) -> TypedAnswer:
    return TypedAnswer(asks=asked.question, bindings=asked.bindings, offers=asked.offers).offered()
