"""An edge drawn level through one of its corners; the edge at its other end is drawn on, or cut, to meet it."""

from __future__ import annotations

import numpy as np

from ..geometry.lanes import agree
from ..geometry.meet import line_path
from ..geometry.path import CHORDS, Path, chain, flatten_fixed, reverse, start_direction
from .edges import edge_from, edge_path
from .extend import extended
from .piece import Piece, Reals, Trouble
from .ring import edge_run
from .truing import straightened

LEVEL = np.array([[1.0, 0.0]])

STEEP = 0.05
"""The least an edge may rise (mm to the mm) to be drawn on to a level: flatter, it would run far out for little."""


def levelled(piece: Piece, edge: str, mark: str) -> tuple[Piece, Reals]:
    """The piece with an edge drawn level on the paper through its corner at `mark`, and how far (L,) mm it moved at most.

    Trouble where the edge at its other end does not lead to that level. Raises Disagreement when it is drawn on in some lanes
    and cut in others.
    """
    end = edge_from(piece, edge, mark)
    numbers, count = edge_run(piece, edge), len(piece.ring)
    far = numbers[-1] + 1 if end == "start" else numbers[0] - 1
    beside = piece.ring[far % count].edge
    if piece.is_sketch:
        edge_from(piece, beside, edge)
        return straightened(extended(piece, beside, edge, None), edge)
    old = chain(edge_path(piece, edge))
    level = (old.start if end == "start" else old.end)[:, 1]
    run = piece.ring[far % count].drawn
    by = _as_far_as(run if end == "start" else reverse(run), level, beside)
    made, _ = straightened(extended(piece, beside, edge, by), edge)
    return made, np.abs(flatten_fixed(old, CHORDS)[..., 1] - level[:, None]).max(axis=1)


def _as_far_as(run: Path, level: Reals, name: str) -> Reals:
    """By how much (L,) mm longer an edge is that ends on a level, shorter below nothing; `run` begins where that is changed."""
    on_level = np.stack(np.broadcast_arrays(np.zeros(1), level), axis=1)
    along, _, meets = line_path(on_level, LEVEL, run)
    if agree(meets.astype(np.int64)):
        return -along
    out = -start_direction(run)
    above = level - run.start[:, 1]
    off = above * out[:, 1] <= STEEP * np.abs(above)
    if off.any():
        figures = {"above the corner": above}
        raise Trouble(f"`{name}` does not lead to that level", "draw it anew, or name the other corner", off, figures)
    return above / out[:, 1]
