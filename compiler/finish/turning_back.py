"""Where an edge turns back on itself: it bends one way and at once back, as a hem that was squared off over too short a stretch
hooks at the side. No S that a cutter draws, of a sleeve head or a side over the hip, is so short."""

from __future__ import annotations

from collections.abc import Iterator

import numpy as np

from ..geometry.lanes import FloatArray
from ..geometry.path import CHORDS, Path, flatten_fixed
from ..pattern.piece import Piece, Reals

WITHIN = 15.0
"""How long (mm) each of the two bends is at most (ours: a hook is no wider than a thumb)."""

DOUBLED = 45.0
"""Two bends of so many degrees each double an edge back wherever they are; less may be meant, as where a princess seam passes the
bust (ours)."""

HOOKED = 10.0
"""At an end the greater of two bends has this many degrees, twice what an edge may break by over a seam (ours)."""

BACK = 4.0
"""The lesser of these has this many: an edge that is turned square about its end first bends a third as much the other way (ours;
at the ends of edges of the bundled styles, where the lesser has as much the greater has at most 6)."""

AT_END = 25.0
"""So near its end (mm) an edge was turned about that."""

STEP = 1.0
"""The direction of an edge is looked at so often (mm)."""



def hooks(piece: Piece) -> Iterator[tuple[str, Reals]]:
    """The edges of a piece that turn back, with the greater of the two bends (L,) in degrees: 0 where there are none. Legs, folds
    and what pleats fold away are left out, and pieces that lie inside, whose inner edge nobody sees."""
    legs = piece.dart_sides()
    for i, side in enumerate(() if piece.inside else piece.ring):
        if i in legs or piece.fold in side.names or all(side.drawn.straight):
            continue
        beside = (piece.ring[(i + step) % len(piece.ring)] for step in (-1, 1))
        turned = turned_back(side.drawn, *(set(side.names).isdisjoint(one.names) for one in beside))
        if turned.any():
            yield side.names[-1], turned


def turned_back(path: Path, starts: bool = True, stops: bool = True) -> Reals:
    """By how many degrees (L,) a path bends within WITHIN mm before or behind a place at which it turns back, at the worst of
    these; 0 where it does not turn back. Whether an edge starts and stops with it, or runs on."""
    points = flatten_fixed(path, CHORDS)
    ways = np.diff(points, axis=1)
    angles = np.degrees(np.unwrap(np.arctan2(ways[..., 1], ways[..., 0]), axis=1))
    bends = np.diff(angles, axis=1)
    both = np.minimum(np.maximum(bends, 0.0).sum(axis=1), np.maximum(-bends, 0.0).sum(axis=1))
    sizes = np.hypot(ways[..., 0], ways[..., 1])
    bent = np.flatnonzero(both >= BACK)
    worst = np.zeros(both.size)
    if bent.size:
        worst[bent] = _worst(angles[bent], sizes[bent], starts, stops)
    return worst


def _worst(angles: FloatArray, sizes: FloatArray, starts: bool, stops: bool) -> Reals:
    """The greater bend (L,) at the worst place of an edge: directions (L, n) of its chords and their lengths (L, n)."""
    ends = np.cumsum(sizes, axis=1)
    long = ends[:, -1:]
    along = np.arange(0.0, long.max(), STEP)
    at = np.full((long.size, along.size), np.nan)  # nothing beyond the end of an edge shorter than others
    for lane, (middles, ways) in enumerate(zip(ends - sizes / 2.0, angles, strict=True)):
        here = int(np.searchsorted(along, long[lane, 0]))
        at[lane, :here] = np.interp(along[:here], middles, ways)
    at_end = (starts & (along <= AT_END)) | (stops & (along >= long - AT_END))
    worst = np.zeros(long.size)
    for sense in (1.0, -1.0):
        before, after = np.zeros(at.shape), np.zeros(at.shape)
        for k in range(1, min(int(WITHIN / STEP), along.size - 1) + 1):
            risen = sense * (at[:, k:] - at[:, :-k])
            np.fmax(before[:, k:], risen, out=before[:, k:])
            np.fmax(after[:, :-k], -risen, out=after[:, :-k])
        less, more = np.minimum(before, after), np.maximum(before, after)
        turns = (less >= DOUBLED) | ((less >= BACK) & (more >= HOOKED) & at_end)
        worst = np.maximum(worst, np.where(turns, more, 0.0).max(axis=1))
    return worst
