"""Drawn lines met with the outline of a piece."""

from __future__ import annotations

import numpy as np

from ..geometry.crossing import paths
from ..geometry.lanes import agree, norm
from ..geometry.length import length, nearest
from ..geometry.path import Path, reverse
from .edges import OFF
from .piece import Piece, Reals, Trouble
from .ring import RingPlace, edge_run


def met_on(piece: Piece, drawn: Path, edge: str, what: str, *, last: bool = False) -> tuple[RingPlace, Reals]:
    """Where a drawn line meets an edge first (or last) along the edge, and how far along the line (L,).

    Its end may lie 0.1 mm off the edge. Trouble with lanes, that speaks of the line as `what`, where it does not meet.
    """
    numbers = edge_run(piece, edge)[:: -1 if last else 1]
    at, on_line, met, gaps = [], [], [], []
    for i in numbers:
        side = piece.ring[i].drawn
        s, along, _, ok = paths(reverse(side) if last else side, drawn)
        s = length(side) - s if last else s
        end_s, end_along, gap = _nearest_end(drawn, side)
        at.append(np.where(ok, s, end_s))
        on_line.append(np.where(ok, along, end_along))
        met.append(ok | (gap <= OFF))
        gaps.append(np.where(ok, 0.0, gap))
    table = np.stack(np.broadcast_arrays(*met), axis=1)
    missed = ~np.atleast_1d(table.any(axis=1))
    if missed.any():
        gap = np.stack(np.broadcast_arrays(*gaps), axis=1).min(axis=1)
        fix = f"draw it on to `{edge}`, or name the edge it ends on"
        raise Trouble(f"{what} does not meet `{edge}`", fix, missed, {"apart": gap})
    k = agree(np.argmax(table, axis=1))
    return RingPlace(numbers[k], at[k]), on_line[k]


def _nearest_end(drawn: Path, side: Path) -> tuple[Reals, Reals, Reals]:
    """Of the two ends of a line the one nearer to a side: where on the side, where on the line, how far apart (L,)."""
    (s, gap), (s_end, gap_end) = nearest(side, drawn.start), nearest(side, drawn.end)
    at_end = gap_end < gap
    return np.where(at_end, s_end, s), np.where(at_end, length(drawn), 0.0), np.minimum(gap, gap_end)


def from_apex(drawn: Path, apex: Reals, name: str, what: str) -> Path:
    """The line, turned to start at the apex (L, 2) of a dart. Trouble with lanes where neither end lies there (by 0.1 mm)."""
    gaps = norm(drawn.start - apex), norm(drawn.end - apex)
    gap = np.minimum(*gaps)
    if (gap > OFF).any():
        message = f"{what} does not start at the apex of `{name}`"
        raise Trouble(message, "draw it from there", gap > OFF, {"apart": gap})
    return reverse(drawn) if agree((gaps[1] < gaps[0]).astype(np.int64)) else drawn
