"""How far the work at the cutting table is."""

from enum import Enum


class Stage(Enum):
    """LAYING: the light is moved on to the cloth. CUTTING: it is frozen, and the pieces are cut one by one.

    ASKING: cutting was left and is come back to; the cloth may have moved since. FINDING: it has, or was slid, and is
    found again by its crosses.
    """

    LAYING = "laying"
    ASKING = "asking"
    FINDING = "finding"
    CUTTING = "cutting"
