"""How sharply a path bends: curvature, inflections, smallest radius, room for a parallel."""

import numpy as np

from . import cubic
from .lanes import BoolArray, FloatArray
from .path import Path
from .tolerances import STRAIGHTISH

_GRID: FloatArray = np.linspace(0.0, 1.0, 33)


def extreme_curvature(path: Path) -> tuple[FloatArray, FloatArray]:
    """Smallest and largest signed curvature (L,) inside the spans, 1/mm, left turn positive. Corners do not count.

    Searched on 33 points of each curve, then three times finer about the best: relative error below 1e-6.
    """
    return -_largest(path, -1.0), _largest(path, 1.0)


def _largest(path: Path, sign: float) -> FloatArray:
    """Largest value (L,) of sign * curvature, at least 0 when the path has a straight span."""
    curved = np.flatnonzero(~np.array(path.straight))
    if not curved.size:
        return np.zeros(path.lanes)
    c = path.controls[:, curved]
    row = np.arange(path.lanes)
    values = sign * cubic.curvature(c[:, :, None], _GRID)
    span, at = np.divmod(np.argmax(values.reshape(path.lanes, -1), axis=1), _GRID.size)
    best = values[row, span, at]
    c, middle, reach = c[row, span][:, None], _GRID[at], _GRID[1]
    for _ in range(3):
        low, high = np.maximum(middle - reach, 0.0), np.minimum(middle + reach, 1.0)
        tries = low[:, None] + (high - low)[:, None] * _GRID
        values = sign * cubic.curvature(c, tries)
        at = np.argmax(values, axis=1)
        middle, reach = tries[row, at], reach * 2.0 * _GRID[1]
        best = np.maximum(best, values[row, at])
    return best if curved.size == path.spans else np.maximum(best, 0.0)


def inflects(path: Path) -> BoolArray:
    """True (L,) where the path bends both ways."""
    low, high = extreme_curvature(path)
    return (low < -STRAIGHTISH) & (high > STRAIGHTISH)


def smallest_radius(path: Path) -> FloatArray:
    """Smallest radius of curvature (L,) inside the spans, mm; infinite when nothing bends."""
    low, high = extreme_curvature(path)
    sharpest = np.maximum(-low, high)
    with np.errstate(divide="ignore"):
        return 1.0 / np.maximum(sharpest, 0.0)


def min_clearance(path: Path, d: FloatArray | float) -> FloatArray:
    """Smallest 1 - d * curvature (L,) along the path: a parallel at d (left positive) has a cusp where this is <= 0."""
    low, high = extreme_curvature(path)
    return np.minimum(1.0 - d * low, 1.0 - d * high)
