"""Seams between finished pieces, and how their two sides lie together."""

from __future__ import annotations

from dataclasses import dataclass, replace

import numpy as np
from numpy.typing import NDArray

from ..geometry.lanes import take
from ..pattern.laid import SeamSide
from ..pattern.piece import Reals
from ..pattern.which_ends import Sewn, Sides, laid_together


@dataclass(frozen=True)
class SewnSeam:
    """A seam: how it is sewn (`joins`, `eases`, `gathers`), the edges of both sides as `piece.edge`, the lengths of these
    (L,) mm, and the strokes of its notches (None: not stated; 0: it puts none of its own)."""

    name: str
    how: str
    left: tuple[str, ...]
    right: tuple[str, ...]
    left_mm: Reals
    right_mm: Reals
    strokes: int | None = None

    def take(self, lanes: NDArray[np.intp]) -> SewnSeam:
        return replace(self, left_mm=take(self.left_mm, lanes), right_mm=take(self.right_mm, lanes))


def laid_sides(seam: Sides, sewn: Sewn) -> list[tuple[SeamSide, SeamSide]]:
    """The ways to lay the two sides of a seam together; none where an edge lies inside a piece or on none that is cut, or nothing
    tells."""
    sides = sewn.stretches(seam)
    return [] if sides is None else laid_together(*sides, sewn)
