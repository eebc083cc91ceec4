"""How much of the width of its cloth a piece takes, with its allowances."""

from __future__ import annotations

import numpy as np

from ..geometry.lanes import dot, join, left_of
from ..geometry.motion import mirror_points
from ..geometry.path import chain
from ..pattern.edges import edge_path
from ..pattern.piece import Piece, Reals
from .finished import FinishedPiece, finished


def breadth(piece: Piece) -> Reals:
    """How much of the width of the cloth (L,) mm a piece takes with its allowances: its extent square to the grain, `up`
    where none is stated; of a piece on the fold the half that is drawn."""
    return _reach(piece, finished(piece).cut)


def unfolded_breadth(cloth: FinishedPiece) -> Reals:
    """The same (L,) mm of the whole piece, where it is cut on the fold."""
    return _reach(cloth.piece, _both_halves(cloth.piece, cloth.cut))


def _reach(piece: Piece, points: Reals) -> Reals:
    """How far (L,) mm points (L, n, 2) reach square to the grain of the piece."""
    grain = np.full(1, 1j) if piece.finish.grain is None else piece.finish.grain
    reach = dot(points, left_of(np.stack([grain.real, grain.imag], axis=-1))[:, None])
    return np.asarray(reach.max(axis=1) - reach.min(axis=1))


def _both_halves(piece: Piece, points: Reals) -> Reals:
    """Points (L, n, 2) of a piece with their mirror images over its fold, if it has one."""
    if piece.fold is None:
        return points
    path = chain(edge_path(piece, piece.fold))
    return join([points, mirror_points(path.start, path.end, points)], 1)
