"""Hems that are too deep for their curve: turned up, one on a round edge has more cloth than the place it lies on, one on a
hollow edge less."""

from __future__ import annotations

from collections.abc import Collection, Iterator
from dataclasses import dataclass

import numpy as np

from ..geometry.lanes import cross, dot, unit
from ..geometry.length import length
from ..geometry.path import CHORDS, flatten_fixed
from ..pattern.piece import Piece, Reals, Side
from .stated import HEMS, allowance_of


@dataclass(frozen=True)
class TurnedUp:
    """A hem: how deep (L,) mm it is turned up at most, and by which shares (L,) of its length its raw edge is longer and shorter
    than what it is turned onto: what is too long at one end is no help to the other."""

    edge: str
    deep: Reals
    longer: Reals
    shorter: Reals


def turned_up(piece: Piece, named: Collection[str]) -> Iterator[TurnedUp]:
    """Each hem of a piece, its darts sewn shut: it bends by what the stretches between them do. An edge is a hem that ends at its
    corners as one, is turned under, or is said to be sewn so, by its name."""
    hems: dict[str, list[Side]] = {}
    for side in piece.ring:
        stated = allowance_of(piece, side)
        is_hem = stated.corner in HEMS or stated.under is not None or not set(named).isdisjoint(side.names)
        if is_hem and not side.folded:
            hems.setdefault(side.edge, []).append(side)
    for edge, sides in hems.items():
        allowed = [allowance_of(piece, side) for side in sides]
        depths = [one.width if one.under is None else one.width - one.under for one in allowed]
        deep = np.max(np.stack(np.broadcast_arrays(*depths)), axis=0)
        long = sum((length(side.drawn) for side in sides), np.zeros(1))
        left, right = (sum(bends, np.zeros(1)) for bends in zip(*map(bends, sides), strict=True))
        yield TurnedUp(edge, deep, 2.0 * deep * left / long, 2.0 * deep * right / long)


def bends(side: Side) -> tuple[Reals, Reals]:
    """By how much (L,) radians a side turns to the left, where it is round as seen from the cloth, and to the right."""
    steps = unit(np.diff(flatten_fixed(side.drawn, CHORDS), axis=1))
    turns = np.arctan2(cross(steps[:, :-1], steps[:, 1:]), dot(steps[:, :-1], steps[:, 1:]))
    return np.maximum(turns, 0.0).sum(axis=1), np.maximum(-turns, 0.0).sum(axis=1)
