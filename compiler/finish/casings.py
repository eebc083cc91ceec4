"""How deep the casing is that a drawn-in edge makes: the hem that is turned over it, or the folded band it is sewn to."""

from __future__ import annotations

import itertools
from collections.abc import Iterator, Mapping, Sequence

import numpy as np
import shapely
from numpy.typing import NDArray

from ..pattern.flat import flat_line
from ..pattern.piece import Piece, Reals, Side
from ..pattern.ring import edge_run
from ..pattern.which_ends import Name, Sewn, edge_named
from .stated import allowance_of


def casing(sewn: Sewn, edge: str) -> Reals | None:
    """How deep (L,) mm the casing of an edge, `piece.edge`, is from fold to raw or sewn edge; None where it makes none."""
    name, pieces = edge_named(edge), sewn.pieces
    if name[0] not in pieces or not pieces[name[0]].run(name[1]):
        return None
    partners = [one for one in sorted(sewn.partners.get(name, ())) if one[0] in pieces and pieces[one[0]].run(one[1])]
    depths = list(_hem(pieces[name[0]], name[1]) if not partners else _bands(pieces, [name, *partners]))
    return np.asarray(np.min(np.stack(np.broadcast_arrays(*depths)), axis=0)) if depths else None


def _hem(piece: Piece, edge: str) -> Iterator[Reals]:
    """What is turned over, without what is turned under again."""
    if piece.fold is not None and piece.fold in piece.sides(edge)[0].names:
        return
    for side in piece.sides(edge):
        stated = allowance_of(piece, side)
        yield stated.width if stated.under is None else stated.width - stated.under


def _bands(pieces: Mapping[str, Piece], names: Sequence[Name]) -> Iterator[Reals]:
    """From an edge to the fold across from it, of pieces that are folded along themselves."""
    for owner, edge in names:
        piece = pieces[owner]
        if piece.fold is None or not piece.run(piece.fold):
            continue
        own, folded = (set(edge_run(piece, one)) for one in (edge, piece.fold))
        beside = {(i + step) % len(piece.ring) for i in folded for step in (-1, 0, 1)}
        if not own & beside:
            lines = ([_flat(piece.ring[i]) for i in those] for those in (own, folded))
            yield from (np.atleast_1d(shapely.distance(a, b)) for a, b in itertools.product(*lines))


def _flat(side: Side) -> NDArray[np.object_]:
    return np.atleast_1d(flat_line(side.drawn))
