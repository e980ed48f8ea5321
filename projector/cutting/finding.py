"""Finding the cloth again once it was moved: by its two crosses, before anything is lit that could be cut along.

Either the cloth is slid until its marks lie on the crosses of light, and a page key says so; or the cross of light is
set on each mark, and the light follows. It is turned and slid for that; how far the marks have come apart is told.
"""

from dataclasses import dataclass, replace
from typing import TYPE_CHECKING

from patterns.errors import PatternError
from patterns.saying import Say, lengths_said_in
from patterns.tracing.hand_trace import Place
from projector.actions import Accept, Action, Back, ChangeSide, Freeze, Next, Undo
from projector.bindings import Binding
from projector.cloth.cloth_marks import Marks, moved, of_piece, on_table
from projector.cloth.cloth_place import ClothPlace
from projector.cloth.mark_light import crosses_light, rings_light
from projector.cloth.stretch import FoundAgain, SwappedError
from projector.cutting.cross_keys import FINDING
from projector.cutting.reach_words import slide_words
from projector.cutting.stage import Stage
from projector.cutting.steps import Step, is_slide
from projector.cutting.work import Lies
from projector.errors import ProjectorError
from projector.history import History
from projector.person import SIDES
from projector.scene import Layer, Scene
from projector.tracing.light import cross_light
from projector.tracing.table_cross import TableCross

if TYPE_CHECKING:
    from projector.cutting.tools import CutTool
    from projector.stations.cut import CutStation


def find_cloth(station: "CutStation", slide_in: Place = (0.0, 0.0), step: Step | None = None) -> "CutStation":
    """The station looking for the cloth, which was to be slid so far; `step` is ticked off once it is found.

    Raises ProjectorError where it has no crosses.
    """
    crosses = station.work.crosses_in
    if crosses is None:
        raise ProjectorError("no crosses are marked on this cloth: lay the pieces by its fold, or set two")
    cloth, lit = station.work.cloth, station.ground.lit
    expected = replace(cloth, x_in=cloth.x_in + slide_in[0], y_in=cloth.y_in + slide_in[1])
    tool = FindTool(
        cross=TableCross.in_the_middle(lit, station.ground.unit),
        crosses_in=crosses,
        expected=expected,
        slide_in=slide_in,
        step=step,
        before=station.tool,
        since=station.stage,
    )
    return replace(station, tool=tool, stage=Stage.FINDING, notice="")


def find_if_marked(station: "CutStation") -> "CutStation":
    """The station looking for the cloth by its crosses, slid if it was to be; saying so where it has none."""
    step = station.step
    if step is not None and is_slide(step.name):
        return slid(station, step)
    try:
        return find_cloth(station)
    except ProjectorError as error:
        return station.refusing(str(error))


def slid(station: "CutStation", step: Step) -> "CutStation":
    """The cloth, slid for the next reach, to be found again by the crosses of this one."""
    copy, reaches = station.copy, station.copy.reaches
    assert reaches is not None, "only in reaches is cloth slid"
    crosses = reaches.reaches[copy.reach].crosses
    assert crosses is not None, "only before another reach is cloth slid"
    work = replace(station.work, crosses_in=of_piece(copy.place, crosses.marks_in))
    return find_cloth(replace(station, work=work), reaches.slide_after(copy.reach), step)


