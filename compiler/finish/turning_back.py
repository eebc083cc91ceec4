"""Where an edge turns back on itself: it bends one way and at once back, as a hem that was squared off over too short a stretch
hooks at the side. No S that a cutter draws, of a sleeve head or a side over the hip, is so short."""

from __future__ import annotations

from collections.abc import Iterator

import numpy as np

from ..geometry.lanes import FloatArray
from ..geometry.path import Path, flatten_fixed
from ..pattern.piece import Piece, Reals

WITHIN = 15.0
"""How long (mm) each of the two bends is at most: half a hook as wide as a thumb (ours; on all bundled styles no edge bends by
more than 8 degrees and back in so little)."""

LEAST = 10.0
"""Bends of fewer degrees, twice what an edge may break by over a seam, are not seen in the cloth (ours)."""

STEP = 2.5
"""The direction of an edge is looked at so often (mm)."""

PER_CURVE = 32


def hooks(piece: Piece) -> Iterator[tuple[str, Reals]]:
    """The edges of a piece that turn back, with by how many degrees (L,): 0 where they do not. Legs, folds and what pleats fold
    away are left out, and pieces that lie inside, whose inner edge nobody sees."""
    legs = piece.dart_sides()
    for i, side in enumerate(() if piece.inside else piece.ring):
        if i in legs or piece.fold in side.names or all(side.drawn.straight):
            continue
        turned = turned_back(side.drawn)
        if (turned >= LEAST).any():
            yield side.names[-1], np.where(turned >= LEAST, turned, 0.0)


def turned_back(path: Path) -> Reals:
    """By how many degrees (L,) a path bends one way within WITHIN mm, and back within the next; the lesser of the two, of the
    worst place."""
    points = flatten_fixed(path, PER_CURVE)
    ways = np.diff(points, axis=1)
    angles = np.degrees(np.unwrap(np.arctan2(ways[..., 1], ways[..., 0]), axis=1))
    bends = np.diff(angles, axis=1)
    both = np.minimum(np.maximum(bends, 0.0).sum(axis=1), np.maximum(-bends, 0.0).sum(axis=1))
    sizes = np.hypot(ways[..., 0], ways[..., 1])
    found = [_worst(*one) if bent >= LEAST else 0.0 for bent, *one in zip(both, angles, sizes, strict=True)]
    return np.array(found)


def _worst(angles: FloatArray, sizes: FloatArray) -> float:
    """The lesser of the two bends at the worst place of one body's edge: directions (n,) of its chords and their lengths."""
    ends = np.cumsum(sizes)
    at = np.interp(np.arange(0.0, ends[-1], STEP), ends - sizes / 2.0, angles)
    steps = min(int(WITHIN / STEP), at.size - 1)
    worst = 0.0
    for sense in (1.0, -1.0):
        before, after = np.zeros(at.size), np.zeros(at.size)
        for k in range(1, steps + 1):
            before[k:] = np.maximum(before[k:], sense * (at[k:] - at[:-k]))
            after[:-k] = np.maximum(after[:-k], sense * (at[:-k] - at[k:]))
        worst = max(worst, float(np.minimum(before, after).max()))
    return worst
