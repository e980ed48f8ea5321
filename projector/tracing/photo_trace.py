"""One photo of a folded garment -> its half piece, or the sentence that says why not."""

from argparse import Namespace
from collections.abc import Sequence
from dataclasses import dataclass, replace
from pathlib import Path
from typing import Final

import numpy as np

from calibration.frames import Array
from calibration.garment.silhouette import Picture, Silhouette
from patterns.errors import PatternError
from patterns.measures import Unit, said_in
from patterns.saying import lengths_said_in
from patterns.tracing.outline import TracedPiece, half_piece
from patterns.tracing.whole_outline import whole_piece
from projector.errors import ProjectorError
from projector.pictures.traced_picture import Outline, as_in_photo, write_traced_picture
from projector.tracing.photo_finder import Find
from projector.trust import rounded_up

NO_FOLD: Final = "none"  # in place of a side
OUTERMOST: Final = 0.1  # of a garment's points: those at one side of the photo
SIZE_WORTH_SAYING_IN: Final = 1 / 64


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class PhotoTrace:
    """A photo, the contour in it, and the half piece that this is; `notes` are to be looked at."""

    name: str
    photo: Picture
    found: Silhouette
    traced: TracedPiece
    notes: tuple[str, ...]

    @property
    def warnings(self) -> list[str]:
        """What to look at."""
        said, unit = [*self.notes, *self.traced.warnings], self.traced.piece.unit
        if self.found.bridges:
            lengths = " and ".join(said_in(one.length_in, unit, 4) for one in self.found.bridges)
            said.append(f"something lies over the edge; it was bridged for {lengths}")
        if not self.found.camera.size_checked and self.found.size_share_in > SIZE_WORTH_SAYING_IN:
            said.append(
                f"size not checked: a printer's scale may change it by {rounded_up(self.found.size_share_in, unit)}; "
                "measure the printed ruler and say --printed-ruler"
            )
        return said


@dataclass(frozen=True, slots=True, kw_only=True)
class Asked:
    """What is asked of every photo of one piece; `picture` is the file for its outline, if one is wanted."""

    piece: str
    names: Sequence[str] | None
    unit: Unit
    picture: Path | None

    @staticmethod
    def of(arguments: Namespace, names: Sequence[str] | None, unit: Unit) -> "Asked":
        """As it was typed."""
        return Asked(piece=arguments.piece, names=names, unit=unit, picture=arguments.picture)


def photo_trace(name: str, photo: Picture, side: str | None, asked: Asked, find: Find) -> PhotoTrace:
    """The half piece in a photo (h, w, 3) whose fold is at that `side` of it, if one is named; whole for NO_FOLD.

    Raises PatternError or ProjectorError, with the contour in the picture, where no piece is made of it or
    the names of its edges are not sure; what `find` raises passes.
    """
    found, notes = find(photo)
    try:
        with lengths_said_in(asked.unit):
            traced = _traced(found, side, asked)
    except PatternError as error:
        told = "" if side else "; --fold tells at which side of the photo the fold is"
        raise PatternError(f"{error}{_shown(asked, photo, found, None)}{told}") from error
    if traced.unsure:
        outline = Outline(piece=traced.piece, placement=traced.placement)
        raise ProjectorError(_question(traced) + _shown(asked, photo, found, outline))
    return PhotoTrace(name=name, photo=photo, found=found, traced=traced, notes=notes)


def _traced(found: Silhouette, side: str | None, asked: Asked) -> TracedPiece:
    hidden = np.array([(one.start_in, one.end_in) for one in found.bridges]).reshape(-1, 2, 2)
    if side == NO_FOLD:
        return _whole(found, hidden, asked)
    return half_piece(
        found.contour_in,
        noise_in=found.noise_in,
        piece=asked.piece,
        names=asked.names,
        fold_near=_at_side(found, side),
        hidden_in=hidden,
        unit=asked.unit,
    )


def _whole(found: Silhouette, hidden_in: Array, asked: Asked) -> TracedPiece:
    """The piece without a fold, drawn as it lies in the photo."""
    turned = as_in_photo(found)
    traced = whole_piece(
        found.contour_in @ turned,
        noise_in=found.noise_in,
        piece=asked.piece,
        names=asked.names,
        hidden_in=hidden_in @ turned,
        unit=asked.unit,
    )
    lies = traced.placement
    x, y = (turned @ (lies.x_in, lies.y_in)).tolist()
    back_deg = -float(np.degrees(np.arctan2(turned[0, 1], turned[0, 0])))
    on_table = replace(lies, x_in=x, y_in=y, turn_deg=lies.turn_deg + back_deg)
    return replace(traced, placement=on_table)


def _at_side(found: Silhouette, side: str | None) -> Array | None:
    """(2,) table inches amid the garment's points that are outermost at a side, as the picture shows it."""
    if side is None:
        return None
    lying = found.contour_in @ as_in_photo(found)
    away = lying[:, 0 if side in ("left", "right") else 1] * (1 if side in ("right", "top") else -1)
    middle: Array = found.contour_in[away >= np.quantile(away, 1 - OUTERMOST)].mean(axis=0)
    return middle


def _shown(asked: Asked, photo: Picture, found: Silhouette, outline: Outline | None) -> str:
    """The end of a sentence: where the picture is that was written, if one was asked for."""
    if asked.picture is None:
        return "; --picture F.png shows the outline"
    write_traced_picture(asked.picture, photo, found, outline)
    return f"; {asked.picture} shows the outline"


def _question(traced: TracedPiece) -> str:
    doubts = "; ".join(f"{one.edge}: {one.why}" for one in traced.unsure)
    *given, fold = (edge.name for edge in traced.piece.edges)
    return (
        f"the names of the edges are not sure ({doubts}); give them with --edges in order from the fold's top, "
        f'as here if it is right: --edges "{",".join((*given, fold))}"'
    )
