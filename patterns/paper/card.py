"""The sewing card: the steps for one garment in order, with its own drafted lengths.

The advice is common practice for light, slippery cloth; the lengths are the pattern's, so that an edge that has
stretched is caught with a tape before it is sewn.
"""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from types import MappingProxyType
from typing import Final

from patterns.changes import Strip
from patterns.checks.joins import JoinReport
from patterns.checks.truing import NECK, facings_of_necks
from patterns.cutting.drafted import DraftedPattern, DraftedPiece
from patterns.cutting.finish import Finish, HemFinish, SeamFinish
from patterns.measures import in_words
from patterns.parts import Kind

CAUTIONS: Final = (
    "Close the rotary blade after each cut, and cut away from the hand.",
    "Iron on a scrap first; pins out before the needle and before the iron.",
    "Do not look into the projector's lens; blank the light when you lean over the table.",
)

FRENCH_FIRST_IN: Final = 1 / 4  # of a french seam's allowance, taken by its first seam (common practice)

_RAW: Final[Mapping[SeamFinish, str]] = MappingProxyType(
    {
        SeamFinish.OVERLOCKED: "Overlock the raw edges together.",
        SeamFinish.OVERCAST: "Overcast the raw edges together with a zigzag stitch.",
        SeamFinish.BOUND: "Bind the raw edges with a strip of bias cloth.",
    }
)
_EDGED: Final[Mapping[SeamFinish, str]] = MappingProxyType(
    {
        SeamFinish.OVERLOCKED: "Overlock the outer edge.",
        SeamFinish.OVERCAST: "Overcast the outer edge with a zigzag stitch.",
        SeamFinish.BOUND: "Bind the outer edge with a strip of bias cloth.",
        SeamFinish.FRENCH: "Turn the outer edge under by its allowance and edge-stitch it.",
    }
)


@dataclass(frozen=True, slots=True, kw_only=True)
class Step:
    """One step of the card: what is done, and how, a sentence each."""

    title: str
    says: tuple[str, ...]


def card(pattern: DraftedPattern, finish: Finish | None = None) -> tuple[Step, ...]:
    """The steps, from threading the machine to the last hem; without a finish, an overlocked garment's."""
    return tuple(_steps(_Garment(pattern=pattern, finish=finish or Finish())))


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class _Garment:
    """A drafted pattern and its finish, as the card asks for them."""

    pattern: DraftedPattern
    finish: Finish

    @property
    def facings(self) -> tuple[DraftedPiece, ...]:
        """The pieces that are sewn to a neck."""
        names = facings_of_necks(report.join for report in self.pattern.joins)
        return tuple(piece for name, piece in self.pattern.pieces.items() if name in names)

    @property
    def faced(self) -> tuple[JoinReport, ...]:
        """The seams of necks to their facings."""
        names = {piece.name for piece in self.facings}
        return tuple(
            report
            for report in self.pattern.joins
            if report.join.second.piece in names and report.join.second.edge == NECK
        )

    @property
    def seams(self) -> tuple[JoinReport, ...]:
        """The seams of the garment itself."""
        names = {piece.name for piece in self.facings}
        return tuple(
            report
            for report in self.pattern.joins
            if not {report.join.first.piece, report.join.second.piece} & names
        )

    def along(self, seam: JoinReport) -> float | None:
        """Inches of a facing's seam that is sewn in one with the garment's; None where there is none."""
        names = {piece.name for piece in self.facings}
        for report in self.pattern.joins:
            ends = report.join
            if {ends.first.piece, ends.second.piece} <= names and ends.first.edge == seam.join.first.edge:
                return report.first_in
        return None

    def allowance_in(self, piece: str, edge: str) -> float:
        """Inches of the edge's allowance."""
        return self.pattern.pieces[piece].edges[edge].allowance_in


def _steps(garment: _Garment) -> Iterator[Step]:
    yield Step(
        title="Set the machine",
        says=(
            "Needle 60/8 to 70/10 for chiffon and voile, new and fine.",
            "Stitch length 3 mm for thin cloth, which can be unpicked; 2 to 2.5 mm holds longer.",
            "Try on a scrap. If the seam puckers, sew over thin paper and tear it away.",
        ),
    )
    yield Step(title="Hold a tape against every piece", says=tuple(_taped(garment)))
    if garment.facings:
        yield Step(
            title=f"Finish the {_listed(piece.name for piece in garment.facings)}",
            says=(_EDGED[garment.finish.seam],),
        )
    for report in garment.faced:
        yield _facing_step(garment, report)
    for report in garment.seams:
        yield _seam_step(garment, report)
    for strip in garment.pattern.strips:
        yield _strip_step(garment, strip)
    yield from _hems(garment)


def _taped(garment: _Garment) -> Iterator[str]:
    for piece in garment.pattern.pieces.values():
        told = ", ".join(
            f"{edge.name} {in_words(edge.length_in)}"
            for edge in piece.edges.values()
            if edge.kind is not Kind.FOLD
        )
        yield f"{piece.name}, on the seam line: {told}."
    yield "An edge that is longer than this has stretched: ease it back with steam, or cut it again."


