"""Buttonholes and buttons that lie over an edge of their piece, or so near one that neither can be worked there."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

import numpy as np
import shapely
from numpy.typing import NDArray

from ..pattern.flat import flat_line, flat_ring, flat_sides
from ..pattern.piece import Piece, Reals


def near_edges(piece: Piece) -> Iterator[tuple[str, str, Reals]]:
    """Each buttonhole or button by its name, the edge it comes nearest to, and how near (L,) mm: less than nothing where it lies
    over that, which is the nearest. A fold is no edge: the piece goes on there; nor is a leg of a dart, which is sewn shut."""
    marks = list(_marks(piece))
    if not marks:
        return
    flat = flat_sides(piece)
    cloth = flat_ring(list(flat.values()))
    edges: dict[str, list[NDArray[np.object_]]] = {}
    shut = piece.dart_sides()
    for i, side in enumerate(piece.ring):
        if piece.fold not in side.names and i not in shut:
            edges.setdefault(side.edge, []).append(np.atleast_1d(flat_line(side.drawn)))
    for name, mark in marks:
        aways = {edge: _least([shapely.distance(mark, line) for line in lines]) for edge, lines in edges.items()}
        inside, least = shapely.covers(cloth, mark), _least(list(aways.values()))
        for edge, away in aways.items():
            yield name, edge, np.where(inside, away, np.where(away <= least, -away, np.inf))


def _least(distances: Sequence[Reals]) -> Reals:
    return np.asarray(np.min(np.stack(np.broadcast_arrays(*distances)), axis=0))


def _marks(piece: Piece) -> Iterator[tuple[str, NDArray[np.object_]]]:
    for side in piece.lines:
        if piece.has_sign(side, "buttonhole"):
            yield side.names[-1], np.atleast_1d(flat_line(side.drawn))
    for point, sign in piece.signs.items():
        at = piece.points.get(point)
        if sign.kind == "button" and at is not None:
            yield point, np.atleast_1d(shapely.points(at))
