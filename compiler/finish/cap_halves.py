"""Whether a sleeve is set in the right way round, told by its cap: the half at the front is hollowed more than that at the back.

Common practice, no source: the arm is moved forward, so the front of an armhole is scooped more. A cap that is alike on both
sides, or that is one edge, tells nothing; nor does one of whose edges several are sewn to the front, or to the back.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from ..geometry.lanes import cross, unit
from ..geometry.path import CHORDS, chain, flatten_fixed
from ..pattern.covers import HALVES, Half
from ..pattern.edges import edge_path
from ..pattern.piece import Piece, Reals
from ..pattern.ring import edge_run
from ..pattern.which_ends import Name, Sewn

TELLS = 1.5
"""Halves that are hollowed alike but for so much (mm) tell nothing (ours)."""


@dataclass(frozen=True)
class TurnedRound:
    """A sleeve whose cap is hollowed more where it is sewn to the back, its halves there and at the front, on bodies (L,)."""

    piece: str
    at_front: str
    at_back: str
    where: NDArray[np.bool_]


def turned_round(sewn: Sewn) -> Iterator[TurnedRound]:
    for owner, piece in sewn.pieces.items():
        halves = [(edge, half) for edge in _edges(piece, sewn, owner) if (half := _sewn_to(sewn, (owner, edge)))]
        ahead, behind = ([edge for edge, half in halves if half == wanted] for wanted in ("front", "back"))
        if piece.covers == "sleeve" and len(ahead) == len(behind) == 1 and _are_neighbours(piece, ahead[0], behind[0]):
            front, back = (_hollow(piece, edge) for edge in (ahead[0], behind[0]))
            yield TurnedRound(owner, ahead[0], behind[0], np.asarray(back - front > TELLS))


def _edges(piece: Piece, sewn: Sewn, owner: str) -> Iterator[str]:
    """The edges of a piece that are sewn, as its seams name them."""
    return (edge for name, edge in sewn.partners if name == owner and piece.run(edge))


def _sewn_to(sewn: Sewn, name: Name) -> Half | None:
    """The half of the body that all pieces an edge is sewn to cover."""
    covered = {sewn.pieces[other].covers for other, _ in sewn.partners[name] if other in sewn.pieces}
    halves = {HALVES.get(one) if one else None for one in covered}
    return halves.pop() if len(halves) == 1 else None


def _are_neighbours(piece: Piece, one: str, other: str) -> bool:
    """Whether two edges meet at a corner, as the halves of a cap do at its top."""
    runs, count = [edge_run(piece, edge) for edge in (one, other)], len(piece.ring)
    return any((a[-1] + 1) % count == b[0] for a, b in (runs, runs[::-1]))


def _hollow(piece: Piece, edge: str) -> Reals:
    """How deep (L,) mm an edge lies within the straight between its ends, on the side of the cloth."""
    path = chain(edge_path(piece, edge))
    way = unit(path.end - path.start)
    return np.asarray(cross(way[:, None], flatten_fixed(path, CHORDS) - path.start[:, None]).max(axis=1))