def _facing_step(garment: _Garment, report: JoinReport) -> Step:
    piece = garment.pattern.pieces[report.join.first.piece]
    whole = 2 if piece.cut.on_fold else 1
    allowance = in_words(garment.allowance_in(piece.name, NECK))
    says = [
        f"Right sides together, {in_words(whole * report.first_in)} of neck on {in_words(whole * report.second_in)} of "
        f"facing, {allowance} from the edge.",
    ]
    if piece.clips:
        says += [
            "At the point leave the needle down, lift the foot, and turn the cloth.",
            "Clip to the point, up to the stitches and not through them.",
            "Turn, press, and understitch 1/8 in from the seam, stopping short of the point.",
        ]
    else:
        says += ["Clip the curve, turn, press, and understitch 1/8 in from the seam."]
    says.append("On very sheer cloth trim the facing and top-stitch it 3/8 in from the edge.")
    return Step(title=f"Sew the {report.join.second.piece} to the {piece.name}'s neck", says=tuple(says))


def _seam_step(garment: _Garment, report: JoinReport) -> Step:
    one, two = report.join.first, report.join.second
    times = "; left and right alike" if garment.pattern.pieces[one.piece].cut.on_fold else ""
    along = garment.along(report)
    facing = f", and on through the opened facing, {in_words(along)} more" if along is not None else ""
    says = [
        f"{one.piece} {in_words(report.first_in)} on {two.piece} {in_words(report.second_in)}{facing}{times}."
    ]
    allowance_in = garment.allowance_in(one.piece, one.edge)
    if garment.finish.seam is SeamFinish.FRENCH:
        says += _french(allowance_in)
    else:
        says += [f"Right sides together, {in_words(allowance_in)} from the edge.", _RAW[garment.finish.seam]]
    name = one.edge if one.edge == two.edge else f"{one.edge} to {two.edge}"
    return Step(title=f"Sew the {name}", says=tuple(says))


def _french(allowance_in: float) -> list[str]:
    """Both seams of a french seam, the second where the seam line is drawn."""
    second_in = allowance_in - FRENCH_FIRST_IN
    if second_in < FRENCH_FIRST_IN:
        least = in_words(2 * FRENCH_FIRST_IN)
        return [f"{in_words(allowance_in)} is too little for a french seam: cut it with {least} or more."]
    return [
        "Wrong sides together first, 1/4 in from the edge; trim to 1/8 in and press.",
        f"Then right sides together, {in_words(second_in)} from the fold, so that the raw edges are enclosed.",
    ]


def _strip_step(garment: _Garment, strip: Strip) -> Step:
    """A strip round edges that are joined by now: bare ones are wrapped by it, others sewn to it."""
    edges = [garment.pattern.pieces[ref.piece].edges[ref.edge] for ref in strip.edges]
    allowance = max(edge.allowance_in for edge in edges)
    them = "it" if strip.count == 1 else f"{strip.count}"
    cut = f"{in_words(strip.width_in)} wide and {in_words(strip.length_in)} long"
    if allowance == 0.0:
        says = [
            f"Cut {them} on the bias, {cut}; join the strip first if the cloth is too short for that.",
            "Fold it lengthwise round the raw edge, stretching it a little on curves, and edge-stitch it.",
        ]
    else:
        says = [
            f"Cut {them} {cut}, and close {'it' if strip.count == 1 else 'each'} to a ring.",
            f"Right sides together, {in_words(allowance)} from the edge.",
            _RAW.get(garment.finish.seam, "Enclose the raw edges in the seam."),
        ]
    return Step(title=f"Sew on the {strip.name.replace('/', ' ')}", says=tuple(says))


def _hems(garment: _Garment) -> Iterator[Step]:
    """A step a name of hem that is turned up: its length all round, from the pieces that have it."""
    bound = {(ref.piece, ref.edge) for strip in garment.pattern.strips for ref in strip.edges}
    found: dict[str, list[tuple[DraftedPiece, float, float]]] = {}
    for piece in garment.pattern.pieces.values():
        for edge in piece.edges.values():
            if edge.kind is Kind.HEM and edge.allowance_in > 0 and (piece.name, edge.name) not in bound:
                found.setdefault(edge.name, []).append((piece, edge.length_in, edge.allowance_in))
    for name, parts in found.items():
        touches = all(_at_fold(piece, name) for piece, _, _ in parts)
        length = sum(length * (piece.cut.times if touches else 1) for piece, length, _ in parts)
        width = in_words(parts[0][2])
        each = "" if touches else " each"
        says = [f"{in_words(length)} round{each}."]
        if garment.finish.hem is HemFinish.DOUBLE:
            says.append(f"Fold it up twice, {width} in all, press, and stitch close to the inner fold.")
        else:
            says += [
                _EDGED[garment.finish.seam].replace("outer edge", "raw edge"),
                f"Fold up {width} and stitch.",
            ]
        yield Step(title=f"Turn up the {name}", says=tuple(says))


def _at_fold(piece: DraftedPiece, edge: str) -> bool:
    """Whether the edge goes on across the fold, so that it is one and not a pair."""
    names = list(piece.edges)
    if piece.fold is None:
        return True
    fold, at = names.index(piece.fold.name), names.index(edge)
    return abs(fold - at) in (1, len(names) - 1)


def _listed(names: Iterator[str]) -> str:
    *most, last = list(names)
    return f"{', '.join(most)} and {last}" if most else last
