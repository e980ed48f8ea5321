"""The tool that brings pieces on to the cloth: two marks on its fold or its selvedge, and one more to slide them."""

from dataclasses import dataclass, replace
from typing import TYPE_CHECKING

import numpy as np

from patterns.cutting.placement import Placement
from patterns.errors import PatternError
from patterns.saying import Say, lengths_said_in
from patterns.tracing.hand_trace import Place
from projector.actions import Accept, Action, Back, ChangeEdge, Forget, Freeze, LayOn, Next, OtherSide, Undo
from projector.bindings import Binding
from projector.cloth.mark_light import line_light, numbered_light
from projector.cloth.on_cloth import (
    ON_LINE_IN,
    STRAIGHT_IN,
    ClothEdge,
    ClothLine,
    PieceLine,
    edges_for,
    is_half,
    laid_on,
    lay_edge,
    lies_on,
    on_other_side,
    piece_line,
    side_words,
    slid_to,
    turn_words,
)
from projector.cutting.bindings import BESIDE_TOOL
from projector.cutting.cross_keys import BY_EDGE
from projector.cutting.following import following
from projector.cutting.stage import Stage
from projector.cutting.tools import PieceTool
from projector.errors import ProjectorError
from projector.scene import Layer, Scene
from projector.tracing.light import cross_light
from projector.tracing.table_cross import TableCross

if TYPE_CHECKING:
    from projector.stations.cut import CutStation