@dataclass(frozen=True, slots=True, kw_only=True)
class FindTool:
    """`crosses_in` are on the cloth, in its inches, which is `expected` there once slid; `found_in` on the table.

    `step` is what is done once it is found; `before` and `since` what was in use and at hand until then.
    """

    cross: TableCross
    crosses_in: Marks
    expected: ClothPlace
    slide_in: Place
    step: Step | None
    before: "CutTool"
    since: Stage
    found_in: tuple[Place, ...] = ()

    @property
    def name(self) -> str:
        """What the strip calls it."""
        return "the cloth"

    @property
    def bindings(self) -> tuple[Binding, ...]:
        """The cross is set on each mark."""
        return FINDING

    @property
    def expected_in(self) -> Marks:
        """Where the marks are expected on the table."""
        return on_table(self.expected, self.crosses_in)

    @property
    def set_in(self) -> tuple[Place, ...]:
        """Those found again."""
        return self.found_in

    def taken_up(self, station: "CutStation") -> "FindTool":
        """It is never taken up by itself."""
        return self

    def after(self, station: "CutStation", action: Action) -> "CutStation":
        """A mark found, or the cross moved; what cannot be is said."""
        try:
            with lengths_said_in(station.ground.unit):
                return self._after(station, action)
        except SwappedError as error:
            return replace(station, tool=replace(self, found_in=())).refusing(str(error))
        except (PatternError, ProjectorError) as error:
            return station.refusing(str(error))

    def heading(self, station: "CutStation") -> tuple[str, ...]:
        """What to do."""
        if self._again is not None:
            return ("THE CLOTH HAS STRETCHED", *self._again.words(Say(station.ground.unit)).split(": "))
        if self.found_in:
            return ("set the cross on mark 2",)
        return (slide_words(station, self.slide_in) or "find the cloth again", "its marks on to the crosses")

    def words(self, station: "CutStation") -> tuple[str, ...]:
        """The ways on."""
        if self._again is not None:
            return ("let it lie and set both again: backspace", "f: lay anew", "enter: go on all the same")
        enter = f"enter: the cross is on mark {len(self.found_in) + 1}"
        if self.found_in:
            return (enter, "backspace: mark 1 anew", *self.cross.words)
        return ("page down: the marks lie on the crosses", enter, *self.cross.words)

    def layers(self, station: "CutStation") -> Scene:
        """The crosses where they are expected, what was found of them, and the cross of light."""
        lit, person, at, found = station.ground.lit, station.person, self.cross.at_in, self.found_in
        expected = self.expected_in
        layers = [
            Layer(name="crosses", key=(expected, person), draw=lambda: crosses_light(expected, lit, person)),
            Layer(name="cross", key=(at, person), draw=lambda: cross_light(at, lit, person)),
        ]
        if found:
            layers.append(Layer(name="marks", key=found, draw=lambda: rings_light(found, lit)))
        return tuple(layers)

    @property
    def _again(self) -> FoundAgain | None:
        """Both marks, once they are set."""
        if len(self.found_in) < 2:
            return None
        one, other = self.found_in
        return FoundAgain(were_in=self.expected_in, found_in=(one, other))

    def _after(self, station: "CutStation", action: Action) -> "CutStation":
        match action:
            case Next() if not self.found_in:
                return self._done(station, self.expected, "")
            case Next() | Accept() if self._again is not None:
                return self._settled(station, self._again)
            case Accept():
                return self._found(station)
            case Undo():
                return replace(station, tool=replace(self, found_in=()), notice="")
            case Back():
                return replace(station, tool=self.before, stage=self.since, notice="")
            case Freeze():
                return replace(station, tool=self.before, stage=Stage.LAYING, notice="lay the pieces anew")
            case ChangeSide():
                return replace(station, side=(station.side + 1) % SIDES, notice="")
            case _:
                cross = self.cross.after(action, station.ground.lit, station.person)
                return replace(station, tool=replace(self, cross=cross))

    def _found(self, station: "CutStation") -> "CutStation":
        """One mark more; with the second the cloth is found, unless it has stretched too far."""
        tool = replace(self, found_in=(*self.found_in, self.cross.at_in))
        again = tool._again
        if again is None or again.too_far:
            return replace(station, tool=tool, notice="")
        return tool._settled(station, again)

    def _settled(self, station: "CutStation", again: FoundAgain) -> "CutStation":
        lying = moved(self.expected, again.place)
        return self._done(station, lying, again.words(Say(station.ground.unit)))

    def _done(self, station: "CutStation", cloth: ClothPlace, said: str) -> "CutStation":
        """The cloth lying there, and the work going on where it was."""
        lies = Lies(cloth=cloth, places=station.work.lies.places)
        found = replace(station, work=station.work.lying(lies), history=History(now=lies), tool=self.before)
        stage = Stage.CUTTING if found.work.begun else Stage.LAYING
        done = replace(found, stage=stage)
        return replace(done if self.step is None else done.ticking(self.step), notice=said)


def expecting(station: "CutStation") -> "CutStation":
    """The station with the cloth where it is expected, to show what lies on it; as it is where nothing is sought."""
    tool = station.tool
    if not isinstance(tool, FindTool) or station.stage is not Stage.FINDING:
        return station
    lies = Lies(cloth=tool.expected, places=station.work.lies.places)
    return replace(station, work=station.work.lying(lies))
