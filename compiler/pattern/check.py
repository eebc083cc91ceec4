"""Whether a piece can be cut: its outline is closed, crosses nothing, holds cloth, and has its darts inside."""

from __future__ import annotations

import numpy as np
import shapely
from numpy.typing import NDArray

from ..geometry.lanes import norm
from ..geometry.path import flatten_fixed, ring_area
from ..geometry.tolerances import COINCIDE
from .darts import is_open_below, leg_run
from .panels import flat_ring, flat_sides
from .piece import Piece, Side

Fault = tuple[str, NDArray[np.bool_]]


def faults(piece: Piece) -> list[Fault]:
    """What is wrong with a piece of cloth: words, and the lanes (L,) concerned. Empty when it can be cut."""
    found = _open(piece.ring, "the outline")
    area = ring_area([side.drawn for side in piece.ring])
    found.append(("the outline runs round the wrong way or holds no cloth", ~(area > 0.0)))
    cloth = flat_ring(list(flat_sides(piece).values()))
    found.append(("the outline crosses itself", ~(np.atleast_1d(shapely.is_valid(cloth)) | _is_slit(piece))))
    for hole in piece.holes:
        found += _open(hole.sides, f"the dart `{hole.name}`")
        shape = flat_ring([flatten_fixed(side.drawn, 32) for side in hole.sides])
        inside = np.atleast_1d(shapely.contains(shapely.make_valid(cloth), shapely.make_valid(shape)))
        found.append((f"the dart `{hole.name}` does not lie inside the piece", ~inside))
    return [(words, lanes) for words, lanes in found if lanes.any()]


def _is_slit(piece: Piece) -> NDArray[np.bool_]:
    """Lanes (L,) whose outline touches itself only along slits of no width, below darts opened to an edge.

    Such a slit is left out: the outline without it, with the dart as a hole in it, must be sound.
    """
    flat, outer, inner = flat_sides(piece), list(range(len(piece.ring))), []
    for dart in piece.darts:
        legs = leg_run(piece, dart)
        if is_open_below(piece, dart) and len(legs) > 4:
            outer = [i for i in outer if i not in legs]
            inner.append(flat_ring([flat[i] for i in legs[1:-1]]))
    if not inner:
        return np.zeros(1, dtype=np.bool_)
    whole = flat_ring([flat[i] for i in outer])
    sound = shapely.is_valid(whole)
    for hole in inner:
        sound = sound & shapely.is_valid(hole) & shapely.contains(whole, hole)
    answer: NDArray[np.bool_] = np.atleast_1d(sound)
    return answer


def _open(sides: tuple[Side, ...], what: str) -> list[Fault]:
    """Where one side does not start where the one before it ends."""
    found = []
    for before, after in zip(sides, (*sides[1:], sides[0]), strict=True):
        away = norm(before.drawn.end - after.drawn.start)
        found.append((f"{what} is open between `{before.edge}` and `{after.edge}`", ~(away <= 10.0 * COINCIDE)))
    return found
