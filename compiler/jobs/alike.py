"""Whether a piece is the same shape turned over."""

from __future__ import annotations

import numpy as np
import shapely

from ..geometry.lanes import FloatArray
from ..geometry.tolerances import SEW
from ..pattern.panels import flat_ring, flat_sides
from ..pattern.piece import Piece


def alike_turned_over(piece: Piece) -> bool:
    """Whether a piece (of one body), turned over, can be laid on itself to what a seam allows."""
    shape = flat_ring(list(flat_sides(piece).values()))
    outline = shapely.get_coordinates(np.atleast_1d(shape)[0].exterior)
    corners = np.array([side.drawn.start[0] for side in piece.ring])
    turned, turned_corners = (points * np.array([-1.0, 1.0]) for points in (outline, corners))
    return any(_laid_on(outline, turned, corners, turned_corners, k) for k in range(len(corners)))


def _laid_on(outline: FloatArray, turned: FloatArray, corners: FloatArray, others: FloatArray, k: int) -> bool:
    """Whether a shape turned over lies on itself when its corners do, one further on each time."""
    order = (k - np.arange(len(corners))) % len(corners)
    there = others[order]
    a, b = corners - corners.mean(axis=0), there - there.mean(axis=0)
    spin = np.sum((a[:, 0] + 1j * a[:, 1]) * np.conj(b[:, 0] + 1j * b[:, 1]))
    if abs(spin) == 0.0:
        return False
    moved = ((turned - there.mean(axis=0)) @ np.array([1.0, 1j])) * spin / abs(spin)
    laid = np.column_stack([moved.real, moved.imag]) + corners.mean(axis=0)
    return bool(shapely.hausdorff_distance(shapely.LinearRing(outline), shapely.LinearRing(laid)) <= SEW)
