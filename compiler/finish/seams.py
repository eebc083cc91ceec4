"""Seams between finished pieces, and how their two sides lie together."""

from __future__ import annotations

import itertools
from collections.abc import Iterator
from dataclasses import dataclass, replace

import numpy as np
from numpy.typing import NDArray

from ..geometry.lanes import take
from ..geometry.tolerances import SEW
from ..pattern.laid import SeamEdge, SeamSide
from ..pattern.piece import Reals
from ..pattern.which_ends import Sewn, Sides, laid_together

TOGETHER = 20.0
"""Edges that lie on each other along less than this (mm) of a seam are those of its ends (ours)."""


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


def sewn_along(seam: Sides, sewn: Sewn) -> Iterator[tuple[SeamEdge, SeamEdge, NDArray[np.bool_]]]:
    """Each edge of one side with each of the other on which it comes to lie, and on which bodies (L,); where it is left open how
    the sides lie, those that do in every way. Raises Disagreement."""
    ways = [_edges_together(*sides) for sides in laid_sides(seam, sewn)]
    for key, (one, other, where) in ways[0].items() if ways else ():
        if all(key in way for way in ways):
            yield one, other, np.asarray(np.logical_and.reduce([where, *(way[key][2] for way in ways[1:])]))


def _edges_together(left: SeamSide, right: SeamSide) -> dict[tuple[int, int], tuple[SeamEdge, SeamEdge, NDArray[np.bool_]]]:
    """By their numbers in the runs, the edges that lie on each other when the sides of a seam are laid so."""
    totals = [np.maximum(side.total(), SEW) for side in (left, right)]
    ends = [
        [mm / total for mm in itertools.accumulate(side.lengths(), initial=np.zeros(1))]
        for side, total in zip((left, right), totals, strict=True)
    ]
    found = {}
    for i, j in itertools.product(range(len(left.stretches)), range(len(right.stretches))):
        share = np.minimum(ends[0][i + 1], ends[1][j + 1]) - np.maximum(ends[0][i], ends[1][j])
        where = share * np.minimum(*totals) > np.minimum(TOGETHER, np.minimum(*totals) / 2.0)
        if where.any():
            found[i, j] = left.stretches[i], right.stretches[j], where
    return found
