"""Whether pieces of the garment that are sewn to each other up and down, and facings, have their threads alike: one that lies
across the cloth beside one that lies along it gives where the other does not, and its colour and its pattern lie otherwise."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from ..pattern.edges import edge_path
from ..pattern.laid import SeamEdge
from ..pattern.piece import Piece, Reals
from ..pattern.which_ends import Sewn
from .seams import SewnSeam, sewn_along

ALONG, ACROSS = 30.0, 60.0
"""The thread runs along a seam that it leaves by fewer degrees than the first, as of a flare, and across it from the second on
(ours)."""


@dataclass(frozen=True)
class Crossed:
    """A piece whose thread runs across a seam, on bodies (L,), and the one it is sewn to there, whose thread runs along it."""

    seam: str
    across: str
    along: str
    where: NDArray[np.bool_]


def crossed(sewn: Sewn, seams: Sequence[SewnSeam]) -> Iterator[Crossed]:
    """Each piece once on each body. A seam that was drafted across the body, as of a yoke, tells nothing; nor does a piece that
    is said to lie across or on the bias. Raises Disagreement."""
    told: dict[str, NDArray[np.bool_]] = {}
    for seam in seams:
        for left, right, there in sewn_along(seam, sewn):
            for one, other in ((left, right), (right, left)):
                if not _are_twins(one.piece, other.piece) or one.owner == other.owner or one.piece.finish.lies != "straight":
                    continue
                known = told.get(one.owner, np.zeros(1, dtype=bool))
                where = (off_thread(one) > ACROSS) & (off_thread(other) < ALONG) & _is_upright(one) & there & ~known
                if where.any():
                    told[one.owner] = known | where
                    yield Crossed(seam.name, one.owner, other.owner, where)


def _are_twins(one: Piece, other: Piece) -> bool:
    """Whether two pieces of the same cloth should lie alike: they cover the same part of the body, its front or its back, or the
    first is a facing of the other."""
    cloths = [{cut.cloth for cut in piece.finish.cuts} for piece in (one, other)]
    if cloths[0].isdisjoint(cloths[1]) or other.inside:
        return False
    if one.inside or one.covers is None or other.covers is None:
        return one.inside
    return one.covers.partition("_")[0] == other.covers.partition("_")[0]


def off_thread(one: SeamEdge) -> Reals:
    """By how many degrees (L,) the thread of a piece leaves an edge of it, as straight; NaN without a grain."""
    grain = one.piece.finish.grain
    if grain is None:
        return np.full(1, np.nan)
    off = np.degrees(np.angle(_way(one) / grain)) % 180.0
    return np.asarray(np.minimum(off, 180.0 - off))


def _is_upright(one: SeamEdge) -> NDArray[np.bool_]:
    """Where (L,) an edge was drafted more up than across."""
    way = _way(one) / one.sides()[0].turn
    return np.asarray(np.abs(way.imag) > np.abs(way.real))


def _way(one: SeamEdge) -> NDArray[np.complex128]:
    """From end to end of an edge, (L,)."""
    paths = edge_path(one.piece, one.edge)
    way = paths[-1].end - paths[0].start
    return np.asarray(way[:, 0] + 1j * way[:, 1])
