"""A drawing of another program -> pieces for a pattern file, with every complaint at once."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from itertools import chain, count
from pathlib import Path
from types import MappingProxyType
from typing import Final

import numpy as np

from patterns.errors import PatternError
from patterns.exchange.asked import Asked
from patterns.exchange.drawn import Drawing, DrawnPiece, counted
from patterns.exchange.drawn_outlines import outlines
from patterns.exchange.dxf_in import dxf_drawing
from patterns.exchange.pdf_in import pdf_drawing
from patterns.exchange.pieces_apart import told_apart
from patterns.exchange.seam_outline import seam_outline
from patterns.exchange.seam_piece import ImportedPiece, seam_piece
from patterns.exchange.svg_in import svg_drawing
from patterns.measures import Unit
from patterns.parts import LONGEST_NAME
from patterns.pattern import MOST_PIECES
from patterns.saying import Say, lengths_said_in

READERS: Final = MappingProxyType({".svg": svg_drawing, ".dxf": dxf_drawing, ".pdf": pdf_drawing})
LARGEST_IN: Final = 400.0  # across a piece: longer than any cloth is laid, so a slip of scale


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Imported:
    """The pieces of a drawing, in the unit that they are written in, and what is to be looked at of the whole."""

    pieces: tuple[ImportedPiece, ...]
    unit: Unit
    notes: tuple[str, ...]


def imported(path: Path, asked: Asked, unit: Unit | None = None) -> Imported:
    """The pieces of an SVG, DXF or PDF file, written in `unit`, or in the file's own where that is None.

    Raises PatternError, with all that is wrong of all pieces, where one cannot be made.
    """
    drawing = _drawing(path, asked)
    apart = told_apart(drawing.loose)
    drawn = (*drawing.pieces, *apart.pieces)
    if not 1 <= len(drawn) <= MOST_PIECES:
        raise PatternError(
            f"{path}: found {len(drawn)} closed outlines that could be pieces, where 1 to {MOST_PIECES} were needed; "
            "close the outlines of the pieces, and leave all else out"
        )
    unit = unit or drawing.unit
    names = _names(path, drawn, asked, Say(unit))
    pieces: list[ImportedPiece] = []
    complaints = list(_unknown(path, names, asked))
    for piece, name in zip(drawn, names, strict=True):
        try:
            with lengths_said_in(unit):
                pieces.append(_piece(piece, name, asked, unit))
        except PatternError as error:
            complaints += [f"{path}: {name}: {line}" for line in str(error).splitlines()]
    if complaints:
        raise PatternError("\n".join(complaints))
    return Imported(pieces=tuple(pieces), unit=unit, notes=(*drawing.notes, *apart.notes))


def _drawing(path: Path, asked: Asked) -> Drawing:
    reader = READERS.get(path.suffix.lower())
    if reader is None:
        raise PatternError(
            f"{path}: is none of {', '.join(READERS)}; export it as one of these from where it was drawn"
        )
    if asked.across_in is None:
        return reader(path, asked.scale_in)
    as_drawn = reader(path, 1.0)
    rings = [
        ring.points
        for paths in (as_drawn.loose, *(piece.paths for piece in as_drawn.pieces))
        for ring in outlines(paths).rings
    ]
    across = float(np.ptp(np.concatenate(rings)[:, 0])) if rings else 0.0
    if not across:
        raise PatternError(
            f"{path}: has no closed outline to measure --across by; close the outlines of the pieces"
        )
    return reader(path, asked.across_in / across)


def _piece(piece: DrawnPiece, name: str, asked: Asked, unit: Unit) -> ImportedPiece:
    outline = seam_outline(piece, asked.fold_of(name), asked.allowance_in)
    size_in = float(np.ptp(outline.walk.points, axis=0).max())
    if size_in > LARGEST_IN:
        raise PatternError(
            f"it is {Say(unit)(size_in)} across, more than any cloth is long; say with --scale how long one unit of "
            "the file is"
        )
    return seam_piece(outline, name, asked.edges_of(name), unit)


def _names(path: Path, drawn: Sequence[DrawnPiece], asked: Asked, say: Say) -> tuple[str, ...]:
    """A name of its own for each piece: those asked for, or the drawing's, or numbers."""
    if asked.names:
        if len(asked.names) != len(drawn):
            sizes = ", ".join(_size(piece, say) for piece in drawn)
            raise PatternError(
                f"{path}: {counted(len(asked.names), 'name')} for {counted(len(drawn), 'piece')}, in the order of the "
                f"file {sizes}"
            )
        return asked.names
    taken: dict[str, None] = {}
    for number, piece in enumerate(drawn, start=1):
        plain = " ".join(piece.name.replace("/", " ").split())[: LONGEST_NAME - 4] or f"piece {number}"
        tries = chain([plain], (f"{plain} {another}" for another in count(2)))
        taken[next(one for one in tries if one not in taken)] = None
    return tuple(taken)


def _size(piece: DrawnPiece, say: Say) -> str:
    points = np.concatenate([path.points for path in piece.paths])
    wide, high = np.ptp(points, axis=0).tolist()
    return f"{say(wide)} by {say(high)}"


def _unknown(path: Path, names: Sequence[str], asked: Asked) -> Iterator[str]:
    """What was said of pieces that there are not."""
    for option, pieces in (("--edges", asked.edges), ("--fold", asked.folds)):
        for piece in pieces:
            if piece and piece not in names:
                yield f"{path}: {option} speaks of {piece}, and the pieces are {', '.join(names)}"
    if "" in asked.edges and len(names) > 1:
        yield f'{path}: --edges is for one piece of {len(names)}; say which: "{names[0]}: {",".join(asked.edges[""])}"'
