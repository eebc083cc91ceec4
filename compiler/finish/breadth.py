"""How much of the width of its cloth a piece takes, with its allowances."""

from __future__ import annotations

import numpy as np

from ..geometry.lanes import dot, join, left_of
from ..geometry.motion import mirror_points
from ..geometry.path import chain
from ..pattern.edges import edge_path
from ..pattern.piece import Piece, Reals
from .corners import SPIKE
from .finished import finished


def breadth(piece: Piece) -> Reals:
    """How much of the width of the cloth (L,) mm a piece takes with its allowances: its extent square to the grain, `up`
    where none is stated; of a piece on the fold the half that is drawn."""
    return _reach(piece, finished(piece).cut)


def unfolded_breadth(piece: Piece, narrowest: float) -> Reals:
    """The same (L,) mm of the whole piece, where it is cut on the fold; nothing where no grain is stated.

    The cut line is drawn only where it may be wider than `narrowest` mm; else what it reaches at most is told.
    """
    if piece.finish.grain is None:
        return np.zeros(1)
    hull = join([side.drawn.controls.reshape(side.drawn.lanes, -1, 2) for side in piece.ring], 1)
    allowed = max((float(one.width.max()) for one in piece.finish.allowances.values()), default=0.0)
    most = _reach(piece, _both_halves(piece, hull)) + 2.0 * SPIKE * allowed
    return most if (most <= narrowest).all() else _reach(piece, _both_halves(piece, finished(piece).cut))


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
