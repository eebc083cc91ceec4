"""How far two lines lie from each other: the Hausdorff distance, where it is, and which way.

Both lines are sampled each few millimetres; the distance of every sample of one from the chords of the other tells where the
most may be, and there it is searched for on the cubics themselves, until no step is left that could hide 0.002 mm.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
import shapely

from ..geometry import cubic
from ..geometry.lanes import BoolArray, FloatArray, IntArray
from ..geometry.length import polish_nearest
from ..geometry.path import Path
from ..geometry.tolerances import COINCIDE, SEW
from .sampling import STEP, Sampled, sampled

COARSE = 8.0
"""Samples of a line of straight parts, as a cut line is, lie so far (mm) apart, and at all its corners."""

EXACT = 0.002
"""The most is found to this (mm)."""

TRIED = 4
"""So many of the highest samples are searched beside."""

CELLS = 12
"""Into so many a stretch is divided that is searched; two of them are left."""

SHARES = np.linspace(0.0, 1.0, CELLS + 1)

MOST = 0.75
"""Moved by this share of the most, a place has moved along with it."""


@dataclass(frozen=True)
class Apart:
    """How far two edges lie from each other, mm: the most, where on the old one, as a point and as a place along it, and from
    there to the new one; the signed distance along the old one's normal, out of the piece, at least and at most; `moved`: the
    share of it that lies a pencil line or more off the new one, or the new one's off it, where that is more; `whole`: the share
    of both that moved by three quarters of the most; `mean`: which way the old one moved on the whole."""

    most: float
    at: tuple[float, float]
    along: float
    vector: tuple[float, float]
    way: tuple[float, float]
    normal: tuple[float, float]
    moved: float
    whole: float
    mean: tuple[float, float]


@dataclass(frozen=True, eq=False)
class _Off:
    """Points measured from a line: the foot of each, how far it is, and the chord of the line on which it lies."""

    foot: FloatArray
    far: FloatArray
    chord: IntArray


@dataclass(frozen=True)
class _Found:
    """The most one line lies off another: where on the one, its foot on the other, and the place along either of them."""

    far: float
    point: FloatArray
    foot: FloatArray
    along: float
    along_other: float


def hausdorff(old: Path, new: Path) -> float:
    """The Hausdorff distance of two lines, mm."""
    if same_line(old, new):
        return 0.0
    a, b = (sampled(one, COARSE if all(one.straight) else STEP) for one in (old, new))
    return max(found.far for found in _both_ways(a, b, _off(a.points, b), _off(b.points, a)))


def _both_ways(a: Sampled, b: Sampled, there: _Off, back: _Off) -> tuple[_Found, _Found]:
    """The most each line lies off the other; of the one that cannot be the more, since half a step adds no more than itself, the
    samples alone tell."""
    ways = ((a, b, there), (b, a, back))
    least = [float(off.far.max()) for _, _, off in ways]
    most = [far + float(np.diff(line.along).max(initial=0.0)) / 2.0 for (line, _, _), far in zip(ways, least, strict=True)]
    found = [
        _most(*way) if most[k] + EXACT >= least[1 - k] else _at_sample(*way, int(np.argmax(way[2].far)))
        for k, way in enumerate(ways)
    ]
    return found[0], found[1]


def _at_sample(a: Sampled, b: Sampled, off: _Off, k: int) -> _Found:
    """What lies off a line at a sample of another."""
    return _Found(float(off.far[k]), a.points[k], off.foot[k], float(a.along[k]), _place(b, off, k))


def same_line(old: Path, new: Path) -> bool:
    """Whether two paths are one, to what rounding leaves."""
    alike = old.straight == new.straight
    return alike and bool(np.abs(old.controls - new.controls).max() < COINCIDE)


def apart(a: Sampled, b: Sampled) -> Apart:
    """How far two edges lie from each other, the old one first; cloth lies to the left of both."""
    there, back = _off(a.points, b), _off(b.points, a)
    forward, backward = _both_ways(a, b, there, back)
    most = max(forward.far, backward.far)
    if most <= EXACT or (forward.far >= backward.far - EXACT and _is_nearer_middle(forward, backward, a, b)):
        at, to, along = forward.point, forward.foot, forward.along
    else:
        at, to, along = backward.foot, backward.point, backward.along_other
    off = np.concatenate(
        [_beside(there.foot - a.points, a.ways), _beside(b.points - back.foot, a.chords.ways[back.chord])]
    )
    moved = [share(one, off.far >= SEW) for one, off in ((a, there), (b, back))]
    whole = [share(one, off.far >= MOST * most) for one, off in ((a, there), (b, back))]
    way = a.ways[int(np.argmin(np.abs(a.along - along)))]
    return Apart(
        most, (float(at[0]), float(at[1])), along, (float(to[0] - at[0]), float(to[1] - at[1])), (float(way[0]), float(way[1])),
        (float(off.min()), float(off.max())), max(moved), min(whole),
        _mean(a, there),
    )  # fmt: skip


def _mean(line: Sampled, off: _Off) -> tuple[float, float]:
    """The mean way from a line to its feet on another."""
    way = line.weight @ (off.foot - line.points) / max(float(line.weight.sum()), COINCIDE)
    return float(way[0]), float(way[1])


def _is_nearer_middle(forward: _Found, backward: _Found, a: Sampled, b: Sampled) -> bool:
    """Of two places with the same distance the one nearer to the middle of its edge is told, the old edge's where neither is:
    that is the same whichever side is the old one, but where all places are alike."""
    if forward.far > backward.far + EXACT:
        return True
    one, other = (abs(found.along / max(line.total, COINCIDE) - 0.5) for found, line in ((forward, a), (backward, b)))
    return bool(one <= other + 1e-6)


def share(line: Sampled, where: BoolArray) -> float:
    """The share of a line's length at which `where` (n,) is so of its samples."""
    total = float(line.weight.sum())
    return float(line.weight[where].sum()) / total if total > COINCIDE else float(where.any())


