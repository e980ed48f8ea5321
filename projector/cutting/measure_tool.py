"""The tool that measures on the cloth between two points; and a seam gauge of light, laid wherever it is wanted."""

import math
from dataclasses import dataclass, replace
from typing import TYPE_CHECKING, Final

import numpy as np

from calibration.frames import Array
from patterns.cutting.placement import Placement
from patterns.saying import Say
from patterns.tracing.hand_trace import Place
from projector.actions import Accept, Action, ChangeTool, Forget, Freeze, LayGauge, Turn, Undo
from projector.bindings import Binding
from projector.cloth.laid_pieces import COARSE_DEG, FINE_DEG, wrapped
from projector.cloth.mark_light import rings_light
from projector.cloth.measuring import along_edge, angle_to_grain_deg
from projector.cutting.bindings import BESIDE_FROZEN_TOOL, BESIDE_TOOL
from projector.cutting.cross_keys import MEASURING
from projector.cutting.tools import PieceTool
from projector.lighting.gauge import Gauge, gauge_light
from projector.lighting.look import LineStyle
from projector.scene import Layer, Scene
from projector.tracing.light import cross_light, stroked
from projector.tracing.table_cross import TableCross

if TYPE_CHECKING:
    from projector.stations.cut import CutStation

STRAIGHT: Final = LineStyle(width_in=1 / 24, light=0.5)
ALONG: Final = LineStyle(width_in=1 / 10, light=1.0)
SQUARE_DEG: Final = 0.05  # an angle that is said as none


@dataclass(frozen=True, slots=True, kw_only=True)
class MeasureTool:
    """From `from_in` to `to_in`, or to the cross while that is open; `gauge` is where the seam gauge lies."""

    cross: TableCross | None = None
    from_in: Place | None = None
    to_in: Place | None = None
    gauge: Placement | None = None

    @property
    def name(self) -> str:
        """What the strip calls it."""
        return "the tape measure"

    @property
    def bindings(self) -> tuple[Binding, ...]:
        """Points are set with the cross."""
        return (*MEASURING, *BESIDE_TOOL)

    @property
    def frozen_bindings(self) -> tuple[Binding, ...]:
        """The same while pieces are cut: nothing is moved by them but the cross and the gauge."""
        return (*MEASURING, *BESIDE_FROZEN_TOOL)

    @property
    def set_in(self) -> tuple[Place, ...]:
        """The ends that are measured between."""
        return tuple(end for end in (self.from_in, self.to_in) if end is not None)

    def taken_up(self, station: "CutStation") -> "MeasureTool":
        """With the cross in the middle of the light."""
        return replace(self, cross=TableCross.in_the_middle(station.ground.lit, station.ground.unit))

    def after(self, station: "CutStation", action: Action) -> "CutStation":
        """A point set, the gauge laid or turned, the cross moved."""
        match action:
            case Accept():
                return self._held(station, self._measured())
            case Forget():
                return self._held(station, replace(self, from_in=None, to_in=None))
            case Undo() if self.to_in is not None:
                return self._held(station, replace(self, to_in=None))
            case Undo() if self.from_in is not None:
                return self._held(station, replace(self, from_in=None))
            case LayGauge():
                return self._held(station, replace(self, gauge=self._laid_gauge(station)))
            case Turn() if self.gauge is not None:
                return self._held(station, replace(self, gauge=self._turned(self.gauge, action)))
            case _:
                cross = self._at.after(action, station.ground.lit, station.person)
                if cross is self.cross:
                    return station.besides(action)
                return self._held(station, replace(self, cross=cross))

    def heading(self, station: "CutStation") -> tuple[str, ...]:
        """How long it is: straight, along the edge that both ends lie on, and its angle to the grain."""
        if self.from_in is None:
            return ("measure",)
        say, one, other = Say(station.ground.unit), self.from_in, self._end
        said = [f"{say(math.dist(one, other), 32)} straight"]
        edge = along_edge(station.piece, station.placement, one, other)
        if edge is not None:
            said.append(f"{say(edge.length_in, 32)} along the {edge.name}")
        angle = angle_to_grain_deg(station.piece, station.placement, one, other)
        if angle is not None:
            said.append("along the grain" if angle < SQUARE_DEG else f"{angle:.1f}° to the grain")
        return tuple(said)

    def words(self, station: "CutStation") -> tuple[str, ...]:
        """The ways on."""
        gauge = ("l, r turn the gauge",) if self.gauge is not None else ("g: a seam gauge",)
        if self.from_in is None:
            return ("enter: from here", *gauge, *self._at.words)
        return ("enter: anew from here" if self.to_in is not None else "enter: to here", *gauge)

    def layers(self, station: "CutStation") -> Scene:
        """The cross, both points, the straight line between them and the edge from one to the other."""
        lit, person, at, end = station.ground.lit, station.person, self._at.at_in, self._end
        found = [Layer(name="cross", key=(at, person), draw=lambda: cross_light(at, lit, person))]
        if self.gauge is not None:
            gauge, laid = Gauge(unit=station.ground.unit), self.gauge
            found.append(
                Layer(name="gauge", key=(laid, person), draw=lambda: gauge_light(gauge, laid, lit, person))
            )
        if self.from_in is not None and self.from_in != end:
            one, piece, placement = self.from_in, station.piece, station.placement
            marks = (one,) if self.to_in is None else (one, self.to_in)

            def lines() -> tuple[Array, ...]:
                edge = along_edge(piece, placement, one, end)
                return () if edge is None else (edge.path_in,)

            found += [
                Layer(name="marks", key=marks, draw=lambda: rings_light(marks, lit)),
                Layer(
                    name="measured",
                    key=(one, end, piece, placement),
                    draw=lambda: (
                        *stroked([np.array([one, end])], STRAIGHT, lit),
                        *stroked(lines(), ALONG, lit),
                    ),
                ),
            ]
        return tuple(found)

    @property
    def _at(self) -> TableCross:
        assert self.cross is not None, "the tool was not taken up"
        return self.cross

    @property
    def _end(self) -> Place:
        return self._at.at_in if self.to_in is None else self.to_in

    def _held(self, station: "CutStation", tool: "MeasureTool") -> "CutStation":
        return replace(station, tool=tool, notice="")

    def _measured(self) -> "MeasureTool":
        at = self._at.at_in
        if self.from_in is None or self.to_in is not None:
            return replace(self, from_in=at, to_in=None)
        return replace(self, to_in=at)

    def _laid_gauge(self, station: "CutStation") -> Placement | None:
        """Zero at the cross, along the measured line if there is one, or else level for the person; None to lift it."""
        if self.gauge is not None:
            return None
        x, y = self._at.at_in
        turn = station.person.facing_deg
        if self.from_in is not None and self.from_in != self._end:
            (x, y), (end_x, end_y) = self.from_in, self._end
            turn = math.degrees(math.atan2(end_y - y, end_x - x))
        return Placement(x_in=x, y_in=y, turn_deg=wrapped(turn))

    def _turned(self, gauge: Placement, turn: Turn) -> Placement:
        step = FINE_DEG if self._at.fine is not turn.other_step else COARSE_DEG
        return replace(gauge, turn_deg=wrapped(gauge.turn_deg + turn.anticlockwise * step))


def beside_tape(station: "CutStation", action: Action) -> "CutStation":
    """An action in the frozen light that is none of the tape's own: it is put away, and no step is ticked off."""
    match action:
        case ChangeTool():
            return replace(station, tool=PieceTool(), notice="")
        case Freeze():
            return station.freed()
        case _:
            return station.flipped(action)
