"""A smock with cut-on sleeves, its front and back alike, for tests of changes."""

from collections.abc import Sequence
from pathlib import Path

from patterns import DraftedPattern, Pattern, Unit
from patterns.curves import Array, Curve
from tests.unit.patterns.build import pattern_of

EDGES = (
    ("neck", "seam", "bezier", ((0, 4), (2, 4), (3.5, 2.4), (3.5, 0))),
    ("overarm", "seam", "straight", ((3.5, 0), (18.5, 5))),
    ("sleeve hem", "hem", "straight", ((18.5, 5), (16.5, 11))),
    ("side", "seam", "bezier",
     ((16.5, 11), (14.5, 10.4), (10.75, 8.8), (10.75, 13), (10.75, 16.5), (10.95, 21), (11.2, 25))),
    ("hem", "hem", "bezier", ((11.2, 25), (8, 25.2), (3, 25.6), (0, 25.6))),
    ("centre", "fold", "straight", ((0, 25.6), (0, 4))),
)  # fmt: skip


def smock_text(changes: str = "", backwards: bool = False, unit: Unit = Unit.IN) -> str:
    """The smock's file in that unit, walked either way, with the changes listed."""
    lines = ["pattern: Deckhand's smock", f"unit: {unit.value}"]
    lines += [f"allowance: {{seam: {_said(0.5, unit)}, hem: {_said(0.5, unit)}}}", "pieces:"]
    for piece in ("front", "back"):
        lines += [f"  {piece}:", "    cut: 1 on fold", "    edges:"]
        for name, kind, bend, points in EDGES[::-1] if backwards else EDGES:
            walked = points[::-1] if backwards else points
            path = ", ".join(f"[{_said(x, unit)}, {_said(y, unit)}]" for x, y in walked)
            lines.append(f"      - {{name: {name}, kind: {kind}, path: [{path}], curve: {bend}}}")
        ends = ", ".join(f"[{_said(4, unit)}, {_said(y, unit)}]" for y in (22, 12))
        lines.append(f"    grain: [{ends}]")
    lines += ["joins: [[front/overarm, back/overarm], [front/side, back/side]]", f"changes: [{changes}]"]
    return "\n".join(lines) + "\n"


def twice_traced_text(
    changes: str, wider: float = 1.02, longer: float = 1.01, backwards: bool = False
) -> str:
    """The smock's file in inches with a second trace of its front, "front left", so many times wider and longer."""
    lines = ["  front left:", "    cut: 1 on fold", "    edges:"]
    for name, kind, bend, points in EDGES[::-1] if backwards else EDGES:
        walked = points[::-1] if backwards else points
        path = ", ".join(f"[{x * wider:.9f}, {y * longer:.9f}]" for x, y in walked)
        lines.append(f"      - {{name: {name}, kind: {kind}, path: [{path}], curve: {bend}}}")
    return smock_text(changes).replace("joins:", "\n".join(lines) + "\njoins:")


def smock(folder: Path, *changes: str, backwards: bool = False) -> Pattern:
    """The smock with the changes."""
    return pattern_of(folder, smock_text(", ".join(changes), backwards))


def drafted(folder: Path, *changes: str, backwards: bool = False) -> DraftedPattern:
    """The smock drafted with the changes."""
    return smock(folder, *changes, backwards=backwards).drafted()


def edge_of(
    pattern: DraftedPattern, edge: str, start: Sequence[float] | Array, piece: str = "front"
) -> Curve:
    """The edge walked from its end that lies nearer to `start`, whichever way the piece is walked."""
    curve = pattern.pieces[piece].edges[edge].curve
    near = [abs(end[0] - start[0]) + abs(end[1] - start[1]) for end in (curve.start, curve.end)]
    return curve if near[0] <= near[1] else curve.reversed()


def _said(inches: float, unit: Unit) -> str:
    return f"{inches / float(unit.inches):.9f}".rstrip("0").rstrip(".") or "0"
