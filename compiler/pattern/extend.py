"""An edge made longer or shorter straight on at one end, the edge beside it drawn to the new end."""

from __future__ import annotations

import numpy as np

from ..geometry.lanes import agree
from ..geometry.length import cut_at, length
from ..geometry.path import Path, chain, end_direction, line, reverse
from ..geometry.tolerances import COINCIDE
from .edges import edge_from
from .piece import Piece, Reals, Trouble
from .ring import edge_run, end_of, rebuilt, replace_side, runs_of, start_of, with_ends


def extended(piece: Piece, edge: str, mark: str, by: Reals | None) -> Piece:
    """The piece with `edge` longer by `by` (L,) mm (shorter where negative) at the end that `mark` touches.

    Trouble with lanes where less than nothing would be left. Raises Disagreement when curves of some lanes grow and of others
    shrink.
    """
    end = edge_from(piece, edge, mark)
    numbers, count = edge_run(piece, edge), len(piece.ring)
    here = numbers[0] if end == "start" else numbers[-1]
    beside = (here - 1) % count if end == "start" else (here + 1) % count
    if by is None or piece.is_sketch:
        return piece
    path = piece.ring[here].drawn
    grown = _grown(path if end == "end" else reverse(path), by, edge)
    runs = runs_of(piece)
    runs[here] = replace_side(runs[here], grown if end == "end" else reverse(grown))
    tip = end_of(runs[here].side) if end == "end" else start_of(runs[here].side)
    neighbour = with_ends(runs[beside].side, end=tip) if end == "start" else with_ends(runs[beside].side, start=tip)
    runs[beside] = replace_side(runs[beside], neighbour.drawn)
    return rebuilt(piece, runs)


def _grown(path: Path, by: Reals, edge: str) -> Path:
    """The path longer or shorter at its end."""
    if path.straight == (True,):
        _must_leave_some(path, by, edge)
        return line(path.start, path.end + by[:, None] * end_direction(path))
    sense = agree(np.where(np.abs(by) <= COINCIDE, 0, np.sign(by)).astype(np.int64))
    if sense == 0:
        return path
    if sense > 0:
        tip = path.end + by[:, None] * end_direction(path)
        return chain([path, line(np.broadcast_to(path.end, tip.shape), tip)])
    return cut_at(path, _must_leave_some(path, by, edge))[0]


def _must_leave_some(path: Path, by: Reals, edge: str) -> Reals:
    """What is left (L,) mm of a path that gets longer by `by`; Trouble where it is nothing."""
    total = length(path)
    left = total + by
    short = left <= COINCIDE
    if short.any():
        raise Trouble(
            f"`{edge}` is shorter than what is to be taken off", "take less off", short, {edge: total, "asked": -by}
        )
    return left
