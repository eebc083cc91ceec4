"""Measures of a piece as a whole: its width on a level line, its breadth across the grain, how far it is from its mirror."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np
import shapely
from numpy.typing import NDArray

from ..geometry.bend import smallest_radius
from ..geometry.lanes import dot, join, left_of, norm, ordered_sum
from ..geometry.motion import mirror_points
from ..geometry.path import CUT_CHORDS, Path, chain, flatten_fixed
from ..geometry.tolerances import STRAIGHTISH
from .edges import OFF, edge_path
from .piece import Piece, Reals, Side, Trouble

LEVELLED = (
    "mark the level on the block, `mark_level NAME along LINE`, which goes with its cloth, promise a `fit` there, and measure "
    "`garment_measurement of` that; or take the girth before the dart is moved"
)



def width_across(piece: Piece, level: Reals) -> Reals:
    """Width (L,) mm of the cloth on the level line at height `level` (L,) mm, from edge to edge; what darts take out, or any
    gap between two parts, is left out. Trouble with lanes where the line misses the piece."""
    rings = [piece.ring, *(hole.sides for hole in piece.holes)]
    points = [_flat(sides) for sides in rings]
    # Both ways to count a corner on the line, so that a level edge of the piece has its own length.
    found = np.maximum(*(sum((_inside(p, level, low) for p in points), start=np.zeros(1)) for low in (True, False)))
    off = found <= 0.0
    if off.any():
        heights = points[0][..., 1]
        figures = {
            "level": level,
            "lowest of the piece": heights.min(axis=1),
            "highest": heights.max(axis=1),
        }
        raise Trouble("the level line misses the piece", "take a point between its highest and its lowest", off, figures)
    return np.asarray(found)


def _flat(sides: tuple[Side, ...]) -> Reals:
    """The corners (L, n, 2) of a ring, curves by chords, closed."""
    return join([flatten_fixed(side.drawn, CUT_CHORDS) for side in sides], 1)


def _inside(points: Reals, level: Reals, low: bool) -> Reals:
    """Length (L,) of a level line inside a ring, negative for one that runs clockwise: where the ring rises the line comes
    out, where it falls the line goes in."""
    a, b, y = points[:, :-1], points[:, 1:], level[:, None]
    above_a, above_b = (a[..., 1] > y, b[..., 1] > y) if low else (a[..., 1] >= y, b[..., 1] >= y)
    rise = b[..., 1] - a[..., 1]
    share = (y - a[..., 1]) / np.where(rise == 0.0, 1.0, rise)
    x = a[..., 0] + share * (b[..., 0] - a[..., 0])
    sign = above_b.astype(np.float64) - above_a
    return ordered_sum(sign * x)


TURNED = 1e-6
"""Panels turned by less than this (radians) lie as they were drafted."""


def worn_width(piece: Piece, level: Reals) -> Reals:
    """Width (L,) mm on a level line of all that is cut of a piece: as often as it is cut in the cloth named first, twice
    where it lies on the fold. Trouble with lanes where the line is no level of the body: where it runs into a dart by one of its
    legs only, or over parts of the piece that were turned against each other."""
    met = [_crosses(side, level) for side in piece.ring]
    for dart in piece.darts:
        once = _any(met, piece.run(dart.first)) ^ _any(met, piece.run(dart.second))
        if once.any():
            raise Trouble(f"the level line runs into the dart `{dart.name}`", LEVELLED, once)
    turns = np.stack(np.broadcast_arrays(*(side.turn for side in piece.ring)))
    on = np.stack(np.broadcast_arrays(*met))
    first = np.take_along_axis(turns, on.argmax(axis=0)[None], axis=0)
    apart = (on & (np.abs(turns - first) > TURNED)).any(axis=0)
    if apart.any():
        raise Trouble("the level line runs over parts of the piece that were turned against each other", LEVELLED, apart)
    count = piece.finish.cuts[0].count if piece.finish.cuts else 1
    return width_across(piece, level) * (count * (1 if piece.fold is None else 2))


def _crosses(side: Side, level: Reals) -> NDArray[np.bool_]:
    """Whether (L,) a side passes from below a level to above it, or back."""
    above = flatten_fixed(side.drawn, CUT_CHORDS)[..., 1] > level[:, None]
    return np.asarray((above[:, 1:] != above[:, :-1]).any(axis=1))


def _any(met: Sequence[NDArray[np.bool_]], numbers: Sequence[int]) -> NDArray[np.bool_]:
    return np.asarray(np.stack(np.broadcast_arrays(np.zeros(1, dtype=bool), *(met[i] for i in numbers))).any(axis=0))


def asymmetry(piece: Piece, over: str) -> Reals:
    """How far (L,) mm the outline lies from its mirror image over an edge or inner line at most (Hausdorff distance).

    Trouble with lanes where that line is bent.
    """
    axis = chain(edge_path(piece, over))
    p, q = axis.start, axis.end
    off = np.abs(dot(axis.controls - p[:, None, None], left_of((q - p) / norm(q - p)[:, None])[:, None, None]))
    bent = off.max(axis=(1, 2)) > OFF
    if bent.any():
        raise Trouble(f"`{over}` is not straight: nothing can be mirrored over it", "take a straight edge, or draw a line", bent)
    points = _flat(piece.ring)
    mirrored = mirror_points(p, q, points)
    apart = shapely.hausdorff_distance(*(shapely.linestrings(x) for x in np.broadcast_arrays(points, mirrored)))
    return np.atleast_1d(np.asarray(apart, dtype=np.float64))


def sharpest(paths: list[Path]) -> Reals:
    """Smallest radius (L,) mm of paths between their corners; where nothing bends, that of a line as straight as counts."""
    radii = [np.minimum(smallest_radius(path), 1.0 / STRAIGHTISH) for path in paths]
    return np.asarray(np.stack(np.broadcast_arrays(*radii)).min(axis=0))
