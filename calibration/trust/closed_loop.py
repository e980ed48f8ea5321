"""The closed loop: crosses of light beside printed ones, looked at, say how far off the light truly falls."""

from dataclasses import dataclass
from datetime import datetime
from typing import Literal

import numpy as np

from calibration.frames import Points, as_points

CLAIM_TIMES = 2.0  # the claim shown is at least so many times the loop's miss (Alignment, what was measured)

By = Literal["photo", "eye"]


@dataclass(frozen=True, slots=True, kw_only=True)
class LoopTest:
    """How far `marks` crosses of light fell from where they should, in inches; `by` a photo or the eye.

    `rms_in` is the root mean square of the distances, `p95_in` their 95th percentile, `most_in` the largest.
    """

    looked_on: datetime
    marks: int
    rms_in: float
    p95_in: float
    most_in: float
    by: By = "photo"

    def __post_init__(self) -> None:
        if self.marks < 1:
            raise ValueError(f"a closed loop needs a cross at least, found {self.marks}")
        if not 0 <= self.rms_in <= self.most_in < np.inf or not 0 <= self.p95_in <= self.most_in:
            raise ValueError(
                f"misses are 0 or more and none over the most, found RMS {self.rms_in}, "
                f"95 % {self.p95_in}, most {self.most_in}"
            )
        if self.by not in ("photo", "eye"):
            raise ValueError(f'a loop is looked at by "photo" or by "eye", found "{self.by}"')

    @staticmethod
    def of(misses_in: Points, looked_on: datetime, by: By = "photo") -> "LoopTest":
        """The test of (n, 2) inches by which the crosses missed."""
        distances = np.hypot(*as_points(misses_in).T)
        most_in = float(distances.max(initial=0.0))
        return LoopTest(
            looked_on=looked_on,
            marks=len(distances),
            rms_in=min(float(np.sqrt((distances**2).mean())), most_in) if len(distances) else 0.0,
            p95_in=float(np.quantile(distances, 0.95)) if len(distances) else 0.0,
            most_in=most_in,
            by=by,
        )

    @property
    def claim_in(self) -> float:
        """Inches that may be claimed of the light, judged by this loop alone."""
        return CLAIM_TIMES * self.p95_in
