"""What joined edges are cut with to be sewn by: something, and the same on both."""

from collections.abc import Iterator

from patterns.changes import Draft
from patterns.measures import NOTHING_IN
from patterns.saying import Say


def allowance_warnings(draft: Draft, say: Say) -> Iterator[str]:
    """A warning for all joins that are cut on their seam lines, and one for each whose two allowances differ."""
    widths = [(join, first.width_in, second.width_in) for join, first, second in draft.sewn_edges]
    bare = [join for join, first, second in widths if not first and not second]
    if bare:
        more = f" and {len(bare) - 1} more" if len(bare) > 1 else ""
        yield (
            f"{bare[0].first} and {bare[0].second}{more} are cut on the seam line, with nothing to sew them by; give "
            "the pattern a finish, or an allowance for its seams"
        )
    for join, first, second in widths:
        if abs(first - second) > NOTHING_IN:
            yield (
                f"{join.first} is cut with {say.allowance(first)} and {join.second} with {say.allowance(second)} to "
                "sew it by, so their seam lines part where the raw edges meet; give both the same"
            )
