"""Where stripes and checks meet: each piece's match point lies at one place of the repeat.

Along the cloth that is the lower end of the side seam, where front and back are joined. Across it is the centre line
of a piece that has a fold, so that the pattern stands symmetrically, and else the match point too. All pieces lie the
same way up: beside one that is turned about, only that point would meet.
"""

from typing import Final

import numpy as np

from patterns.cutting.drafted import DraftedPiece
from patterns.laying.lay import Terms
from patterns.parts import Kind

_SIDE: Final = "side"


def match_point_of(piece: DraftedPiece, terms: Terms) -> tuple[float, float]:
    """Piece inches (x from the centre line, y down) of the point that is matched.

    What the terms say; else the end of the side seam next to a hem, and else the lowest point of the seam line, on
    the centre line where the piece has a fold.
    """
    x, y = terms.match_points.get(piece.name) or _side_at_hem(piece)
    return (0.0 if piece.fold is not None else x, y)


def _side_at_hem(piece: DraftedPiece) -> tuple[float, float]:
    side = piece.edges.get(_SIDE)
    if side is not None:
        ends = side.points[[0, -1]]
    else:
        ends = np.concatenate([edge.points for edge in piece.edges.values() if edge.kind is not Kind.FOLD])
    x, y = ends[ends[:, 1].argmax()]
    return float(x), float(y)
