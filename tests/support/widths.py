"""Widths of pieces along a line, measured on flattened outlines: a route of its own, which no verb of the language takes."""

from __future__ import annotations

import numpy as np
from godet.geometry.lanes import spread
from godet.pattern.piece import Piece, Reals

STEPS = 48  # chords to a span: on an armhole they lie within 0.01 mm of it


def corners(piece: Piece, lanes: int) -> list[Reals]:
    """The outline and each inner ring as points (L, n, 2) in order, the last joined to the first again."""
    t = np.arange(STEPS)[:, None] / STEPS
    weights = np.stack([(1 - t) ** 3, 3 * t * (1 - t) ** 2, 3 * t**2 * (1 - t), t**3], axis=-1)[:, 0]
    rings = [piece.ring, *(hole.sides for hole in piece.holes)]
    found = []
    for ring in rings:
        controls = np.concatenate([spread(side.drawn.controls, lanes) for side in ring], axis=1)
        found.append(np.einsum("tc,lkcx->lktx", weights, controls).reshape(lanes, -1, 2))
    return found


def width_along(piece: Piece, lanes: int, point: Reals, to: Reals) -> Reals:
    """Cloth (L,) mm that the line through two points (L, 2) has in a piece, from edge to edge, without its darts."""
    point, to = np.broadcast_to(point, (lanes, 2)), np.broadcast_to(to, (lanes, 2))
    way = (to - point) / np.linalg.norm(to - point, axis=-1, keepdims=True)
    across = np.stack([-way[:, 1], way[:, 0]], axis=-1)
    places = []
    for ring in corners(piece, lanes):
        away = np.einsum("lnx,lx->ln", ring - point[:, None], across)
        along = np.einsum("lnx,lx->ln", ring - point[:, None], way)
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
