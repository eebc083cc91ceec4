"""Whether a piece is the same shape turned over."""

from __future__ import annotations

import numpy as np
import shapely

from ..geometry.lanes import BoolArray, FloatArray
from ..geometry.tolerances import SEW
from ..pattern.flat import flat_ring, flat_sides
from ..pattern.piece import Piece


def alike_turned_over(piece: Piece) -> BoolArray:
    """On which bodies (L,) a piece, turned over, can be laid on itself to what a seam allows."""
    shapes = np.atleast_1d(flat_ring(list(flat_sides(piece).values())))
    corners = np.stack(np.broadcast_arrays(*(side.drawn.start for side in piece.ring)), axis=1)
    outlines = [shapely.get_coordinates(shape.exterior) for shape in shapes]
    return np.array([_alike(outline, corners[lane % len(corners)]) for lane, outline in enumerate(outlines)])


def _alike(outline: FloatArray, corners: FloatArray) -> bool:
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
