"""Whether a strip that binds a round edge gives enough to go round it: one along the thread, or across it, does not."""

from __future__ import annotations

import itertools
from collections.abc import Iterator, Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from ..geometry.lanes import norm
from ..geometry.length import length
from ..geometry.path import ring_area
from ..pattern.laid import SeamEdge
from ..pattern.piece import Reals
from ..pattern.truing import off_chord
from ..pattern.which_ends import Sewn
from .curved_hems import bends
from .seams import SewnSeam
from .threads import off_thread

STRIP = 0.02
"""A strip is sewn on along an edge that leaves the straight between its ends by no more than this share of it (ours)."""

NARROW = 80.0
"""A strip wider (mm) than this, cut, binds nothing, as a band that is sewn on flat (ours)."""

ROUND = 25.0
"""An edge that turns by fewer degrees than this is bound by a strip along the thread too (ours)."""

GIVES = 25.0
"""A strip whose edge leaves the thread, or the weft, by fewer degrees than this gives too little (ours)."""


@dataclass(frozen=True)
class Stiff:
    """A strip that is sewn to a round edge, in which seam, and by how many degrees (L,) that turns; NaN where it gives."""

    seam: str
    strip: str
    edge: str
    turns: Reals


def stiff(sewn: Sewn, seams: Sequence[SewnSeam]) -> Iterator[Stiff]:
    """The strips that do not give, of seams that bind, each once."""
    told: set[str] = set()
    for seam in seams:
        sides = sewn.stretches(seam)
        for one, other in itertools.permutations(sides, 2) if sides else ():
            for strip, edge in itertools.product(one, other):
                if strip.owner in told or strip.piece.covers is not None or strip.owner == edge.owner:
                    continue
                turns = np.where(_is_stiff(strip), _turns(edge), np.nan)
                if (turns > ROUND).any():
                    told.add(strip.owner)
                    yield Stiff(seam.name, strip.owner, f"{edge.owner}.{edge.edge}", np.where(turns > ROUND, turns, np.nan))


def _is_stiff(one: SeamEdge) -> NDArray[np.bool_]:
    """Where (L,) a piece is a narrow strip along an edge of it that lies near the thread, or near the weft."""
    off, ring = off_thread(one), [side.drawn for side in one.piece.ring]
    straight = [off_chord(side.drawn) <= STRIP * norm(side.drawn.end - side.drawn.start) for side in one.sides()]
    wide = 2.0 * ring_area(ring) / sum((length(path) for path in ring), np.zeros(1))
    return np.asarray((np.minimum(off, 90.0 - off) < GIVES) & np.logical_and.reduce(straight) & (wide < NARROW))


def _turns(one: SeamEdge) -> Reals:
    """By how many degrees (L,) an edge turns from end to end, either way."""
    return np.degrees(sum((left + right for left, right in map(bends, one.sides())), np.zeros(1)))
