"""Seams between finished pieces, and how their two sides lie together."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, replace
from typing import Protocol

import numpy as np
from numpy.typing import NDArray

from ..geometry.lanes import take
from ..pattern.piece import Piece, Reals
from ..pattern.walking import Laid, Sewn, Stretch, laid_together


class Sides(Protocol):
    """What is sewn to what, each edge as `piece.edge`."""

    @property
    def left(self) -> tuple[str, ...]: ...

    @property
    def right(self) -> tuple[str, ...]: ...


@dataclass(frozen=True)
class SewnSeam:
    """A seam: how it is sewn (`joins`, `eases`, `gathers`), the edges of both sides as `piece.edge`, the lengths of these
    (L,) mm, and the strokes of its notches (0: not stated)."""

    name: str
    how: str
    left: tuple[str, ...]
    right: tuple[str, ...]
    left_mm: Reals
    right_mm: Reals
    strokes: int = 0

    def take(self, lanes: NDArray[np.intp]) -> SewnSeam:
        return replace(self, left_mm=take(self.left_mm, lanes), right_mm=take(self.right_mm, lanes))


def pairs_sewn(seams: Iterable[Sides]) -> Sewn:
    return {frozenset((a, b)) for seam in seams for a in seam.left for b in seam.right}


def is_cut(pieces: Mapping[str, Piece], seam: Sides) -> bool:
    """Whether all edges of a seam are of the outlines of pieces that are cut."""
    places = (name.partition(".") for name in (*seam.left, *seam.right))
    return all(owner in pieces and bool(pieces[owner].run(edge)) for owner, _, edge in places)


def laid_sides(pieces: Mapping[str, Piece], seam: Sides, sewn: Sewn) -> list[tuple[Laid, Laid]]:
    """The ways to lay the two sides of a seam together; none where an edge lies inside a piece or on none that is cut, or nothing
    tells."""
    if not is_cut(pieces, seam):
        return []
    named = ([name.partition(".") for name in names] for names in (seam.left, seam.right))
    left, right = ([Stretch(pieces[owner], edge, owner) for owner, _, edge in names] for names in named)
    return laid_together(left, right, sewn)
