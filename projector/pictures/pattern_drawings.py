"""The drawings of a drafted pattern as files: each piece, and the pieces as their seams join them."""

from collections.abc import Mapping, Sequence
from itertools import chain, count
from pathlib import Path
from typing import Final

from patterns.changes import Draft
from patterns.cutting.drafted import DraftedPattern
from patterns.paper.drawing import drawing
from patterns.paper.joined import joined_drawing, joined_views
from projector.outputs import made_folder, write_text

_JOINED: Final = "joined"  # the drawing of the pieces opened out across their seams


def write_drawings(folder: Path, drafted: DraftedPattern, draft: Draft) -> tuple[Path, ...]:
    """Write them; the files. ProjectorError where the folder cannot be made."""
    made_folder(folder)
    files = _file_names(list(drafted.pieces))
    drawings = {
        files[piece.name]: drawing(piece, drafted.name, drafted.unit) for piece in drafted.pieces.values()
    }
    if views := joined_views(draft):
        drawings[f"{_JOINED}.svg"] = joined_drawing(views, drafted.name)
    for name, content in drawings.items():
        write_text(folder / name, content)
    return tuple(folder / name for name in drawings)


def _file_names(pieces: Sequence[str]) -> Mapping[str, str]:
    """A file for each piece, numbered where two would share one, as some disks take "Front" for "front".

    >>> list(_file_names(["front", "a b", "a-b", "Front"]).values())
    ['front.svg', 'a-b.svg', 'a-b-2.svg', 'Front-2.svg']
    """
    taken, files = {_JOINED}, {}
    for piece in pieces:
        plain = piece.replace(" ", "-")
        numbered = (f"{plain}-{number}" for number in count(2))
        stem = next(one for one in chain([plain], numbered) if one.casefold() not in taken)
        taken.add(stem.casefold())
        files[piece] = f"{stem}.svg"
    return files
