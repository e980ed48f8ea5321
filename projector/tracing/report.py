"""What is said of a piece that was traced from photos."""

import json
import math
from argparse import Namespace
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import Any

from patterns.checks.tape_check import TapeCheck
from patterns.piece import Piece
from patterns.saying import Say
from patterns.tracing.averaging import Averaged
from projector.tracing.photo_trace import PhotoTrace
from projector.tracing.tape_words import results, words
from projector.trust import rounded_up


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Traced:
    """A piece, the photo `of` which it is shown, and the `photos` that it rests on: two for an average.

    `between` is the average of two photos, also where one of them is used alone.
    """

    piece: Piece
    of: PhotoTrace
    photos: tuple[PhotoTrace, ...]
    between: Averaged | None = None

    @property
    def error_in(self) -> float:
        """The mean error to expect of an edge; that of an average is of errors that know nothing of one another."""
        errors = [one.found.error_in for one in self.photos]
        return math.hypot(*errors) / len(errors)

    @property
    def fold_straightness_in(self) -> float:
        """How far a fold strays from straight, the worse one of two."""
        return max(one.traced.fold_straightness_in for one in self.photos)

    @property
    def warnings(self) -> list[str]:
        """What to look at."""
        said = []
        for one in self.photos:
            named = f"{one.name}: " if len(self.photos) > 1 else ""
            said += [f"{named}{warning}" for warning in one.warnings]
        if self.between is not None and len(self.photos) > 1 and self.between.warnings:
            said += [*self.between.warnings, "--again with --use first or --use second takes one photo alone"]
        return said


def report(arguments: Namespace, piece: Piece, traced: Traced, checks: Sequence[TapeCheck]) -> None:
    """Print it."""
    warnings = [*traced.warnings, *(check.warning for check in checks if check.warning)]
    if arguments.json:
        print(json.dumps(_result(piece, traced, checks, warnings)))
        return
    print(f"{arguments.out}: {piece.name} with {', '.join(edge.name for edge in piece.edges)}")
    fold = (
        f"; the fold is straight to {rounded_up(traced.fold_straightness_in, piece.unit)}"
        if piece.cut.on_fold
        else ""
    )
    print(f"edges good to {rounded_up(traced.error_in, piece.unit)} in the mean{fold}")
    if traced.between is not None:
        print(_apart(traced, traced.between))
    if checks:
        print("\n".join(words(checks)))
    for warning in traced.warnings:
        print(f"look: {warning}")


def _apart(traced: Traced, between: Averaged) -> str:
    what = "between the two photos" if len(traced.photos) > 1 else f"as in {traced.of.name} alone"
    say = Say(traced.piece.unit)
    where = f"{say(between.along_in, 2)} along the {between.edge}"
    return f"{what}; the two outlines lie {say(between.apart_in, 32)} apart at most, {where}"


def _result(
    piece: Piece, traced: Traced, checks: Sequence[TapeCheck], warnings: Sequence[str]
) -> Mapping[str, Any]:
    bridges = [bridge for one in traced.photos for bridge in one.found.bridges]
    between = traced.between
    return {
        "piece": piece.name,
        "edges": [edge.name for edge in piece.edges],
        "fold_straightness_in": traced.fold_straightness_in,
        "expected_error_in": traced.error_in,
        "size_checked": all(one.found.camera.size_checked for one in traced.photos),
        "sheets": len(traced.of.found.camera.sheet_numbers),
        "photos": [one.name for one in traced.photos],
        "apart_in": None if between is None else between.apart_in,
        "apart_at": None if between is None else {"edge": between.edge, "along_in": between.along_in},
        "bridged_in": [[*one.start_in.tolist(), *one.end_in.tolist()] for one in bridges],
        "taped": results(checks),
        "warnings": warnings,
    }
