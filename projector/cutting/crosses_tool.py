"""The tool that puts two crosses on the cloth, by which it is found again: after a power cut, or once it has slipped.

Each reach of a piece that is larger than the light has crosses of its own.
"""

from dataclasses import dataclass, replace
from typing import TYPE_CHECKING

from patterns.errors import PatternError
from patterns.saying import lengths_said_in
from patterns.tracing.hand_trace import Place
from projector.actions import Accept, Action, FindCloth, Forget, Next, Undo
from projector.bindings import Binding
from projector.cloth.cloth_marks import on_cloth
from projector.cloth.mark_light import crosses_light
from projector.cloth.on_cloth import ClothEdge, ClothLine
from projector.cutting.bindings import BESIDE_TOOL
from projector.cutting.cross_keys import CROSSING
from projector.cutting.finding import find_cloth
from projector.cutting.reach_words import slide_words
from projector.errors import ProjectorError
from projector.scene import Layer, Scene
from projector.tracing.light import cross_light
from projector.tracing.table_cross import TableCross

if TYPE_CHECKING:
    from projector.stations.cut import CutStation


@dataclass(frozen=True, slots=True, kw_only=True)
class CrossesTool:
    """`first_in` is the first of two that are being set, in table inches; `slide_in` how the cloth is slid after."""

    cross: TableCross | None = None
    first_in: Place | None = None
    slide_in: Place = (0.0, 0.0)

    @property
    def name(self) -> str:
        """What the strip calls it."""
        return "crosses on the cloth"

    @property
    def bindings(self) -> tuple[Binding, ...]:
        """Crosses are set with the cross of light."""
        return (*CROSSING, *BESIDE_TOOL)

    @property
    def slides(self) -> bool:
        """Whether the cloth is to be slid once the crosses are marked."""
        return self.slide_in != (0.0, 0.0)

    @property
    def set_in(self) -> tuple[Place, ...]:
        """The first of two; both are on the cloth."""
        return () if self.first_in is None else (self.first_in,)

    def taken_up(self, station: "CutStation") -> "CrossesTool":
        """With the cross in the middle of the light."""
        return replace(self, cross=TableCross.in_the_middle(station.ground.lit, station.ground.unit))

    def after(self, station: "CutStation", action: Action) -> "CutStation":
        """A cross set, both forgotten, or the cloth found again; what cannot be is said."""
        try:
            with lengths_said_in(station.ground.unit):
                return self._after(station, action)
        except (PatternError, ProjectorError) as error:
            return station.refusing(str(error))

    def heading(self, station: "CutStation") -> tuple[str, ...]:
        """What to do with the crosses."""
        if self.first_in is not None:
            return ("set cross 2 far from cross 1",)
        if station.work.crosses_in is None:
            return ("two crosses to find the cloth by",)
        return ("mark both crosses: chalk or pins",)

    def words(self, station: "CutStation") -> tuple[str, ...]:
        """The ways on."""
        if self.first_in is not None:
            return ("enter: cross 2 is here", *self._at.words)
        if station.work.crosses_in is None:
            return ("enter: cross 1 is here", *self._at.words)
        return (f"m: {slide_words(station, self.slide_in) or 'the cloth has moved'}", "x: others")

    def layers(self, station: "CutStation") -> Scene:
        """The cross of light, and the first of two; both are lit by the station once they are set."""
        lit, person, at, first = station.ground.lit, station.person, self._at.at_in, self.first_in
        cross = Layer(name="cross", key=(at, person), draw=lambda: cross_light(at, lit, person))
        if first is None:
            return (cross,)
        return (
            Layer(name="marks", key=(first, person), draw=lambda: crosses_light((first,), lit, person)),
            cross,
        )

    @property
    def _at(self) -> TableCross:
        assert self.cross is not None, "the tool was not taken up"
        return self.cross

    def _after(self, station: "CutStation", action: Action) -> "CutStation":
        match action:
            case Accept() if self.first_in is None:
                return replace(station, tool=replace(self, first_in=self._at.at_in), notice="")
            case Accept():
                return self._both(station, self.first_in)
            case Undo() if self.first_in is not None:
                return replace(station, tool=replace(self, first_in=None), notice="")
            case Forget():
                tool = replace(self, first_in=None, slide_in=(0.0, 0.0))
                return replace(station, tool=tool, work=replace(station.work, crosses_in=None), notice="")
            case Next() if self.slides:
                return self._after(station, FindCloth())
            case FindCloth():
                slid = replace(self, slide_in=(0.0, 0.0))
                return find_cloth(replace(station, tool=slid), self.slide_in)
            case _:
                cross = self._at.after(action, station.ground.lit, station.person)
                if cross is self.cross:
                    return station.besides(action)
                return replace(station, tool=replace(self, cross=cross), notice="")

    def _both(self, station: "CutStation", first_in: Place | None) -> "CutStation":
        assert first_in is not None
        apart = ClothLine(
            kind=ClothEdge.THREAD, marks_in=(first_in, self._at.at_in)
        )  # refuses those too near
        return replace(
            station,
            tool=replace(self, first_in=None),
            work=replace(station.work, crosses_in=on_cloth(station.work.cloth, apart.marks_in)),
            notice="",
        )