@dataclass(frozen=True, slots=True, kw_only=True)
class EdgeTool:
    """`marks_in` are those set so far, in table inches: none, one, or both. They stay for the next piece."""

    cross: TableCross | None = None
    marks_in: tuple[Place, ...] = ()
    other_edge: int = 0

    @property
    def name(self) -> str:
        """What the strip calls it."""
        return "by marks on the cloth"

    @property
    def bindings(self) -> tuple[Binding, ...]:
        """Marks are set with the cross."""
        return (*BY_EDGE, *BESIDE_TOOL)

    @property
    def set_in(self) -> tuple[Place, ...]:
        """Those of the cloth's edge."""
        return self.marks_in

    def taken_up(self, station: "CutStation") -> "EdgeTool":
        """With the cross in the middle of the light."""
        return replace(self, cross=TableCross.in_the_middle(station.ground.lit, station.ground.unit))

    def after(self, station: "CutStation", action: Action) -> "CutStation":
        """The cross moved, a mark set, or the piece brought to lie by the marks; what cannot be is said."""
        try:
            with lengths_said_in(station.ground.unit):
                return self._after(station, action)
        except (PatternError, ProjectorError) as error:
            return station.refusing(str(error))

    def heading(self, station: "CutStation") -> tuple[str, ...]:
        """What to mark next; then on which side of the marks the piece lies."""
        edge = self.edge(station)
        if not self.marks_in:
            return (f"set mark 1 on {edge.value}",)
        if len(self.marks_in) == 1:
            apart_in = float(np.hypot(*np.subtract(self._at.at_in, self.marks_in[0])))
            return (f"set mark 2 far along {edge.value}", f"{Say(station.ground.unit)(apart_in, 4)} so far")
        line = self._line(station)
        if not self._is_laid(station, line):
            return ("not on the marks yet",)
        return (side_words(station.piece, station.placement, line, station.person),)

    def words(self, station: "CutStation") -> tuple[str, ...]:
        """The ways on; and where the marks are too near each other, what that is worth."""
        edge, say = self.edge(station), Say(station.ground.unit)
        if len(self.marks_in) < 2:
            return (f"enter: mark {len(self.marks_in) + 1}", *self._edges_words(station), *self._at.words)
        line = self._line(station)
        return (
            *(("page down: go on cutting",) if station.stage is Stage.FINDING else ()),
            "m: the other side",
            f"mark 3 on {edge.value}: it ends there",
            "l: laid by these marks",
            "x: marks anew",
            *turn_words(station.piece, station.placement, line, say),
        )

    def layers(self, station: "CutStation") -> Scene:
        """The cross, the marks, and the line through them over the whole light."""
        lit, person, marks, at = station.ground.lit, station.person, self.marks_in, self._at.at_in
        cross = Layer(name="cross", key=(at, person), draw=lambda: cross_light(at, lit, person))
        set_ = Layer(name="marks", key=(marks, person), draw=lambda: numbered_light(marks, lit, person))
        if not marks:
            return (cross,)
        ends = marks if len(marks) == 2 else (marks[0], at)
        if ends[0] == ends[1]:
            return (set_, cross)
        pair = (ends[0], ends[1])
        return (Layer(name="line", key=pair, draw=lambda: line_light(pair, lit)), set_, cross)

    @property
    def _at(self) -> TableCross:
        assert self.cross is not None, "the tool was not taken up"
        return self.cross

    def _edges(self, station: "CutStation") -> tuple[ClothEdge, ...]:
        if station.work.is_lay and not is_half(station.piece, station.placement):
            return (ClothEdge.LAY_EDGE,)
        return edges_for(station.piece, station.placement)

    def edge(self, station: "CutStation") -> ClothEdge:
        """What of the cloth the lit piece is brought to."""
        edges = self._edges(station)
        return edges[self.other_edge % len(edges)]

    def _own(self, station: "CutStation") -> PieceLine:
        """The line of the piece that belongs on the cloth's; ProjectorError where it has none, or another piece has."""
        if self.edge(station) is not ClothEdge.LAY_EDGE:
            return piece_line(station.piece, station.placement)
        halves = zip(station.ground.pieces, station.work.placements, strict=True)
        on_fold = next((piece.name for piece, placement in halves if is_half(piece, placement)), None)
        if on_fold is not None:
            raise ProjectorError(
                f"this cloth is folded: bring {on_fold} on to its fold, and all goes with it"
            )
        return lay_edge(station.piece, station.copy.place)

    def _is_laid(self, station: "CutStation", line: ClothLine) -> bool:
        try:
            return lies_on(station.placement, line, self._own(station))
        except ProjectorError:
            return False

    def _edges_words(self, station: "CutStation") -> tuple[str, ...]:
        edges = self._edges(station)
        other = edges[(self.other_edge + 1) % len(edges)]
        return (f"c: on {other.value}",) if len(edges) > 1 else ()

    def _line(self, station: "CutStation") -> ClothLine:
        one, other = self.marks_in
        return ClothLine(kind=self.edge(station), marks_in=(one, other))

    def _after(self, station: "CutStation", action: Action) -> "CutStation":
        both = len(self.marks_in) == 2
        match action:
            case Next() | Freeze() if station.stage is Stage.FINDING and not both:
                raise ProjectorError("set both marks first; page up goes back")
            case Back() if station.stage is Stage.FINDING:
                return replace(station, tool=PieceTool(), stage=Stage.ASKING, notice="")
            case Accept() if both:
                return self._third(station)
            case Accept():
                return self._marked(station)
            case OtherSide() if both:
                line, own = self._line(station), self._own(station)
                return _brought(station, on_other_side(station.piece, station.placement, line, own))
            case LayOn() if both:
                return _brought(station, self._laid(station, self._line(station)))
            case OtherSide() | LayOn():
                raise ProjectorError(f"set two marks on {self.edge(station).value} first")
            case ChangeEdge():
                return self._held(station, replace(self, other_edge=self.other_edge + 1))
            case Forget():
                return self._held(station, replace(self, marks_in=()))
            case Undo() if len(self.marks_in) == 1:
                return self._held(station, replace(self, marks_in=()))
            case _:
                cross = self._at.after(action, station.ground.lit, station.person)
                if cross is self.cross:
                    return station.besides(action)
                return self._held(station, replace(self, cross=cross))

    def _held(self, station: "CutStation", tool: "EdgeTool") -> "CutStation":
        return replace(station, tool=tool, notice="")

    def _marked(self, station: "CutStation") -> "CutStation":
        """One mark more; with the second, the piece comes to lie by them."""
        tool = replace(self, marks_in=(*self.marks_in, self._at.at_in))
        if len(tool.marks_in) == 1:
            return self._held(station, tool)
        line = tool._line(station)
        held = self._held(station, tool)
        try:
            return _brought(held, self._laid(station, line))
        except ProjectorError as error:  # the marks stay: the next says the side
            return held.refusing(str(error))

    def _third(self, station: "CutStation") -> "CutStation":
        """On the line, where the piece ends; beside it, on which side it lies. A cloth's edge that bends is told."""
        line, at = self._line(station), self._at.at_in
        off_in = abs(float(line.left_of(np.array([at]))[0]))
        if off_in >= ON_LINE_IN:
            return _brought(station, self._laid(station, line, at))
        slid = _brought(station, slid_to(station.piece, self._laid(station, line), line, at))
        if off_in <= STRAIGHT_IN:
            return slid
        off = Say(station.ground.unit)(off_in, 32)
        return slid.refusing(f"mark 3 is {off} off the line of the others: smooth the cloth, x: marks anew")

    def _laid(self, station: "CutStation", line: ClothLine, side_in: Place | None = None) -> Placement:
        return laid_on(station.piece, station.placement, line, self._own(station), side_in)


def _brought(station: "CutStation", placement: Placement) -> "CutStation":
    return replace(following(station, placement), on_marks=True)
