"""Paths and pieces as shapes of shapely over lanes, their curves as chords."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence

import numpy as np
import shapely
from numpy.typing import NDArray

from ..geometry.lanes import lane_count, spread, unit
from ..geometry.path import CHORDS, Path, flatten_fixed
from .darts import is_open_below, leg_run
from .piece import Piece, Reals, Side
from .ring import edge_run

Shapes = NDArray[np.object_]

TIP = 0.1
"""How far (mm) the tip of a dart is drawn out to test an outline: less than a pencil line is wide."""


def flat_line(path: Path) -> Shapes:
    """Lines (L,) along a path."""
    made: Shapes = np.atleast_1d(shapely.linestrings(flatten_fixed(path, CHORDS)))
    return made


def flat_ring(sides: Sequence[Reals]) -> Shapes:
    """Polygons (L,) of a ring given as chains of points (L, n, 2), one after the other."""
    lanes = lane_count(*sides)
    points = np.concatenate([spread(side, lanes) for side in sides], axis=1)
    made: Shapes = shapely.polygons(points)
    return made


def flat_around(sides: Iterable[Side]) -> Shapes:
    """Polygons (L,) of sides that close."""
    return flat_ring([flatten_fixed(side.drawn, CHORDS) for side in sides])


def flat_sides(piece: Piece) -> dict[int, Reals]:
    """The sides of the ring, by number, as chains of points (L, n, 2), the tips of its darts drawn out a little.

    Darts may share an apex; the outline then touches itself there, which is no fault of the piece.
    """
    flat = {i: flatten_fixed(side.drawn, CHORDS) for i, side in enumerate(piece.ring)}
    for dart in piece.darts:
        first, second = edge_run(piece, dart.first), edge_run(piece, dart.second)
        apex, last, next_ = flat[first[-1]][:, -1], first[-1], second[0]
        mouth = (flat[first[0]][:, 0] + flat[second[-1]][:, -1]) / 2.0
        tip = (apex + TIP * unit(mouth - apex))[:, None]
        lanes = tip.shape[0]
        flat[last] = np.concatenate([spread(flat[last][:, :-1], lanes), tip], axis=1)
        flat[next_] = np.concatenate([tip, spread(flat[next_][:, 1:], lanes)], axis=1)
    return flat


def unslit(piece: Piece, flat: Mapping[int, Reals]) -> Shapes | None:
    """Polygons (L,) of a piece with darts that were opened to an edge and left a slit of no width, from its `flat_sides`:
    the outline without the slits, the darts as holes in it. None where the piece has no such dart."""
    outer, holes = list(range(len(piece.ring))), []
    for dart in piece.darts:
        legs = leg_run(piece, dart)
        if is_open_below(piece, dart) and len(legs) > 4:
            outer = [i for i in outer if i not in legs]
            holes.append(shapely.get_exterior_ring(flat_ring([flat[i] for i in legs[1:-1]])))
    if not holes:
        return None
    made: Shapes = shapely.polygons(
        shapely.get_exterior_ring(flat_ring([flat[i] for i in outer])), np.stack(np.broadcast_arrays(*holes), axis=-1)
    )
    return made


