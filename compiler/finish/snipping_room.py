"""Whether there is a cut edge to snip a notch from: near the point of a dart that is cut open the two allowances run together."""

from __future__ import annotations

import numpy as np

from ..geometry.lanes import BoolArray
from ..geometry.length import nearest, place_at
from ..geometry.tolerances import SEW
from ..pattern.darts import is_open_below
from ..pattern.piece import Piece, Reals
from ..pattern.ring import place_on
from .corners import outward
from .stated import allowance_of


def can_be_snipped(piece: Piece, edge: str, at: Reals) -> BoolArray:
    """Whether (L,) an edge is cut along its allowance at `at` (L,) mm from its start, not lost in that of the other leg."""
    place = place_on(piece, edge, at, "start")
    side = piece.ring[place.side]
    foot, way = place_at(side.drawn, place.at)
    outer = foot + allowance_of(piece, side).width[:, None] * outward(way)
    free = np.ones(1, dtype=np.bool_)
    for dart in (one for one in piece.darts if is_open_below(piece, one)):
        legs = dart.leg_names[::2], dart.leg_names[1::2]
        for own, others in (legs, legs[::-1]):
            across = [one for name in others for one in piece.sides(name)] if set(own).intersection(side.names) else []
            for other in across:
                _, away = nearest(other.drawn, outer)
                free = free & (away >= allowance_of(piece, other).width - SEW)
    return np.asarray(free)
