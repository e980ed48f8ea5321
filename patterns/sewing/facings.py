"""How a facing is sewn to its neck: pivoted at the point, clipped, understitched."""

from collections.abc import Iterator
from typing import Final

import numpy as np
import shapely

from patterns.checks.joins import JoinReport
from patterns.checks.truing import NECK
from patterns.curves import Array
from patterns.cutting.clips import CLIP_SHORT_IN
from patterns.cutting.drafted import DraftedPiece
from patterns.sewing.garment import Garment
from patterns.sewing.seams import right_sides_together
from patterns.sewing.step import Step

UNDERSTITCH_IN: Final = 1 / 8  # from the seam, on the facing (common practice)
SHORT_OF_POINT_IN: Final = 1.0  # where the foot cannot turn any more (common practice)
TOP_STITCH_IN: Final = 3 / 8  # from the edge, where a facing would show through (common practice)
_AT_POINT_IN: Final = 1e-3


def facing_step(garment: Garment, report: JoinReport) -> Step:
    """The step for one neck."""
    piece, say = garment.pattern.pieces[report.join.first.piece], garment.say
    necks = [garment.whole_in(ref) for ref in (report.join.first, report.join.second)]
    says = [right_sides_together(garment, piece.edges[NECK].allowance_in)]
    clips = tuple(_clips_at_neck(piece))
    if clips:
        says += _turned(garment, clips)
    else:
        says += [
            "Clip the curve to just short of the stitches.",
            f"Turn, press, and understitch {say(UNDERSTITCH_IN)} from the seam, facing and allowance together.",
        ]
    says.append(
        f"On very sheer cloth top-stitch {say(TOP_STITCH_IN)} from the edge instead, and trim the facing close to "
        "the stitches."
    )
    return Step(
        title=f"Sew the {report.join.second.piece} to the {piece.name}'s neck",
        lengths=(f"{say(necks[0])} of neck on {say(necks[1])} of facing.",),
        says=tuple(says),
    )


def _turned(garment: Garment, clips: tuple[Array, ...]) -> Iterator[str]:
    """A neck with a point on the fold, or with corners."""
    say, at_fold = garment.say, not any(clip[:, 0].any() for clip in clips)
    point, each = ("the point", "") if at_fold else ("each corner", "each ")
    deep = max(float(np.hypot(*(clip[1] - clip[0]))) for clip in clips)
    yield f"At {point} leave the needle down, lift the foot, and turn the cloth."
    yield (
        f"Clip to {point}: {each}{say(deep)} from the raw edge, {say(CLIP_SHORT_IN)} short of the stitches and "
        "never through them."
    )
    yield (
        f"Turn, press, and understitch {say(UNDERSTITCH_IN)} from the seam, facing and allowance together, stopping "
        f"{say(SHORT_OF_POINT_IN)} short of {point}."
    )


def _clips_at_neck(piece: DraftedPiece) -> Iterator[Array]:
    neck = shapely.LineString(piece.edges[NECK].points)
    for clip in piece.clips:
        if neck.distance(shapely.Point(clip[1])) <= CLIP_SHORT_IN + _AT_POINT_IN:
            yield clip
