"""Marks that lie over a dart: sewn shut, it takes cloth out of them."""

from __future__ import annotations

from collections.abc import Iterator

import numpy as np
import shapely

from ..geometry.path import CHORDS, Path, flatten_fixed
from ..pattern.flat import flat_line, flat_ring
from ..pattern.piece import Piece, Reals


def over_darts(piece: Piece) -> Iterator[tuple[str, str, Reals]]:
    """The lines at which something is placed on a piece, by name, with the darts they lie over, and how much (L,) mm of the line
    lies in the dart."""
    for dart, ring in _openings(piece):
        cloth = shapely.make_valid(flat_ring([flatten_fixed(path, CHORDS) for path in ring]))
        found: dict[str, Reals] = {}
        for side in piece.lines:
            if piece.has_sign(side, "placement"):
                drawn = flat_line(side.drawn)
                mark = next(name for name in side.names if name in piece.signs).partition(".")[0]
                found[mark] = found.get(mark, np.zeros(1)) + shapely.length(shapely.intersection(drawn, cloth))
        yield from ((mark, dart, np.asarray(long)) for mark, long in found.items())


def _openings(piece: Piece) -> Iterator[tuple[str, list[Path]]]:
    """Each dart with what it takes out, as sides that close; of one on an edge its mouth is straight."""
    for dart in piece.darts:
        yield dart.name, [side.drawn for leg in (dart.first, dart.second) for side in piece.sides(leg)]
    for hole in piece.holes:
        yield hole.name, [side.drawn for side in hole.sides]
