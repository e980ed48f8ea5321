"""The verb `trace`: a photo of a folded garment becomes a piece of a pattern file."""

import json
from argparse import Namespace
from pathlib import Path
from typing import Final

import numpy as np

from calibration.frames import Array
from calibration.sheet import PAPERS
from calibration.silhouette import Picture, Silhouette, find_silhouette, read_colour_photo
from patterns.edge_shift import all_shifted
from patterns.errors import PatternError
from patterns.measures import Unit, in_words
from patterns.outline import TracedPiece, half_piece
from projector.errors import ProjectorError
from projector.traced_file import pattern_without, write_piece
from projector.traced_picture import as_in_photo, write_traced_picture
from projector.trust import rounded_up

OUTERMOST: Final = 0.1  # of a garment's points: those at one side of the photo
SIZE_WORTH_SAYING_IN: Final = 1 / 64


def trace(arguments: Namespace) -> int:
    """Trace a photo; the exit code."""
    traced_from_photo(arguments)
    return 0


def traced_from_photo(arguments: Namespace) -> tuple[Silhouette, TracedPiece]:
    """Trace, write the pattern file, and say how true the piece is; what was found."""
    pattern = pattern_without(arguments.out, arguments.piece)
    photo = read_colour_photo(arguments.photo)
    found = find_silhouette(photo, PAPERS[arguments.paper], arguments.sheets, arguments.printed_ruler)
    try:
        traced = half_piece(
            found.contour_in,
            noise_in=found.noise_in,
            piece=arguments.piece,
            names=arguments.edges,
            fold_near=_at_side(found, arguments.fold),
            unit=pattern.unit if pattern is not None else Unit.IN,
        )
    except PatternError as error:
        seen = _shown(photo, found, None, arguments.picture)
        told = "" if arguments.fold else "; --fold tells at which side of the photo the fold is"
        raise PatternError(f"{error}{seen}{told}") from error
    seen = _shown(photo, found, traced, arguments.picture)
    if traced.unsure:
        raise ProjectorError(_question(traced) + seen)
    write_piece(arguments.out, all_shifted(traced.piece, arguments.moves))
    _report(arguments, found, traced)
    return found, traced


def _at_side(found: Silhouette, side: str | None) -> Array | None:
    """(2,) table inches amid the garment's points that are outermost at a side, as the picture shows it."""
    if side is None:
        return None
    lying = found.contour_in @ as_in_photo(found)
    away = lying[:, 0 if side in ("left", "right") else 1] * (1 if side in ("right", "top") else -1)
    middle: Array = found.contour_in[away >= np.quantile(away, 1 - OUTERMOST)].mean(axis=0)
    return middle


def _shown(photo: Picture, found: Silhouette, traced: TracedPiece | None, path: Path | None) -> str:
    """The end of a sentence: where the picture is that was written, if one was asked for."""
    if path is None:
        return "; --picture F.png shows the outline"
    write_traced_picture(path, photo, found, traced)
    return f"; {path} shows the outline"


def _question(traced: TracedPiece) -> str:
    doubts = "; ".join(f"{one.edge}: {one.why}" for one in traced.unsure)
    *given, fold = (edge.name for edge in traced.piece.edges)
    return (
        f"the names of the edges are not sure ({doubts}); give them with --edges in order from the fold's top, "
        f'as here if it is right: --edges "{",".join((*given, fold))}"'
    )


def _report(arguments: Namespace, found: Silhouette, traced: TracedPiece) -> None:
    edges = [edge.name for edge in traced.piece.edges]
    warnings = [*traced.warnings, *_warnings(found)]
    if arguments.json:
        result = {
            "piece": traced.piece.name,
            "edges": edges,
            "fold_straightness_in": traced.fold_straightness_in,
            "expected_error_in": found.error_in,
            "size_checked": found.camera.size_checked,
            "sheets": len(found.camera.sheet_numbers),
            "bridged_in": [[*one.start_in.tolist(), *one.end_in.tolist()] for one in found.bridges],
            "warnings": warnings,
        }
        print(json.dumps(result))
        return
    print(f"{arguments.out}: {traced.piece.name} with {', '.join(edges)}")
    print(
        f"edges good to {rounded_up(found.error_in)} in the mean; "
        f"the fold strays {in_words(traced.fold_straightness_in, 64)} from straight"
    )
    for warning in warnings:
        print(f"look: {warning}")


def _warnings(found: Silhouette) -> list[str]:
    said = []
    if found.bridges:
        lengths = " and ".join(in_words(one.length_in, 4) for one in found.bridges)
        said.append(f"something lies over the edge; it was bridged for {lengths}")
    if not found.camera.size_checked and found.size_share_in > SIZE_WORTH_SAYING_IN:
        said.append(
            f"size not checked: a printer's scale may change it by {rounded_up(found.size_share_in)}; measure "
            "the printed ruler and say --printed-ruler"
        )
    return said
