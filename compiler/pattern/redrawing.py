"""A stretch of the outline of a piece drawn anew."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace

import numpy as np

from ..geometry.lanes import agree
from ..geometry.length import cut_at, length, nearest
from ..geometry.path import Path, chain, reverse
from ..geometry.tolerances import COINCIDE
from .edges import OFF, edge_path
from .piece import Piece, Reals, Side, Trouble
from .ring import RingPart, edge_run, end_of, rebuilt, start_of, with_ends

NewSide = tuple[str, Path | None]


@dataclass(frozen=True)
class _Stretch:
    """What is drawn anew: the edges before and behind it on the ring, and whether it is named against the ring's way."""

    before: str
    behind: str
    backward: bool | None


def _stretch(piece: Piece, replaced: Sequence[str], beginning_at: str | None) -> _Stretch:
    """The stretch of the outline that edges take, which follow each other, with the darts among them. It is named against the
    ring's way where the edges are, or where it begins at the edge behind it; None where neither tells."""
    count = len(piece.ring)
    legs = {i for i, side in enumerate(piece.ring) for dart in piece.darts if {dart.first, dart.second} & set(side.names)}
    inside = {i for name in replaced for i in edge_run(piece, name)}
    firsts = [i for i in sorted(inside) if _beside(i, -1, legs, count) not in inside]
    lasts = [i for i in sorted(inside) if _beside(i, 1, legs, count) not in inside]
    if len(firsts) != 1 or len(lasts) != 1:
        listed = " and ".join(f"`{name}`" for name in replaced)
        what = f"{listed} do not follow each other" if len(replaced) > 1 else f"{listed} is all of the outline"
        raise Trouble(what, "name the edges that are replaced, one after the other round the piece")
    before, behind = (piece.ring[_beside(i, step, legs, count)].edge for i, step in ((firsts[0], -1), (lasts[0], 1)))
    if beginning_at is not None:
        if beginning_at not in (before, behind):
            fix = f"name the edge before or behind what is replaced: `{before}` or `{behind}`"
            raise Trouble(f"the new edges cannot begin at `{beginning_at}`", fix)
        return _Stretch(before, behind, beginning_at != before)
    starts = [(edge_run(piece, name)[0] - firsts[0]) % count for name in (replaced[0], replaced[-1])]
    return _Stretch(before, behind, None if len(replaced) == 1 else starts[1] < starts[0])


def _beside(i: int, step: int, legs: set[int], count: int) -> int:
    """The side next to one on the ring, legs of darts passed over."""
    at = (i + step) % count
    while at in legs and at != i:
        at = (at + step) % count
    return at


def redraw(piece: Piece, replaced: Sequence[str], new: Sequence[NewSide], beginning_at: str | None = None) -> Piece:
    """The piece with a stretch of its outline drawn anew.

    `new` sides (name, path) follow each other, from where the first of several `replaced` edges begins, or from the edge
    `beginning_at`; one alone may run either way. The edges on both sides are cut short where the new line meets them. Trouble
    with lanes where it does not (by 0.1 mm).
    """
    where = _stretch(piece, replaced, beginning_at)
    if where.backward is None and len(new) > 1:
        fix = f"add `beginning_at {where.before}` or `beginning_at {where.behind}`, the edge that the first of them meets"
        raise Trouble("at which end the new edges begin is not said", fix)
    if where.backward or (where.backward is None and _runs_back(piece, where.before, new)):
        new = [(name, path if path is None else reverse(path)) for name, path in reversed(new)]
    sides = [Side((n,), p) for n, p in new]
    before = _trimmed(piece, where.before, start_of(sides[0]), keep_start=True)
    after = _trimmed(piece, where.behind, end_of(sides[-1]), keep_start=False)
    sides[0] = with_ends(sides[0], start=None if before[1] is None else end_of(before[1].side))
    sides[-1] = with_ends(sides[-1], end=None if after[1] is None else start_of(after[1].side))
    ring = [_kept(piece, i, before, after) for i in _between(after[0], before[0], len(piece.ring))]
    runs = [*(RingPart(side) for side in sides), *ring]
    alive = {n for run in runs for n in run.side.names}
    why = f"the outline from `{where.before}` to `{where.behind}` was drawn anew"
    removed = [dart for dart in piece.darts if dart.first not in alive or dart.second not in alive]
    parts = {leg for dart in removed for leg in (dart.name, *dart.leg_names)}
    runs = [run for run in runs if not parts.intersection(run.side.names)]
    lost = {n: why for n in (*piece.edge_names(), *(dart.name for dart in removed)) if n not in alive}
    return rebuilt(piece, runs, lost=lost, darts=tuple(dart for dart in piece.darts if dart not in removed))


def _runs_back(piece: Piece, first: str, new: Sequence[NewSide]) -> bool:
    """Whether the new stretch ends, rather than starts, on the edge it is to start on. All lanes must agree."""
    start, end = new[0][1], new[-1][1]
    if start is None or end is None:
        return False
    whole = chain(edge_path(piece, first))
    return bool(agree((nearest(whole, end.end)[1] < nearest(whole, start.start)[1]).astype(np.int64)))


def _kept(piece: Piece, i: int, before: tuple[int, RingPart | None], after: tuple[int, RingPart | None]) -> RingPart:
    for number, run in (before, after):
        if i == number and run is not None:
            return run
    return RingPart(piece.ring[i], i)


def _between(start: int, stop: int, count: int) -> list[int]:
    """Ring numbers from start to stop, both included, in travelling order."""
    return [(start + k) % count for k in range((stop - start) % count + 1)]


def _trimmed(piece: Piece, name: str, point: Reals | None, *, keep_start: bool) -> tuple[int, RingPart | None]:
    """The last side of an edge that stays when it is cut at a point, and what stays of it (None: all of it)."""
    numbers = edge_run(piece, name)
    whole = numbers[-1] if keep_start else numbers[0]
    if point is None or piece.is_sketch:
        return whole, None
    found = [nearest(piece.ring[i].drawn, point) for i in numbers]
    away = np.stack(np.broadcast_arrays(*(gap for _, gap in found)), axis=1)
    off = away.min(axis=1) > OFF
    if off.any():
        raise Trouble(
            f"the new line does not meet `{name}`", f"let it end on `{name}`", off, {"apart": away.min(axis=1)}
        )
    # At a joint between two sides both are nearest: the rounded distance lets every lane take the earlier.
    k = agree(np.argmin(np.round(away, 6), axis=1))
    i, at = numbers[k], found[k][0]
    side = piece.ring[i]
    where = agree(np.where(at <= COINCIDE, 0, np.where(at >= length(side.drawn) - COINCIDE, 2, 1)))
    if where == 1:
        pieces = cut_at(side.drawn, at)
        kept = replace(side, path=pieces[0 if keep_start else 1])
        return i, RingPart(kept, i, np.zeros(1) if keep_start else at)
    return _at_corner(piece, i, at_start=where == 0, keep_start=keep_start), None


def _at_corner(piece: Piece, i: int, *, at_start: bool, keep_start: bool) -> int:
    """The last side that stays when the new line meets a side at its corner."""
    if keep_start:
        return (i - 1) % len(piece.ring) if at_start else i
    return i if at_start else (i + 1) % len(piece.ring)
