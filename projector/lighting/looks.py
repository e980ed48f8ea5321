"""Looks: how the cut line is drawn so that it is seen on one kind of cloth or another.

A projector adds light and cannot take any away. Pale cloth throws most of it back: a narrow line is enough, and
what is only read can stay faint. Dark cloth swallows it: wider, and the faint lines brought up. On a print a single
line is lost among the colours, so two rails with dashes between them are told by their own pattern of light and
dark. Sheer and shiny cloth glare: dimmer, and on shiny cloth two rails, so that the edge lies in the dark between.
"""

from collections.abc import Mapping
from dataclasses import dataclass, replace
from enum import Enum
from functools import lru_cache
from types import MappingProxyType
from typing import Final

from patterns.cutting.marks import LineKind
from projector.errors import ProjectorError
from projector.lighting.limits import (
    LEAST_LINE_IN,
    LEAST_TEXT_IN,
    LIMIT_WORDS,
    LOOK_NAMES,
    MOST_LINE_IN,
    MOST_TEXT_IN,
)
from projector.lighting.look import STRIP_HEIGHT_IN, STYLES, LineStyle
from projector.lighting.strokes import Drawing, in_gain

CORE: Final = 0.4  # of the width of two rails: as wide as either, or a little wider
DASH: Final = 0.55  # of it: what lies between the rails, and a little of both
DASHES_IN: Final = (3 / 8, 3 / 8)  # between rails, lit and dark alike
MOST_NOTCH_IN: Final = 3 / 32  # the clips of one notch lie 1/4 in apart and must stay apart
MOST_WIDER: Final = 2.0  # lines that are only read, against their usual width


class LineForm(Enum):
    """How a cut line is drawn: one line, two rails to cut between, or two rails with dashes between them."""

    SINGLE = "single"
    DOUBLE = "double"
    ALTERNATING = "alternating"

    @property
    def edge(self) -> str:
        """What to cut along: in every form it lies where the map says."""
        match self:
            case LineForm.SINGLE:
                return "the solid line"
            case LineForm.DOUBLE:
                return "the dark between the two lines"
            case LineForm.ALTERNATING:
                return "the dashes between the two lines"


@dataclass(frozen=True, slots=True, kw_only=True)
class Look:
    """`line_in` is how wide the cut line is, `text_in` how high the strip's letters are.

    `gain` is the share of the light that is used. Below full light, `power` of a part's own light is shown: 1/2
    brings faint parts up and leaves bright ones below the cut line. `advice` is told when it is taken. Raises
    ProjectorError beyond the limits.
    """

    name: str
    form: LineForm
    line_in: float
    text_in: float = STRIP_HEIGHT_IN
    gain: float = 1.0
    power: float = 1.0
    advice: str = ""

    def __post_init__(self) -> None:
        if not LEAST_LINE_IN <= self.line_in <= MOST_LINE_IN:
            raise ProjectorError(
                f"a line {self.line_in:.3g} in wide cannot be cut along; choose {LIMIT_WORDS['line']}"
            )
        if not LEAST_TEXT_IN <= self.text_in <= MOST_TEXT_IN:
            raise ProjectorError(
                f"words {self.text_in:.3g} in high cannot be read on the table; choose {LIMIT_WORDS['text']}"
            )

    def styles(self, kind: LineKind) -> tuple[LineStyle, ...]:
        """How lines of a kind are drawn, one style over the other."""
        return _styles(self.form, self.line_in, kind)

    def seen(self, drawing: Drawing) -> Drawing:
        """The drawing in the light of this look."""
        return self._shown(drawing, self.power)

    def beside(self, drawing: Drawing) -> Drawing:
        """The same for what lies on cloth or on the bare table, which is paler: brought up by half as much."""
        return self._shown(drawing, (1.0 + self.power) / 2)

    def _shown(self, drawing: Drawing, power: float) -> Drawing:
        if self.gain == power == 1.0:
            return drawing
        return in_gain(drawing, lambda light: self.gain * light ** (power - 1.0))


LOOKS: Final[Mapping[str, Look]] = MappingProxyType(
    {
        look.name: look
        for look in (
            Look(name="light", form=LineForm.SINGLE, line_in=1 / 16),
            Look(name="dark", form=LineForm.SINGLE, line_in=1 / 8, power=0.5),
            Look(name="printed", form=LineForm.ALTERNATING, line_in=3 / 16, power=0.4),
            Look(
                name="sheer",
                form=LineForm.SINGLE,
                line_in=1 / 16,
                gain=0.65,
                power=0.8,
                advice="white paper under it catches the light",
            ),
            Look(name="shiny", form=LineForm.DOUBLE, line_in=1 / 8, gain=0.5, power=0.6),
        )
    }
)
USUAL: Final = LOOKS[LOOK_NAMES[0]]


@lru_cache(maxsize=256)
def _styles(form: LineForm, line_in: float, kind: LineKind) -> tuple[LineStyle, ...]:
    usual = STYLES[kind]
    wider = line_in / STYLES[LineKind.CUT].width_in
    if kind is LineKind.NOTCH:
        return (replace(usual, width_in=min(line_in, MOST_NOTCH_IN)),)
    if kind is not LineKind.CUT:
        return (replace(usual, width_in=usual.width_in * min(wider, MOST_WIDER)),)
    line = replace(usual, width_in=line_in)
    match form:
        case LineForm.SINGLE:
            return (line,)
        case LineForm.DOUBLE:
            return (replace(line, core=CORE),)
        case LineForm.ALTERNATING:
            dashes = replace(line, width_in=DASH * line_in, dash_in=DASHES_IN)
            return (replace(line, core=CORE), dashes)
