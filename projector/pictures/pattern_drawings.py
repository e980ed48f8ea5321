"""The drawings of a drafted pattern as files: each piece, and the pieces as their seams join them."""

from pathlib import Path

from patterns.changes import Draft
from patterns.cutting.drafted import DraftedPattern
from patterns.paper.drawing import drawing
from patterns.paper.joined import joined_drawing, joined_views
from projector.outputs import made_folder, write_text


def write_drawings(folder: Path, drafted: DraftedPattern, draft: Draft) -> tuple[Path, ...]:
    """Write them; the files. ProjectorError where the folder cannot be made."""
    made_folder(folder)
    drawings = {
        f"{piece.name.replace(' ', '-')}.svg": drawing(piece, drafted.name)
        for piece in drafted.pieces.values()
    }
    if views := joined_views(draft):
        drawings["joined.svg"] = joined_drawing(views, drafted.name)
    for name, content in drawings.items():
        write_text(folder / name, content)
    return tuple(folder / name for name in drawings)
