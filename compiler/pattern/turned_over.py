"""Whether a piece is the same shape turned over."""

from __future__ import annotations

from collections.abc import Iterator

import numpy as np
import shapely

from ..geometry.lanes import BoolArray, ComplexArray
from ..geometry.tolerances import SEW
from .flat import flat_ring, flat_sides
from .laid import CORNER, turn_behind
from .piece import Piece


def alike_turned_over(piece: Piece) -> BoolArray:
    """On which bodies (L,) a piece, turned over, can be laid on itself to what a seam allows; how its outline is parted into
    edges tells nothing."""
    count = len(piece.ring)
    shapes = np.atleast_1d(flat_ring(list(flat_sides(piece).values())))
    starts = np.stack(np.broadcast_arrays(*(side.drawn.start for side in piece.ring)), axis=1) @ np.array([1.0, 1j])
    turns = np.stack(np.broadcast_arrays(*(turn_behind(piece, (i - 1) % count) for i in range(count))), axis=1) > CORNER
    found = []
    for lane, shape in enumerate(shapes):
        corners = starts[lane % len(starts)][turns[lane % len(turns)]]
        found.append(_alike(shapely.get_coordinates(shape.exterior) @ np.array([1.0, 1j]), corners))
    return np.array(found)


def _alike(outline: ComplexArray, corners: ComplexArray) -> bool:
    """Whether an outline mirrored in one of the lines that may be its axis lies on itself. All as x + iy, mm."""
    there = shapely.linearrings(outline.real, outline.imag)
    middle = shapely.centroid(shapely.Polygon(there))
    from_middle, around = (points - complex(middle.x, middle.y) for points in (outline, corners))
    for twice in _axes(from_middle, around):
        turned = np.conj(from_middle) * twice + complex(middle.x, middle.y)
        if shapely.hausdorff_distance(there, shapely.linearrings(turned.real, turned.imag)) <= SEW:
            return True
    return False


def _axes(outline: ComplexArray, corners: ComplexArray) -> Iterator[complex]:
    """The lines through the middle, as numbers of length one at twice their angle, that may be an axis: those that bring the
    farthest corner to another, or, where it has none, the ones about which the area lies most and least spread out."""
    if corners.size:
        far = corners[np.argmax(np.abs(corners))]
        yield from (complex(each / abs(each)) for each in far * corners if abs(each) > 0.0)
        return
    before, after = outline[:-1], outline[1:]
    areas = before.real * after.imag - after.real * before.imag
    spread = complex(np.sum(areas * (before * before + before * after + after * after)))
    along = spread / abs(spread) if abs(spread) > 0.0 else 1.0 + 0.0j  # of a circle every line is one
    yield from (along, -along)