def off_chords(points: FloatArray, line: Sampled) -> FloatArray:
    """How far (n,) points (n, 2) lie from the chords of a line, mm."""
    return _off(points, line).far


def _off(points: FloatArray, line: Sampled) -> _Off:
    """Points (n, 2) measured from the chords of a line."""
    chords = line.chords
    if chords.span.size == 1:
        here = np.zeros(points.shape[0], dtype=np.intp)
    else:
        here = chords.tree.nearest(shapely.points(points))
    foot = _foot(points, chords.start[here], chords.end[here])
    return _Off(foot, np.hypot(*(points - foot).T), here)


def _foot(points: FloatArray, start: FloatArray, end: FloatArray) -> FloatArray:
    """The nearest points (n, 2) to points on segments, all (n, 2)."""
    way, from_start = end - start, points - start
    size = (way * way).sum(axis=1)
    u = np.clip((from_start * way).sum(axis=1) / np.where(size > 0.0, size, 1.0), 0.0, 1.0)
    return np.asarray(start + u[:, None] * way)


def _most(a: Sampled, b: Sampled, off: _Off) -> _Found:
    """The most that line `a` lies off line `b`, where `off` tells how far its samples do."""
    best = int(np.argmax(off.far))
    if b.chords.span.size == 1 and b.is_straight and a.is_straight:  # distance from a segment is convex: an end is farthest
        ties = np.flatnonzero(off.far >= off.far[best] - EXACT)
        best = int(ties[np.argmin(np.abs(a.along[ties] / max(a.total, COINCIDE) - 0.5))])
        return _at_sample(a, b, off, best)
    peaks = _peaks(a, off.far)
    before, after = np.maximum(peaks - 1, 0), np.minimum(peaks + 1, a.t.size - 1)
    low = np.where(a.span[before] == a.span[peaks], a.t[before], a.t[peaks])
    high = np.where(a.span[after] == a.span[peaks], a.t[after], a.t[peaks])
    controls = a.controls[a.span[peaks]]
    row, width = np.arange(peaks.size), 2.0 * float(np.diff(a.along).max(initial=STEP))
    while True:
        t = low[:, None] + (high - low)[:, None] * SHARES
        points = cubic.at(controls[:, None], t).reshape(-1, 2)
        found = _exactly(points, b)
        far = found.far.reshape(t.shape)
        top = np.argmax(far, axis=1)
        width = 2.0 * width / CELLS
        if width <= 4.0 * EXACT:
            break
        low, high = t[row, np.maximum(top - 1, 0)], t[row, np.minimum(top + 1, CELLS)]
    k = int(np.argmax(far.max(axis=1)))
    flat = k * (CELLS + 1) + int(top[k])
    return _Found(float(found.far[flat]), points[flat], found.foot[flat], float(a.along[peaks[k]]), _place(b, found, flat))


def _peaks(a: Sampled, far: FloatArray) -> IntArray:
    """The samples beside which the most may lie: peaks no lower than the highest by what a step can hide; of equals those
    nearest to the middle."""
    step = float(np.max(np.diff(a.along), initial=0.0))
    padded = np.concatenate([[-np.inf], far, [-np.inf]])
    peak = (far >= padded[:-2]) & (far >= padded[2:]) & (far >= far.max() - step / 2.0 - EXACT)
    found = np.flatnonzero(peak)
    beside = np.abs(a.along[found] / max(a.total, COINCIDE) - 0.5)
    order = np.lexsort((beside, -np.round(far[found] / EXACT)))
    return found[order[:TRIED]]


def _exactly(points: FloatArray, line: Sampled) -> _Off:
    """Points (n, 2) measured from a line itself."""
    off = _off(points, line)
    if line.is_straight:
        return off
    chords, here = line.chords, off.chord
    low, high, start, end = chords.low[here], chords.high[here], chords.start[here], chords.end[here]
    long = np.maximum(np.hypot(*(end - start).T), COINCIDE)
    t = low + (high - low) * np.hypot(*(off.foot - start).T) / long
    more = (high - low) / 2.0
    c = line.controls[chords.span[here]]
    t = polish_nearest(c, points, t, np.maximum(low - more, 0.0), np.minimum(high + more, 1.0), 4)
    foot = cubic.at(c, t)
    return _Off(foot, np.hypot(*(foot - points).T), here)


def _place(line: Sampled, off: _Off, k: int) -> float:
    """How far along a line the foot of a point is."""
    chord = int(off.chord[k])
    return float(line.chords.along[chord] + np.hypot(*(off.foot[k] - line.chords.start[chord])))


def _beside(vectors: FloatArray, ways: FloatArray) -> FloatArray:
    """How far (n,) vectors reach to the right of unit directions, out of the piece."""
    return np.asarray(vectors[:, 0] * ways[:, 1] - vectors[:, 1] * ways[:, 0])


def moved_runs(old: Sampled, new: Sampled, least: float = SEW) -> list[FloatArray]:
    """The stretches (n, 2) of the new line that lie `least` mm or more off the old one."""
    far = _off(new.points, old).far >= least
    runs: list[FloatArray] = []
    start: int | None = None
    for k in range(far.size):
        if far[k] and start is None:
            start = k
        if start is not None and (k == far.size - 1 or not far[k] or not new.follows[k]):
            stop = k if far[k] else k - 1
            if stop > start:
                runs.append(new.points[start : stop + 1])
            start = None
    return runs
