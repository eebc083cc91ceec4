"""Whether a piece can be cut: its outline is closed, crosses nothing, holds cloth, and has its darts inside."""

from __future__ import annotations

import numpy as np
import shapely
from numpy.typing import NDArray

from ..geometry.lanes import norm
from ..geometry.path import CHORDS, flatten_fixed, ring_area
from ..geometry.tolerances import COINCIDE, FLAT
from .darts import leg_run
from .flat import flat_around, flat_ring, flat_sides, unslit
from .piece import Piece, Side

Fault = tuple[str, NDArray[np.bool_]]


def faults(piece: Piece) -> list[Fault]:
    """What is wrong with a piece of cloth: words, and the lanes (L,) concerned. Empty when it can be cut."""
    found = _open(piece.ring, "the outline")
    area = ring_area([side.drawn for side in piece.ring])
    found.append(("the outline runs round the wrong way or holds no cloth", ~(area > 0.0)))
    flat = flat_sides(piece)
    cloth = flat_ring(list(flat.values()))
    sound = np.atleast_1d(shapely.is_valid(cloth))
    if not sound.all() and (whole := unslit(piece, flat)) is not None:
        sound = sound | shapely.is_valid(whole)
    found.append(("the outline crosses itself", ~sound))
    found += _darts(piece, cloth)
    return [(words, lanes) for words, lanes in found if lanes.any()]


def _darts(piece: Piece, cloth: NDArray[np.object_]) -> list[Fault]:
    """Darts with two ends that do not lie inside the cloth, or run into another dart, which is then named."""
    found: list[Fault] = []
    legs = {dart.name: [piece.ring[i].drawn for i in leg_run(piece, dart)] for dart in piece.darts}
    shapes = {name: shapely.make_valid(flat_ring([flatten_fixed(one, CHORDS) for one in both])) for name, both in legs.items()}
    for hole in piece.holes:
        found += _open(hole.sides, f"the dart `{hole.name}`")
        shape = shapely.make_valid(flat_around(hole.sides))
        inside = np.atleast_1d(shapely.contains(shapely.make_valid(cloth), shape))
        for name, other in shapes.items():
            met = np.atleast_1d(shapely.area(shapely.intersection(shape, other)) > FLAT**2)  # they may share an apex
            found.append((f"the dart `{hole.name}` runs into the dart `{name}`", met))
            inside = inside | met
        found.append((f"the dart `{hole.name}` does not lie inside the piece", ~inside))
        shapes[hole.name] = shape
    return found


def _open(sides: tuple[Side, ...], what: str) -> list[Fault]:
    """Where one side does not start where the one before it ends."""
    found = []
    for before, after in zip(sides, (*sides[1:], sides[0]), strict=True):
        away = norm(before.drawn.end - after.drawn.start)
        found.append((f"{what} is open between `{before.edge}` and `{after.edge}`", ~(away <= 10.0 * COINCIDE)))
    return found
