"""Hems that are too deep for their curve: turned up, one on a round edge has more cloth than the place it lies on, one on a
hollow edge less."""

from __future__ import annotations

from collections.abc import Iterator

import numpy as np

from ..geometry.lanes import cross, dot, unit
from ..geometry.length import length
from ..geometry.path import flatten_fixed
from ..pattern.piece import Piece, Reals, Side
from .stated import HEMS, allowance_of

PER_CURVE = 32


def fullness_of_hems(piece: Piece) -> Iterator[tuple[str, Reals, Reals]]:
    """Each hem of a piece by its edge: how deep (L,) mm it is turned up at most, and by which share (L,) of its length its raw
    edge is longer or shorter than what it is turned onto, where it lies long as where it lies short: what is too long at one end
    is no help to the other. One with darts is left out: they bend it, sewn shut."""
    hems: dict[str, list[Side]] = {}
    darts = {dart.edge for dart in piece.darts}
    for side in piece.ring:
        if allowance_of(piece, side).corner in HEMS and not side.folded and darts.isdisjoint(side.names):
            hems.setdefault(side.edge, []).append(side)
    for edge, sides in hems.items():
        stated = [allowance_of(piece, side) for side in sides]
        depths = [one.width if one.under is None else one.width - one.under for one in stated]
        deep = np.max(np.stack(np.broadcast_arrays(*depths)), axis=0)
        long = sum((length(side.drawn) for side in sides), np.zeros(1))
        yield edge, deep, 2.0 * deep * sum((_bend(side) for side in sides), np.zeros(1)) / long


def _bend(side: Side) -> Reals:
    """By how much (L,) radians a side turns, to the left and to the right together."""
    steps = unit(np.diff(flatten_fixed(side.drawn, PER_CURVE), axis=1))
    turns = np.arctan2(cross(steps[:, :-1], steps[:, 1:]), dot(steps[:, :-1], steps[:, 1:]))
    return np.asarray(np.abs(turns).sum(axis=1))
