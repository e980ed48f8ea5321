"""The verb `draft`: changes and allowances made, all lengths, what to look at, drawings at true size."""

import json
from argparse import Namespace
from collections.abc import Collection, Iterator, Mapping
from dataclasses import dataclass, replace
from pathlib import Path
from typing import Any, Final

from patterns import read_pattern
from patterns.changes import Change, told
from patterns.checks.girths import girth_in, usual_girths
from patterns.checks.head_check import USUAL_HEAD_IN, HeadCheck, garment_necks, head_check
from patterns.checks.high_point import below_high_point_in, high_point_words
from patterns.cutting.drafted import DraftedEdge, DraftedPattern, DraftedPiece
from patterns.cutting.finish import Finish
from patterns.finishing import finish_words
from patterns.parts import Kind
from patterns.pattern import Pattern
from projector.pictures.pattern_drawings import write_drawings
from projector.usage.draft import Measure

SAME_IN: Final = 1 / 64  # a smaller difference from the tracing is not told


@dataclass(frozen=True, slots=True, kw_only=True)
class _Girth:
    """The garment at a level beside the body there."""

    measure: Measure
    garment_in: float

    @property
    def ease_in(self) -> float:
        """Inches by which the garment is larger."""
        return self.garment_in - self.measure.body_in


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class _Report:
    """All that is told of a drafted pattern."""

    drafted: DraftedPattern
    finish: Finish | None
    finish_words: str
    changes: tuple[Change, ...]
    traced_in: Mapping[tuple[str, str], float]
    head: HeadCheck | None
    girths: tuple[_Girth, ...]
    usual: tuple[tuple[float, float], ...]
    drawings: tuple[Path, ...]

    @property
    def necks(self) -> Collection[str]:
        """The pieces that have a part of the garment's neck, by name."""
        return garment_necks(self.drafted).keys()

    @property
    def warnings(self) -> tuple[str, ...]:
        """What to look at before cutting."""
        say, head = self.drafted.say, (self.head.warning,) if self.head and self.head.warning else ()
        tight = tuple(
            f"{one.measure.name}: the garment is {say(one.garment_in)} round, {say(-one.ease_in)} less "
            "than the body; widen it"
            for one in self.girths
            if one.ease_in < 0
        )
        return (*self.drafted.warnings, *head, *tight)


def draft_of(arguments: Namespace) -> int:
    """Run the verb; the exit code."""
    pattern = read_pattern(arguments.pattern)
    draft = pattern.draft(arguments.version)
    name = f"{pattern.name}, {arguments.version}" if arguments.version else pattern.name
    drafted = DraftedPattern.of(name, draft, pattern.unit)
    report = _Report(
        drafted=drafted,
        finish=pattern.finish,
        finish_words=finish_words(pattern),
        changes=pattern.changes_in(arguments.version),
        traced_in=_traced_in(pattern),
        head=head_check(drafted, arguments.head or USUAL_HEAD_IN, arguments.opening or 0.0),
        girths=tuple(
            _Girth(measure=measure, garment_in=girth_in(drafted, measure.drop_in))
            for measure in arguments.measure
        ),
        usual=usual_girths(drafted),
        drawings=write_drawings(arguments.out, drafted, draft) if arguments.out is not None else (),
    )
    print(json.dumps(_result(report)) if arguments.json else "\n".join(_lines(report)))
    return 0


def _traced_in(pattern: Pattern) -> Mapping[tuple[str, str], float]:
    """Inches of each edge, by piece and name, as it was before any change."""
    before = replace(pattern, changes=(), joins=(), versions=()).drafted()
    return {
        (piece.name, edge.name): edge.length_in
        for piece in before.pieces.values()
        for edge in piece.edges.values()
    }


def _lines(report: _Report) -> Iterator[str]:
    say = report.drafted.say
    yield report.drafted.name
    if report.finish_words:
        yield report.finish_words
    for change in report.changes:
        yield f"{told(change)}: keeps {change.keeps}"
    for piece in report.drafted.pieces.values():
        yield f"{piece.name}: {piece.cut.words}"
        if piece.name in report.necks and (words := high_point_words(piece, say)):
            yield f"  {words}, from which depths count"
        for edge in piece.edges.values():
            yield _edge_line(report, piece, edge)
    for strip in report.drafted.strips:
        yield strip.words(say)
    for join in report.drafted.joins:
        first, second = join.edges
        apart = abs(join.difference_in)
        yield f"{first} to {second}: " + (f"{say(apart, 64)} apart" if apart >= SAME_IN else "equal")
    if report.head is not None:
        more = "more" if report.head.ease_in >= 0 else "less"
        yield (
            f"neck {say(report.head.neck_in)} round, {say(abs(report.head.ease_in))} {more} than a head of "
            f"{say(report.head.head_in)}"
        )
    for girth in report.girths:
        yield (
            f"{girth.measure.name}: garment {say(girth.garment_in)} round, body "
            f"{say(girth.measure.body_in)}, ease {say(girth.ease_in)}"
        )
    for level_in, round_in in report.usual:
        yield f"{say(level_in)} below the high shoulder point: {say(round_in)} round"
    yield from (f"look: {warning}" for warning in report.warnings)
    yield from (f"drawn: {path}" for path in report.drawings)


def _edge_line(report: _Report, piece: DraftedPiece, edge: DraftedEdge) -> str:
    say = report.drafted.say
    traced_in = report.traced_in.get((piece.name, edge.name))
    was = ""
    if traced_in is not None and abs(traced_in - edge.length_in) >= SAME_IN:
        was = f", traced {say(traced_in)}"
    allowance = "" if edge.kind is Kind.FOLD else f", allowance {say.allowance(edge.allowance_in)}"
    return f"  {edge.name:<14} {say(edge.length_in):>10}  {edge.kind.value}{allowance}{was}"


def _result(report: _Report) -> Mapping[str, Any]:
    head, finish = report.head, report.finish
    return {
        "pieces": {piece.name: _piece_result(report, piece) for piece in report.drafted.pieces.values()},
        "finish": {"seam": finish.seam.value, "hem": finish.hem.value} if finish else None,
        "strips": [
            {
                "name": strip.name,
                "count": strip.count,
                "width_in": strip.width_in,
                "length_in": strip.length_in,
            }
            for strip in report.drafted.strips
        ],
        "neck_in": head.neck_in if head else None,
        "head": {"girth_in": head.head_in, "ease_in": head.ease_in, "passed": head.passed} if head else None,
        "girths": [
            {"name": girth.measure.name, "garment_in": girth.garment_in, "ease_in": girth.ease_in}
            for girth in report.girths
        ],
        "round": [{"level_in": level_in, "girth_in": round_in} for level_in, round_in in report.usual],
        "joins": [
            {"edges": list(join.edges), "difference_in": join.difference_in} for join in report.drafted.joins
        ],
        "warnings": list(report.warnings),
        "drawings": [str(path) for path in report.drawings],
    }


def _piece_result(report: _Report, piece: DraftedPiece) -> Mapping[str, Any]:
    return {
        "cut": str(piece.cut),
        "area_in2": piece.area_in2,
        "edges": {edge.name: edge.length_in for edge in piece.edges.values()},
        **({"shoulder_drop_in": below_high_point_in(piece)} if piece.name in report.necks else {}),
        "allowances": {edge.name: edge.allowance_in for edge in piece.edges.values()},
        "traced": {
            edge.name: report.traced_in[piece.name, edge.name]
            for edge in piece.edges.values()
            if (piece.name, edge.name) in report.traced_in
        },
    }
