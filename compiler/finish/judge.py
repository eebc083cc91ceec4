"""Whether a finished piece can be cut as it is drawn: the one outline that the shears follow is the one that is judged.

The cut line must be a simple ring, hold all of the sewing line, lie off it by the allowance along every edge, and leave its fold
whole. Where it is made of its sides and corners, which is looked at first, that shows on these; where it is the outline of cloth
and allowances laid together, its sides are no more to be told apart, and the shapes are compared. A fold that is bent is told by
itself (`bend_of_fold`), and of such a piece nothing else.
"""

from __future__ import annotations

from collections.abc import Iterator

import numpy as np
import shapely

from ..geometry.lanes import BoolArray, FloatArray, cross, join, norm, unit
from ..geometry.path import CUT_CHORDS, chain, end_direction, flatten_fixed, start_direction
from ..geometry.tolerances import SEW
from ..geometry.valid import simple
from ..pattern.check import Fault
from ..pattern.edges import edge_path
from ..pattern.flat import flat_ring, flat_sides
from ..pattern.truing import off_chord
from .finished import FinishedPiece

ENDS = 2.0
"""Nearer to the ends of a side than so many of the widest allowances a corner may rightly cut it back."""


BENT = 1.0
"""An edge bent by this many mm is not laid on a fold: a line is cut no truer."""


def faults(cloth: FinishedPiece) -> list[Fault]:
    """What is wrong with a cut line: words, and the lanes (L,) concerned. Empty where it can be cut."""
    lanes, fold, judged = cloth.cut.shape[0], cloth.piece.fold, bend_of_fold(cloth) <= BENT
    found: list[Fault] = [("its cut line crosses itself", ~simple(cloth.cut))]
    found.append(("its cut line does not follow its edges", ~_of_its_sides(cloth)))
    found += _into_the_cloth(cloth)
    found += [(f"its cut line leaves less than the allowance of `{edge}`", where) for edge, where in _too_near(cloth)]
    if fold is not None:
        found.append((f"its cut line runs over the fold `{fold}`", _over_the_fold(cloth, fold)))
    whole: dict[str, BoolArray] = {}
    for words, where in found:  # an edge may be of several sides
        whole[words] = whole.get(words, np.zeros(lanes, dtype=bool)) | (where & judged)
    return [(words, where) for words, where in whole.items() if where.any()]


def _of_its_sides(cloth: FinishedPiece) -> BoolArray:
    """Whether (L,) the cut line is its sides and corners one after the other; of one that is laid together that is not asked."""
    parts = [part for pair in zip(cloth.sides, cloth.closing, strict=True) for part in pair if part is not None]
    ring = join(parts, 1)
    if ring.shape[1] > cloth.cut.shape[1]:
        return cloth.patched
    same: BoolArray = (cloth.cut[:, : ring.shape[1]] == ring).all(axis=(1, 2))
    return cloth.patched | same


def _into_the_cloth(cloth: FinishedPiece) -> Iterator[Fault]:
    """Where a cut line runs inside the sewing line by more than two seam lines may lie off each other."""
    ring, kept = cloth.piece.ring, [i for i, along in enumerate(cloth.sides) if along is not None]
    for i, follower in zip(kept, [*kept[1:], *kept[:1]], strict=True):
        points = cloth.closing[i]
        if points is None or follower != (i + 1) % len(ring):
            continue  # the cap of a dart lies over the dart, and a side without length has no corner of its own
        one, other = ring[i].drawn, ring[follower].drawn
        arriving, leaving = end_direction(one), start_direction(other)
        inner = [cross(way[:, None], points - one.end[:, None]) > SEW for way in (arriving, leaving)]
        hollow = cross(arriving, leaving)[:, None] < 0.0
        inside = np.where(hollow, inner[0] | inner[1], inner[0] & inner[1]).any(axis=1)
        yield f"its cut line runs into the cloth between `{ring[i].edge}` and `{ring[follower].edge}`", inside & ~cloth.patched
    if cloth.patched.any():
        yield "its cut line runs into the cloth, inside the sewing line", _lost(cloth)


def _lost(cloth: FinishedPiece) -> BoolArray:
    """The lanes (L,), of those patched, on which some of the piece lies beyond its cut line."""
    lanes = np.flatnonzero(cloth.patched & np.isfinite(cloth.cut).all(axis=(1, 2)))
    lost = np.zeros(cloth.patched.size, dtype=bool)
    sewn = np.broadcast_to(flat_ring(list(flat_sides(cloth.piece).values())), lost.shape)[lanes]
    rest = shapely.difference(shapely.make_valid(sewn), shapely.make_valid(shapely.polygons(cloth.cut[lanes])))
    lost[lanes] = ~shapely.is_empty(shapely.buffer(rest, -SEW / 2.0))
    return lost


def _too_near(cloth: FinishedPiece) -> Iterator[tuple[str, BoolArray]]:
    """Edges along which the cut line comes nearer to the sewing line than their allowance, on the lanes (L,)."""
    clear = ENDS * np.stack(np.broadcast_arrays(*cloth.widths)).max(axis=0)[:, None]
    for side, along, width in zip(cloth.piece.ring, cloth.sides, cloth.widths, strict=True):
        if along is None:
            continue
        sewn = flatten_fixed(side.drawn, CUT_CHORDS)
        marks = np.cumsum(norm(np.diff(sewn, axis=1, prepend=sewn[:, :1])), axis=1)
        inner = (marks > clear) & (marks[:, -1:] - marks > clear)
        if side.drawn.straight == (True,):  # its cut line has no points but its ends, which lie on it wherever they are
            way = end_direction(side.drawn)
            off = -cross(way[:, None], along - side.drawn.start[:, None])
            yield side.edge, (off < width[:, None] - SEW).any(axis=1) & ~cloth.patched
        elif inner.any():
            yield side.edge, (inner & (norm(along - sewn) < width[:, None] - SEW)).any(axis=1) & ~cloth.patched


def bend_of_fold(cloth: FinishedPiece) -> FloatArray:
    """How far (L,) mm the fold of a piece is off a straight line; 0 where it has none."""
    fold = cloth.piece.fold
    return np.zeros(1) if fold is None else off_chord(chain(edge_path(cloth.piece, fold)))


def _over_the_fold(cloth: FinishedPiece, fold: str) -> BoolArray:
    """Whether (L,) the cut line passes over the fold, where the other half of the cloth lies."""
    path = chain(edge_path(cloth.piece, fold))
    way = unit(path.end - path.start)
    return np.asarray((cross(way[:, None], cloth.cut - path.start[:, None]) < -SEW).any(axis=1))
