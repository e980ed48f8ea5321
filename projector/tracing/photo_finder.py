"""How the garment in a photo is found: by the sheets beside it, or by a camera that stands as it did."""

from argparse import Namespace
from collections.abc import Callable
from typing import Final, TypeAlias

from calibration.cameras.standing import MOVED_IN, moved_in, standing_camera
from calibration.errors import AlignmentError
from calibration.garment.silhouette import (
    Picture,
    Say,
    Silhouette,
    find_silhouette,
    find_silhouette_amid,
    shows_sheets,
)
from calibration.sheets.sheet import PAPERS, Paper
from calibration.table.saved import Alignment
from projector.errors import ProjectorError
from projector.trust import rounded_up

Find: TypeAlias = Callable[[Picture], tuple[Silhouette, tuple[str, ...]]]  # and what to look at

_NONE_NEEDED: Final = (
    "a camera that stands where it stood for the alignment needs no sheet: say --standing (a phone held in the hand "
    "does not stand still)"
)


def by_sheets(arguments: Namespace, say: Say) -> Find:
    """By the sheets in the photo alone."""
    paper = PAPERS[arguments.paper]

    def find(photo: Picture) -> tuple[Silhouette, tuple[str, ...]]:
        try:
            return _beside_sheets(arguments, photo, paper, say), ()
        except AlignmentError as error:
            if arguments.table is None or shows_sheets(photo, paper):
                raise
            raise AlignmentError(f"{error}; {_NONE_NEEDED}") from error

    return find


def by_standing_camera(arguments: Namespace, alignment: Alignment, say: Say) -> Find:
    """By the camera of the alignment where there is no sheet in the photo; else by the sheets, it held against them.

    Raises ProjectorError for an alignment that does not know its sheets.
    """
    if alignment.paper not in PAPERS:
        raise ProjectorError(
            f"{arguments.table} was aligned without printed sheets, so it knows of no camera; lay a printed sheet "
            "beside the garment, and leave --standing out"
        )
    paper = PAPERS[alignment.paper]

    def find(photo: Picture) -> tuple[Silhouette, tuple[str, ...]]:
        size = (photo.shape[1], photo.shape[0])
        if not shows_sheets(photo, paper):
            camera = standing_camera(alignment, size)
            say("camera known from the alignment")
            found = find_silhouette_amid(photo, camera, alignment.sheet_places, paper, say)
            return found, (
                f"seen by the camera as it stood for the alignment of {alignment.aligned_on:%Y-%m-%d %H:%M}; if it "
                "has been moved since, lay a sheet beside the garment and trace again",
            )
        found = _beside_sheets(arguments, photo, paper, say)
        return found, _held_against(alignment, found, size)

    return find


def _beside_sheets(arguments: Namespace, photo: Picture, paper: Paper, say: Say) -> Silhouette:
    return find_silhouette(photo, paper, arguments.sheets, arguments.printed_ruler, say)


def _held_against(alignment: Alignment, found: Silhouette, size_px: tuple[int, int]) -> tuple[str, ...]:
    """That the camera no longer stands where it did, if so by the sheets; they are right in any case."""
    apart = moved_in(standing_camera(alignment, size_px), found.camera)
    if apart <= MOVED_IN:
        return ()
    return (
        "the camera does not stand as it did for the alignment: seen from there, the sheets would be "
        f"{rounded_up(apart)} out of shape; this trace is by the sheets, but align again before one without them",
    )
