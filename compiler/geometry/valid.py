"""Checks on closed rings of points: does the outline cross itself, which area does it hold."""

import numpy as np
import shapely

from .lanes import BoolArray, FloatArray


def simple(points: FloatArray) -> BoolArray:
    """True (L,) where a closed ring of points (L, n, 2), first not repeated, neither crosses nor touches itself.

    Lanes with points that are not finite are False. Raises ValueError for fewer than three points.
    """
    if points.shape[1] < 3:
        raise ValueError("a ring needs three points")
    finite = np.isfinite(points).all(axis=(1, 2))
    answer = np.zeros(points.shape[0], dtype=bool)
    answer[finite] = shapely.is_valid(shapely.polygons(points[finite]))
    return answer
