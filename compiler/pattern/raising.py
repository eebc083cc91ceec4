"""An edge raised between two points: outward in its middle, fading to nothing at both."""

from __future__ import annotations

import itertools
from collections.abc import Mapping

import numpy as np

from ..geometry.lanes import agree, left_of, unit
from ..geometry.length import cut_at, direction_at, length, nearest, point_at
from ..geometry.path import Path, chain
from ..geometry.tolerances import COINCIDE
from .edges import OFF, edge_path
from .piece import Piece, Reals, Trouble
from .ring import edge_run
from .truing import with_paths

SPANS = 12
"""Curves by which the raised part of a side is drawn: a cap of 50 cm lies within 0.02 mm of what is asked."""


def raised(piece: Piece, edge: str, by: Reals, ends: tuple[Reals, Reals] | None = None) -> Piece:
    """The piece with `edge` moved outward, square to the straight between two points (L, 2) on it, by `by` (L,) mm in the middle
    of the way along it and less and less toward them; it runs on there as it did. Without points, between its ends.

    Trouble with lanes where a point does not lie on the edge, or a dart stands between them.
    """
    numbers = edge_run(piece, edge)
    if piece.is_sketch:
        return piece
    downward = by < 0.0
    if downward.any():
        raise Trouble(f"`{edge}` is not raised by less than nothing", "write a length above nothing", downward, {"asked": by})
    whole = chain(edge_path(piece, edge))
    first, last = (np.zeros(1), length(whole)) if ends is None else _between(whole, edge, ends)
    out = -left_of(unit(point_at(whole, last) - point_at(whole, first)))
    made: dict[int, Path] = {}
    passed: Reals = np.zeros(1)
    for i in numbers:
        path = piece.ring[i].drawn
        long = length(path)
        low, high = (np.clip(end - passed, 0.0, long) for end in (first, last))
        if agree((high - low > COINCIDE).astype(np.int64)):
            share = (low + passed - first) / (last - first), (high + passed - first) / (last - first)
            made[i] = _bulged(path, (low, high), share, by[:, None] * out, last - first)
        passed = passed + long
    _must_run_on(piece, edge, made)
    return with_paths(piece, made)


def _between(whole: Path, edge: str, ends: tuple[Reals, Reals]) -> tuple[Reals, Reals]:
    """How far (L,) mm along an edge two points lie, in its order."""
    found = []
    for point in ends:
        at, away = nearest(whole, point)
        off = away > OFF
        if off.any():
            raise Trouble(f"the point does not lie on `{edge}`", "name a point on it, or a place `at` it", off, {"apart": away})
        found.append(at)
    low, high = np.minimum(*found), np.maximum(*found)
    same = high - low <= COINCIDE
    if same.any():
        raise Trouble("it is raised between two points, and these are one", "name two points on it", same)
    return low, high


def _must_run_on(piece: Piece, edge: str, made: Mapping[int, Path]) -> None:
    """Trouble where the sides that are raised do not follow each other: a dart or a pleat stands between them."""
    count, here = len(piece.ring), list(made)
    if any((after - before) % count != 1 for before, after in itertools.pairwise(here)):
        fix = "raise it on one side of that, or before the dart is opened"
        raise Trouble(f"a dart or a pleat stands on `{edge}` between the two points", fix)


def _bulged(path: Path, part: tuple[Reals, Reals], share: tuple[Reals, Reals], out: Reals, over: Reals) -> Path:
    """A path moved between `part` (L,) mm along it, which are `share` (L,) of the way the whole move takes `over` mm; `out`
    (L, 2) is the move in the middle of that."""
    (low, high), long = part, length(path)
    steps = [low + (high - low) * k / SPANS for k in range(SPANS + 1)]
    shares = [share[0] + (share[1] - share[0]) * k / SPANS for k in range(SPANS + 1)]
    rises = [np.sin(np.pi * np.minimum(u, 1.0 - u))[:, None] ** 2 for u in shares]  # nothing at either end, to the last bit
    spots = [point_at(path, at) + rise * out for at, rise in zip(steps, rises, strict=True)]
    slopes = (np.pi * np.sin(2.0 * np.pi * u) / over for u in shares)
    ways = [direction_at(path, at) + slope[:, None] * out for at, slope in zip(steps, slopes, strict=True)]
    third = ((high - low) / SPANS / 3.0)[:, None]
    handles = [third * way for way in ways]
    spans = [
        np.stack(np.broadcast_arrays(a, a + leaving, b - arriving, b), axis=1)
        for (a, b), (leaving, arriving) in zip(itertools.pairwise(spots), itertools.pairwise(handles), strict=True)
    ]
    middle = Path(np.stack(np.broadcast_arrays(*spans), axis=1), (False,) * SPANS)
    before = [] if agree((low <= COINCIDE).astype(np.int64)) else [cut_at(path, low)[0]]
    after = [] if agree((high >= long - COINCIDE).astype(np.int64)) else [cut_at(path, high)[1]]
    return chain([*before, middle, *after])
