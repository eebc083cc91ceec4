"""Widths of pieces along a line, measured on flattened outlines: a route of its own, which no verb of the language takes."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np
from godet.geometry.lanes import spread
from godet.pattern.piece import Piece, Reals, Side

STEPS = 48  # chords to a span: on an armhole they lie within 0.01 mm of it
KEPT = 4  # pieces whose corners are kept: a table asks for many widths of front and back

_corners: list[tuple[Piece, int, list[Reals]]] = []


def corners(piece: Piece, lanes: int) -> list[Reals]:
    """The outline and each inner ring as points (L, n, 2) in order, the last joined to the first again."""
    for kept, count, known in _corners:
        if kept is piece and count == lanes:
            return known
    found = [_flattened(ring, lanes) for ring in (piece.ring, *(hole.sides for hole in piece.holes))]
    _corners.append((piece, lanes, found))
    del _corners[:-KEPT]
    return found


def _flattened(ring: Sequence[Side], lanes: int) -> Reals:
    t = np.arange(STEPS) / STEPS
    weights = np.stack([(1 - t) ** 3, 3 * t * (1 - t) ** 2, 3 * t**2 * (1 - t), t**3])
    controls = np.concatenate([spread(side.drawn.controls, lanes) for side in ring], axis=1)
    points = sum(controls[:, :, None, k] * weights[k, :, None] for k in range(4))
    return np.asarray(points).reshape(lanes, -1, 2)


def width_along(piece: Piece, lanes: int, point: Reals, to: Reals) -> Reals:
    """Cloth (L,) mm that the line through two points (L, 2) has in a piece, from edge to edge, without its darts."""
    point, to = np.broadcast_to(point, (lanes, 2)), np.broadcast_to(to, (lanes, 2))
    way = (to - point) / np.linalg.norm(to - point, axis=-1, keepdims=True)
    across = np.stack([-way[:, 1], way[:, 0]], axis=-1)
    places = []
    for ring in corners(piece, lanes):
        away, along = (sum((ring[..., k] - point[:, None, k]) * one[:, None, k] for k in (0, 1)) for one in (across, way))
        away_next, along_next = np.roll(away, -1, axis=1), np.roll(along, -1, axis=1)
        crossed = (away >= 0) != (away_next >= 0)
        share = np.where(crossed, away / np.where(crossed, away - away_next, 1.0), 0.0)
        places.append(np.where(crossed, along + share * (along_next - along), np.nan))
    row = np.sort(np.concatenate(places, axis=1), axis=1)  # nothing sorts behind all numbers
    pairs = row[:, : 2 * (row.shape[1] // 2)].reshape(lanes, -1, 2)
    return np.asarray(np.nansum(pairs[..., 1] - pairs[..., 0], axis=1))


def width_at(piece: Piece, lanes: int, level: Reals) -> Reals:
    """Width (L,) mm of a piece on a level line, without its darts."""
    level = np.broadcast_to(level, (lanes,))
    return width_along(piece, lanes, np.stack([0 * level, level], -1), np.stack([0 * level + 1, level], -1))
