"""Cut lines that cross themselves: cloth and allowances laid together as flat shapes, and walked round outside.

Also those that pass over a fold, as the allowance of a neckline narrower than it does: both halves are laid together then.
Only for the lanes that need it. Parallel lines cross where an allowance is wider than a hollow curve is round, or where
it fills a narrow cut; the shape of all that lies within the allowance is still right, and its outline is the cut line.
"""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np
import shapely

from ..geometry.lanes import BoolArray, FloatArray, cross, unit
from ..geometry.path import CUT_CHORDS, flatten_fixed
from ..geometry.tolerances import FLAT
from ..pattern.piece import Piece

FAR = 1e4
"""Beyond the end of any piece, mm."""


def beyond_fold(piece: Piece, cut: FloatArray) -> BoolArray:
    """The lanes (L,) whose cut line (L, n, 2) passes over a fold."""
    found = np.zeros(cut.shape[0], dtype=bool)
    for side in piece.ring:
        if piece.fold in side.names:
            start, way = side.drawn.start, unit(side.drawn.end - side.drawn.start)
            found = found | (cross(way[:, None], cut - start[:, None]) < -FLAT).any(axis=1)
    return found


def without_crossings(
    piece: Piece,
    sides: Sequence[FloatArray | None],
    closing: Sequence[FloatArray | None],
    cut: FloatArray,
    crossed: BoolArray,
) -> FloatArray:
    """`cut` (L, n, 2) with the lanes `crossed` replaced by simple rings; all lanes are filled up to one length by
    repeating the last point. Lanes that are not finite stay as they are."""
    sewn, rings = [flatten_fixed(side.drawn, CUT_CHORDS) for side in piece.ring], {}
    for lane in np.flatnonzero(crossed & np.isfinite(cut).all(axis=(1, 2))).tolist():
        rings[lane] = _outline(piece, sewn, sides, closing, lane)
    count = max([cut.shape[1], *(ring.shape[0] for ring in rings.values())])
    rows = [rings.get(lane, cut[lane]) for lane in range(cut.shape[0])]
    return np.stack([np.concatenate([row, np.repeat(row[-1:], count - row.shape[0], axis=0)]) for row in rows])


def _outline(
    piece: Piece,
    flat: Sequence[FloatArray],
    sides: Sequence[FloatArray | None],
    closing: Sequence[FloatArray | None],
    lane: int,
) -> FloatArray:
    """The outline (n, 2) of one lane; `flat` are the sides of the ring as points (L, m, 2)."""
    sewn = [_of(points, lane) for points in flat]
    shapes = [np.concatenate([points[:-1] for points in sewn])]
    kept = [i for i, along in enumerate(sides) if along is not None]
    for k, i in enumerate(kept):
        along, corner = sides[i], closing[i]
        follower = kept[(k + 1) % len(kept)]
        ahead = sides[follower]
        if along is None or corner is None or ahead is None:
            raise AssertionError("a side that is cut along has no cut line")
        shapes.append(np.concatenate([sewn[i], _of(along, lane)[::-1]]))
        between = [sewn[j % len(sewn)] for j in range(i + 1, i + 1 + (follower - i - 1) % len(sewn))]
        base = np.concatenate([sewn[i][-1:], *between])
        shapes.append(np.concatenate([base, _of(ahead, lane)[:1], _of(corner, lane)[::-1], _of(along, lane)[-1:]]))
    whole = shapely.union_all([shapely.make_valid(shapely.Polygon(points)) for points in shapes])
    for side in piece.ring:
        if piece.fold in side.names:
            whole = _with_other_half(whole, _of(side.drawn.start, lane), _of(side.drawn.end, lane))
    largest = max(shapely.get_parts(shapely.buffer(whole, 0.0)), key=lambda part: float(part.area))
    return np.asarray(shapely.orient_polygons(largest).exterior.coords, dtype=np.float64)[:-1]


def _with_other_half(shape: shapely.Geometry, start: FloatArray, end: FloatArray) -> shapely.Geometry:
    """The cloth on this side of a fold from start to end (2,), with what the other half's allowance lays over it."""
    way = (end - start) / np.linalg.norm(end - start)
    inward = np.array([-way[1], way[0]])
    other = shapely.transform(shape, lambda points: points - 2.0 * ((points - start) @ inward)[:, None] * inward)
    corners = [start - FAR * way, start + FAR * way, start + FAR * (way + inward), start + FAR * (inward - way)]
    return shapely.union(shape, other).intersection(shapely.Polygon(corners))


def _of(points: FloatArray, lane: int) -> FloatArray:
    """The points (n, 2) of one lane."""
    row: FloatArray = points[0 if points.shape[0] == 1 else lane]
    return row
