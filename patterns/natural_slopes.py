"""The slopes of a natural cubic spline at its points."""

import numpy as np
import numpy.typing as npt


def natural_slopes(
    points: npt.NDArray[np.float64], chords: npt.NDArray[np.float64]
) -> npt.NDArray[np.float64]:
    """(n, 2) slopes at (n, 2) points of their natural cubic spline, whose knots lie `chords` (n - 1,) apart.

    The second derivative is the same on both sides of a point, and 0 at both ends: n equations with three slopes
    each (de Boor, A Practical Guide to Splines, chapter IV). For the few points of a path they are solved sooner
    than a spline is imported.
    """
    weights = np.concatenate([[0.0], 1 / chords, [0.0]])
    before, after = weights[:-1], weights[1:]
    sums = np.diag(2 * (before + after)) + np.diag(after[:-1], 1) + np.diag(before[1:], -1)
    steps = np.zeros((len(points) + 1, 2))
    steps[1:-1] = 3 * np.diff(points, axis=0) / chords[:, None] ** 2
    return np.asarray(np.linalg.solve(sums, steps[:-1] + steps[1:]), dtype=np.float64)
