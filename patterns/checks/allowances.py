"""What joined edges are cut with to be sewn by: something, and the same on both."""

from collections.abc import Iterator

from patterns.changes import Draft, EdgeRef
from patterns.measures import NOTHING_IN
from patterns.saying import Say


def allowance_warnings(draft: Draft, say: Say) -> Iterator[str]:
    """A warning for all joins that are cut on their seam lines, and one for each whose two allowances differ."""
    widths = {
        EdgeRef(piece=shape.name, edge=edge.name): edge.width_in
        for shape in draft.shapes
        for edge in shape.edges
    }
    cut = [join for join in draft.joins if join.first in widths and join.second in widths]
    bare = [join for join in cut if not max(widths[join.first], widths[join.second])]
    if bare:
        more = f" and {len(bare) - 1} more" if len(bare) > 1 else ""
        yield (
            f"{bare[0].first} and {bare[0].second}{more} are cut on the seam line, with nothing to sew them by; give "
            "the pattern a finish, or an allowance for its seams"
        )
    for join in cut:
        first, second = widths[join.first], widths[join.second]
        if abs(first - second) > NOTHING_IN:
            yield (
                f"{join.first} is cut with {say.allowance(first)} and {join.second} with {say.allowance(second)} to "
                "sew it by, so their seam lines part where the raw edges meet; give both the same"
            )
