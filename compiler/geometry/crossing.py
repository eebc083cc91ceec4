"""Where two paths cross: boxes of chords, then Newton on both parameters.

All candidate pairs of all lanes are worked as one flat list, so no lane waits for another and none depends on another.
"""

from typing import NamedTuple

import numpy as np

from . import cubic
from .lanes import BoolArray, FloatArray, IntArray, cross, lane_count, norm, pick
from .length import cubic_length, joints
from .path import Path
from .tolerances import COINCIDE, MEET, PARALLEL, SHALLOW_DEGREES

_CHORDS, _FINE_CHORDS = 16, 96
_CHUNK = 1000  # lanes at a time, to keep the arrays of pairs small
_NEWTON_STEPS = 10  # four are enough (measured) but where the curves nearly touch


class _Chords(NamedTuple):
    """The chords of a path: ends (L, n, 2), how far the curve may leave each (L, n), and the part of it each spans."""

    start: FloatArray
    stop: FloatArray
    slack: FloatArray
    span: IntArray
    first: FloatArray
    width: FloatArray


class _Meeting(NamedTuple):
    """First crossing of each lane: span + parameter on both paths (L,), whether there is one, whether any is flat or was lost."""

    a: FloatArray
    b: FloatArray
    ok: BoolArray
    uncertain: BoolArray


def paths(a: Path, b: Path) -> tuple[FloatArray, FloatArray, FloatArray, BoolArray]:
    """First crossing along path a with path b.

    Returns its arc length on a and on b (L,), the point (L, 2) and ok (L,): False, with NaN, where they do not meet.
    An end that lies on the other path counts; spans that run along each other do not. Two crossings of curves within
    one sixteenth of a span may be missed: a draft that hangs on two curves touching is ill-conditioned.
    """
    if a.straight == b.straight == (True,):
        return straights(a.start, a.end - a.start, b.start, b.end - b.start)
    lanes = lane_count(a.controls, b.controls)
    found = []
    for start in range(0, lanes, _CHUNK):
        idx = np.arange(start, min(start + _CHUNK, lanes))
        found.append(_first_meeting(a.take(idx), b.take(idx)))
    ok = np.concatenate([m.ok for m in found])
    sa, point = _place(a, np.concatenate([m.a for m in found]), ok)
    sb, _ = _place(b, np.concatenate([m.b for m in found]), ok)
    return sa, sb, point, ok


def straights(p: FloatArray, d: FloatArray, q: FloatArray, e: FloatArray) -> tuple[FloatArray, FloatArray, FloatArray, BoolArray]:
    """The same of the straight spans from p over d and from q over e (..., L, 2), in closed form."""
    area = cross(d, e)
    slanted = np.abs(area) > PARALLEL * norm(d) * norm(e)
    area = np.where(slanted, area, 1.0)
    t, u = (np.clip(cross(q - p, way) / area, 0.0, 1.0) for way in (e, d))
    here, there = p + t[..., None] * d, q + u[..., None] * e
    met = slanted & (norm(here - there) < MEET)
    nowhere = np.where(met, 0.0, np.nan)
    return t * norm(d) + nowhere, u * norm(e) + nowhere, here + nowhere[..., None], met


def _first_meeting(a: Path, b: Path) -> _Meeting:
    """The search; lanes with a flat crossing, or one that was lost, are searched again with finer chords."""
    found = _search(a, b, _CHORDS)
    again = np.flatnonzero(found.uncertain)
    if again.size:
        finer = _search(a.take(again), b.take(again), _FINE_CHORDS)
        found.a[again], found.b[again], found.ok[again] = finer.a, finer.b, finer.ok
    return found


def _chords(path: Path, count: int) -> _Chords:
    starts, stops, slacks, spans, firsts, widths = [], [], [], [], [], []
    for i, flag in enumerate(path.straight):
        n = 1 if flag else count
        points = cubic.at(path.controls[:, i, None], np.arange(n + 1)[None] / n)
        bend = 6.0 / 8.0 / (n * n) * cubic.chord_bend(path.controls[:, i])
        starts.append(points[:, :-1])
        stops.append(points[:, 1:])
        slacks.append(np.repeat(bend[:, None], n, axis=1))
        spans.append(np.full(n, i))
        firsts.append(np.arange(n) / n)
        widths.append(np.full(n, 1.0 / n))
    start, stop, slack = (np.concatenate(x, axis=1) for x in (starts, stops, slacks))
    return _Chords(start, stop, slack, np.concatenate(spans), np.concatenate(firsts), np.concatenate(widths))


def _box(c: _Chords) -> tuple[FloatArray, FloatArray]:
    margin = (c.slack + COINCIDE)[..., None]
    return np.minimum(c.start, c.stop) - margin, np.maximum(c.start, c.stop) + margin


