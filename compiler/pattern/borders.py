"""The outlines of pieces as chords of all bodies in one row: which bodies have a point on theirs is asked of all at once."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
import shapely
from numpy.typing import NDArray

from ..geometry.lanes import dot, norm, spread
from .panels import Shapes
from .piece import Reals


@dataclass(frozen=True, eq=False)
class Border:
    """Corners (n, 2) of outlines, those of one body after those of the one before, how many each body has (L,), and which of
    them begin a chord to the next (n - 1,)."""

    corners: Reals
    counts: NDArray[np.int64]
    joined: NDArray[np.bool_]


def border_of(shapes: Shapes) -> Border:
    """The outlines of polygons (L,)."""
    lines, body = shapely.get_parts(shapely.boundary(shapes), return_index=True)
    corners, line = shapely.get_coordinates(lines, return_index=True)
    counts = np.bincount(body[line], minlength=shapes.size).astype(np.int64)
    return Border(corners, counts, line[1:] == line[:-1])


def on_border(border: Border, points: Reals, far: float) -> NDArray[np.bool_]:
    """Bodies (L,) whose outline comes within `far` mm of their point (L, 2)."""
    lanes = max(border.counts.size, points.shape[0])
    if border.counts.size < lanes:  # one outline of all bodies
        return np.concatenate([on_border(border, points[k : k + 1], far) for k in range(lanes)])
    body = np.repeat(np.arange(lanes), border.counts)[:-1]
    near, spots = border.joined, spread(points, lanes)
    for axis in (0, 1):  # the box of a chord first: hardly any is left
        corner, spot = border.corners[:, axis], spots[:, axis][body]
        low, high = np.minimum(corner[:-1], corner[1:]), np.maximum(corner[:-1], corner[1:])
        near = near & (low - far <= spot) & (spot <= high + far)
    k = np.flatnonzero(near)
    start, way, spot = border.corners[k], border.corners[k + 1] - border.corners[k], spots[body[k]]
    size = dot(way, way)
    share = np.clip(dot(spot - start, way) / np.where(size > 0.0, size, 1.0), 0.0, 1.0)
    found = np.zeros(lanes, dtype=bool)
    found[body[k[norm(spot - start - share[:, None] * way) <= far]]] = True
    return found
