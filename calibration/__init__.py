"""From photos or hand-placed crosses to a map between table inches and projector pixels, with its error.

Knows nothing of sewing. Sheets are printed (`sheet`), a frame is projected (`targets`), a photo is read
(`photo`), everything is solved together (`solve`), judged (`proof`) and kept (`table_file`); `by_hand` does without
a camera; `practice.table` is a table whose truth is known.
"""

from calibration.errors import AlignmentError
from calibration.projector_map import ProjectorMap
from calibration.table.saved import Alignment
from calibration.table.table_file import load_alignment, load_map, save_alignment

__all__ = [
    "Alignment",
    "AlignmentError",
    "ProjectorMap",
    "load_alignment",
    "load_map",
    "save_alignment",
]