def _candidates(a: _Chords, b: _Chords) -> tuple[IntArray, IntArray, IntArray, FloatArray, FloatArray, BoolArray]:
    """Pairs of chords that may hold a crossing: lane, span of a, span of b, a first guess of both parameters, and whether the
    chords themselves cross."""
    (low_a, high_a), (low_b, high_b) = _box(a), _box(b)
    near = np.ones((lane_count(low_a, low_b), low_a.shape[1], low_b.shape[1]), dtype=bool)
    for axis in (0, 1):  # axis by axis: a reduction over two numbers takes longer than all else here
        near &= low_a[:, :, None, axis] <= high_b[:, None, :, axis]
        near &= low_b[:, None, :, axis] <= high_a[:, :, None, axis]
    lane, i, j = np.nonzero(near)
    row_a, row_b = (lane if x.start.shape[0] > 1 else np.zeros_like(lane) for x in (a, b))
    p, q = a.start[row_a, i], b.start[row_b, j]
    d, e = a.stop[row_a, i] - p, b.stop[row_b, j] - q
    area = cross(d, e)
    steep = np.abs(area) > 0.05 * norm(d) * norm(e)  # flatter pairs are all kept, from their middles
    area = np.where(steep, area, 1.0)
    t, u = np.where(steep, cross(q - p, e) / area, 0.5), np.where(steep, cross(q - p, d) / area, 0.5)
    # A curve leaves its chord by its slack, so the crossing of the chords may lie that much beyond their ends.
    room = (a.slack[row_a, i] + b.slack[row_b, j] + COINCIDE) * 20.0
    room_t, room_u = (room / np.maximum(norm(x), COINCIDE) for x in (d, e))
    keep = (t >= -room_t) & (t <= 1.0 + room_t) & (u >= -room_u) & (u <= 1.0 + room_u)
    crossed = (steep & (t >= 0.0) & (t <= 1.0) & (u >= 0.0) & (u <= 1.0))[keep]
    lane, i, j, t, u = lane[keep], i[keep], j[keep], np.clip(t[keep], 0.0, 1.0), np.clip(u[keep], 0.0, 1.0)
    return lane, a.span[i], b.span[j], a.first[i] + t * a.width[i], b.first[j] + u * b.width[j], crossed


def _newton(ca: FloatArray, cb: FloatArray, t: FloatArray, u: FloatArray) -> tuple[FloatArray, FloatArray]:
    """Parameters in 0..1 where cubics ca and cb (m, 4, 2) meet, or where the search stopped."""
    for _ in range(_NEWTON_STEPS):
        gap = cubic.at(ca, t) - cubic.at(cb, u)
        way_a, way_b = cubic.velocity(ca, t), cubic.velocity(cb, u)
        area = cross(way_a, way_b)
        safe = np.where(area == 0.0, np.inf, area)
        before_t, before_u = t, u
        t = np.clip(t - cross(gap, way_b) / safe, -0.1, 1.1)
        u = np.clip(u - cross(gap, way_a) / safe, -0.1, 1.1)
        if np.array_equal(t, before_t) and np.array_equal(u, before_u):  # it would stay so
            break
    return np.clip(t, 0.0, 1.0), np.clip(u, 0.0, 1.0)


def _search(a: Path, b: Path, chords: int) -> _Meeting:
    lanes = lane_count(a.controls, b.controls)
    lane, i, j, t, u, crossed = _candidates(_chords(a, chords), _chords(b, chords))
    ca, cb = a.controls[lane if a.lanes > 1 else 0 * lane, i], b.controls[lane if b.lanes > 1 else 0 * lane, j]
    t, u = _newton(ca, cb, t, u)
    met = norm(cubic.at(ca, t) - cubic.at(cb, u)) < MEET
    lost = np.bincount(lane[crossed & ~met], minlength=lanes) > 0  # the search ran away from where the chords cross
    lane, i, j = lane[met], i[met], j[met]
    t, u, ca, cb = t[met], u[met], ca[met], cb[met]
    way_a, way_b = cubic.velocity(ca, t), cubic.velocity(cb, u)
    flat = np.abs(cross(way_a, way_b)) < np.sin(np.radians(SHALLOW_DEGREES)) * norm(way_a) * norm(way_b)
    shallow = np.bincount(lane[flat], minlength=lanes) > 0
    at_a, at_b = i + t, j + u
    order = np.lexsort((at_b, at_a, lane))
    with_hit, first = np.unique(lane[order], return_index=True)
    place_a, place_b, ok = np.full(lanes, np.nan), np.full(lanes, np.nan), np.zeros(lanes, dtype=bool)
    place_a[with_hit], place_b[with_hit], ok[with_hit] = at_a[order[first]], at_b[order[first]], True
    return _Meeting(place_a, place_b, ok, shallow | lost)


def _place(path: Path, at: FloatArray, ok: BoolArray) -> tuple[FloatArray, FloatArray]:
    """Arc length (L,) and point (L, 2) of a place given as span + parameter."""
    place = np.where(ok, at, 0.0)
    span = np.minimum(place.astype(np.int64), path.spans - 1)
    t = place - span
    row = np.arange(at.size) if path.lanes > 1 else np.zeros(at.size, dtype=np.int64)
    marks, c = joints(path), path.controls[row, span]
    size = marks[row, span + 1] - marks[row, span]
    along = np.where(np.array(path.straight)[span], t * size, cubic_length(c, t))
    return np.where(ok, marks[row, span] + along, np.nan), pick(ok, cubic.at(c, t), np.full((1, 2), np.nan))
