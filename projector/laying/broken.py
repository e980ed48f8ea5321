"""Where on the cloth a rule of the lay is broken."""

import shapely
from shapely.geometry.base import BaseGeometry
from shapely.ops import nearest_points

from calibration.frames import Array
from patterns.laying.folded import Folded
from patterns.laying.lay import Lay
from patterns.laying.violation import Rule, Violation


def place_of(violation: Violation, lay: Lay, folded: Folded) -> Array:
    """(2,) inches on the folded cloth where the sign is to be drawn."""
    areas = [shapely.Polygon(lay.placed[number].outline_in).buffer(0.0) for number in violation.numbers]
    if violation.rule is Rule.GAP and len(areas) > 1:
        return _between(areas[0], areas[1])
    area = areas[0]
    match violation.rule:
        case Rule.SELVEDGE | Rule.LENGTH:
            left, bottom, right, top = folded.box_in
            low, high = folded.folding.cloth.usable_in
            wrong = area.difference(shapely.box(max(left, low), bottom, min(right, high), top))
        case Rule.FLAW:
            flaws = [shapely.Polygon(flaw.corners_in) for flaw in lay.cloth.flaws]
            lying = [part for flaw in flaws for part in folded.lying(flaw)]
            wrong = area.intersection(shapely.union_all(lying))
        case Rule.LAYER:
            double = shapely.union_all([shapely.box(*box) for box in folded.double_in])
            single = lay.placed[violation.numbers[0]].fold_line is None
            wrong = area.intersection(double) if single else area.difference(double)
        case _:
            wrong = area
    return _inside(wrong if wrong.area > 0 else area)


def _between(one: BaseGeometry, other: BaseGeometry) -> Array:
    """Where they overlap, or halfway between where they are nearest."""
    shared = one.intersection(other)
    if shared.area > 0:
        return _inside(shared)
    halfway: Array = shapely.get_coordinates(list(nearest_points(one, other))).mean(axis=0)
    return halfway


def _inside(area: BaseGeometry) -> Array:
    """A point well inside the largest part."""
    largest = max(shapely.get_parts(area), key=lambda part: part.area)
    place: Array = shapely.get_coordinates(largest.representative_point())[0]
    return place
