"""Inner lines of a piece where it is cut: parted by cuts, left out of a part of the piece that does not have them.

A line that is drawn for scissors or pins differs from body to body as the cuts do, and parts them into groups. Levels are many
and drawn lightly, and every cut crosses some of them somewhere else on each body: they are parted in all lanes alike, on a
body where a cut does not cross them somewhere that changes nothing, so that bodies stay together.
"""

from __future__ import annotations

import itertools
from collections.abc import Sequence
from dataclasses import replace

import numpy as np
from numpy.typing import NDArray

from ..geometry import cubic
from ..geometry.crossing import paths, straights
from ..geometry.lanes import agree, norm
from ..geometry.length import length, nearest, parts, point_at
from ..geometry.path import Path, line
from ..geometry.tolerances import COINCIDE
from .piece import Piece, Reals, Side

Mask = NDArray[np.bool_]
Place = tuple[Reals, Mask]

APART = 1e-3
"""How far (mm) two places of a level lie apart at least: a thousandth of what is drawn."""

BEYOND = 0.05
"""How far (mm) a cut is drawn out to part a level: where a dart takes a thousandth of that it is nearly shut."""

GONE = 0.05
"""How long (mm) a part of a level is left on a body whose piece does not have it: less than is measured or drawn."""


def parted(piece: Piece, side: Side, cuts: Sequence[Sequence[Reals]]) -> list[Side]:
    """An inner line in parts, split where cuts (points (L, 2) in order) cross it; a cut of no length is a point on it.

    Raises Disagreement when lanes are crossed differently, but for a level.
    """
    pairs = [pair for cut in cuts for pair in itertools.pairwise(cut)]
    if piece.has_sign(side, "level"):  # one that runs by the apex of a dart, where that takes nothing, is parted there too
        pairs = [_longer(a, b) for a, b in pairs]
    return _split(piece, side, _met_by_all(side.drawn, pairs))


def _longer(a: Reals, b: Reals) -> tuple[Reals, Reals]:
    """The ends (L, 2) of a cut a little farther out; of one without length its point."""
    way = b - a
    long = norm(way)[:, None]
    onward = np.where(long > COINCIDE, BEYOND * way / np.where(long > COINCIDE, long, 1.0), 0.0)
    return a - onward, b + onward


def parted_by(piece: Piece, side: Side, lines: Sequence[Path]) -> list[Side]:
    """The same, split where it crosses lines."""
    met = (paths(side.drawn, drawn) for drawn in lines)
    return _split(piece, side, [(s, ok) for s, _, _, ok in met])


def _met_by_all(path: Path, pairs: Sequence[tuple[Reals, Reals]]) -> list[Place]:
    """How far (L,) along a path each straight meets it, and whether it does; all at once where the path is straight too."""
    if path.straight != (True,) or not pairs or any(bool((norm(b - a) <= COINCIDE).all()) for a, b in pairs):
        return [_met(path, a, b) for a, b in pairs]
    ends = np.stack(np.broadcast_arrays(*(point for pair in pairs for point in pair)))
    s, _, _, ok = straights(path.start, path.end - path.start, ends[::2], ends[1::2] - ends[::2])
    return list(zip(s, ok, strict=True))


def _met(path: Path, a: Reals, b: Reals) -> Place:
    """How far (L,) along a path the straight from a to b (L, 2) meets it, and whether it does."""
    if bool((norm(b - a) > COINCIDE).any()):
        s, _, _, ok = paths(path, line(a, b))
        return s, ok
    s, away = nearest(path, a)
    return s, away < COINCIDE


def _split(piece: Piece, side: Side, met: Sequence[Place]) -> list[Side]:
    total = length(side.drawn)
    inside = [(s, ok & (s > COINCIDE) & (s < total - COINCIDE)) for s, ok in met]
    if piece.has_sign(side, "level"):
        places = _in_all_lanes([one for one in inside if one[1].any()], total)
    else:
        places = _in_order([s for s, ok in inside if agree(ok.astype(np.int64))])
    return [replace(side, path=path) for path in parts(side.drawn, [np.zeros(1), *places, total])] if places else [side]


def _in_order(places: Sequence[Reals]) -> list[Reals]:
    """Places (L,) in rising order, those that are one but once. Raises Disagreement."""
    if not places:
        return []
    table = np.sort(np.stack(np.broadcast_arrays(*places), axis=1), axis=1)
    kept = [table[:, 0]]
    for k in range(1, table.shape[1]):
        if not agree((table[:, k] - kept[-1] < COINCIDE).astype(np.int64)):
            kept.append(table[:, k])
    return kept


def _in_all_lanes(places: Sequence[Place], total: Reals) -> list[Reals]:
    """Places (L,) in rising order, each in every lane: where there is none, at a share of the length of its own."""
    kept: list[Place] = []
    for one in places:
        if not any(_is_one(one, other) for other in kept):
            kept.append(one)
    if not kept:
        return []
    count = len(kept)
    found = [np.where(ok, s, total * ((k + 1) / (count + 1))) for k, (s, ok) in enumerate(kept)]
    table = np.sort(np.stack(np.broadcast_arrays(*found), axis=1), axis=1)
    step = np.minimum(APART, np.broadcast_to(total, table.shape[:1]) / (4 * (count + 1)))
    for k in range(count):
        table[:, k] = np.maximum(table[:, k], step if k == 0 else table[:, k - 1] + step)
    for k in reversed(range(count)):
        table[:, k] = np.minimum(table[:, k], (total if k == count - 1 else table[:, k + 1]) - step)
    return [table[:, k] for k in range(count)]


def _is_one(one: Place, other: Place) -> bool:
    """Whether two places are one in every lane, as where two cuts meet on the line."""
    same = np.abs(np.where(one[1], one[0], 0.0) - np.where(other[1], other[0], 0.0)) < COINCIDE
    return bool((same & (one[1] == other[1])).all())


def left_out(side: Side, there: Mask) -> Side | None:
    """A part of a level that lies on a part of the piece on the bodies `there` (L,); None where it does on none. On the others
    it shrinks to nothing worth measuring."""
    if not there.any():
        return None
    if there.all():
        return side
    path = side.drawn
    middle = point_at(path, length(path) / 2.0)
    steps = GONE / path.spans * np.arange(path.spans + 1)
    points = middle[:, None] + np.stack([steps, np.zeros_like(steps)], axis=-1)
    tiny = cubic.straight(points[:, :-1], points[:, 1:])
    return replace(side, path=Path(np.where(there[:, None, None, None], path.controls, tiny), path.straight))
