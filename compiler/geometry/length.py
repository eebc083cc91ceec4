"""Arc length, and positions by arc length.

Length is the integral of speed by Gauss-Legendre, two halves of 16 nodes: relative error below 1e-10 on anything that
is not a cusp. Straight spans are measured by their chord.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence

import numpy as np

from . import cubic
from .lanes import BoolArray, FloatArray, IntArray, agree, dot, lane_count, norm, ordered_sum, pick, shaped, take, unit
from .path import Path, memoized, span_directions
from .tolerances import COINCIDE, ON_JOINT

_ABSCISSAE, _WEIGHTS = np.polynomial.legendre.leggauss(16)
NODES: FloatArray = np.concatenate([(_ABSCISSAE + 1.0) / 4.0, (_ABSCISSAE + 3.0) / 4.0])
WEIGHTS: FloatArray = np.concatenate([_WEIGHTS, _WEIGHTS]) / 4.0
_CELL_ABSCISSAE, _CELL_WEIGHTS = np.polynomial.legendre.leggauss(6)
_CELLS: FloatArray = (np.arange(16)[:, None] + (_CELL_ABSCISSAE + 1.0) / 2.0) / 16.0
_NEWTON_STEPS = 12  # three are enough (measured) but near a cusp or a handle of no length; settled lanes do not move

_Within = tuple[IntArray, FloatArray, FloatArray]


def cubic_length(c: FloatArray, t: FloatArray) -> FloatArray:
    """Arc length (...) of cubics (..., 4, 2) from 0 to t (...)."""
    return ordered_sum(cubic.speed(c[..., None, :, :], t[..., None] * NODES) * WEIGHTS) * t


def span_lengths(path: Path) -> FloatArray:
    """Arc length (L, k) of every span, mm."""
    lengths = norm(path.controls[:, :, 3] - path.controls[:, :, 0])
    curved = np.flatnonzero(~np.array(path.straight))
    if curved.size:
        lengths[:, curved] = cubic_length(path.controls[:, curved], np.ones((1, 1)))
    return lengths


def joints(path: Path) -> FloatArray:
    """Arc length (L, k + 1) at the start, at every joint and at the end."""
    return memoized(path, "joints", _joints)


def _joints(path: Path) -> FloatArray:
    lengths = span_lengths(path)
    marks = np.zeros((path.lanes, path.spans + 1))
    for i in range(path.spans):
        marks[:, i + 1] = marks[:, i] + lengths[:, i]
    return marks


def length(path: Path) -> FloatArray:
    """Arc length (L,) of the whole path, mm."""
    return joints(path)[:, -1]


def _cells(c: FloatArray) -> FloatArray:
    """Arc length (L, 17) of cubics (L, 4, 2) at the sixteenths of their parameter."""
    parts = ordered_sum(cubic.speed(c[:, None, None], _CELLS) * _CELL_WEIGHTS) / 32.0
    return np.concatenate([np.zeros((c.shape[0], 1)), np.cumsum(parts, axis=1)], axis=1)


def _known_cells(path: Path, span: int) -> FloatArray:
    return memoized(path, f"cells {span}", lambda whole: _cells(whole.controls[:, span]))


def _invert_curve(c: FloatArray, marks: FloatArray, s: FloatArray) -> FloatArray:
    """Parameter (L,) at arc length s (L,) of cubics (L, 4, 2): a start from their `_cells`, then Newton inside the cell.

    A step outside the cell lands on the cell's end. Bisecting instead would throw away a root that already lies on
    the end to the last bit.
    """
    lanes = lane_count(c, s)
    marks = shaped(marks, (lanes, 17))
    s = shaped(s, (lanes,))
    row = np.arange(lanes)
    at = np.clip((marks <= s[:, None]).sum(axis=1) - 1, 0, 15)
    low, width = marks[row, at], marks[row, at + 1] - marks[row, at]
    t: FloatArray = (at + np.clip((s - low) / np.where(width > 0.0, width, 1.0), 0.0, 1.0)) / 16.0
    floor, ceiling = np.maximum(at - 1, 0) / 16.0, np.minimum(at + 2, 16) / 16.0
    for _ in range(_NEWTON_STEPS):
        miss = cubic_length(c, t) - s
        moving = np.abs(miss) > ON_JOINT / 10.0
        if not moving.any():
            break
        floor, ceiling = np.where(miss < 0.0, t, floor), np.where(miss > 0.0, t, ceiling)
        speed = cubic.speed(c, t)
        step = np.where(speed > 0.0, miss / np.where(speed > 0.0, speed, 1.0), 0.0)
        t = np.where(moving, np.clip(t - step, floor, ceiling), t)
    return t


def _within(path: Path, s: FloatArray) -> _Within:
    """Span (L,) in which each position lies, position in that span (L,), and the joints; NaN where off the path.

    A position on a joint belongs to the later span.
    """
    marks = joints(path)
    total = marks[:, -1]
    lanes = lane_count(marks, s)
    on = (s >= -ON_JOINT) & (s <= total + ON_JOINT)
    place = shaped(np.where(on, np.clip(s, 0.0, total), np.nan), (lanes,))
    marks = shaped(marks, (lanes, path.spans + 1))
    span = (marks[:, 1:-1] <= place[:, None] + ON_JOINT).sum(axis=1).astype(np.int64)
    inside = place - marks[np.arange(lanes), span]
    return span, np.where(inside <= ON_JOINT, np.where(np.isnan(inside), np.nan, 0.0), inside), marks


def _invert(path: Path, span: int, s: FloatArray, size: FloatArray, rows: IntArray | None = None) -> FloatArray:
    """Parameter (L,) at arc length s inside one span of length `size`, exactly 0 and 1 at its ends; of the lanes `rows` only."""
    if path.straight[span]:
        t = s / np.where(size > 0.0, size, 1.0)
    else:
        marks, c = _known_cells(path, span), path.controls[:, span]
        t = _invert_curve(c, marks, s) if rows is None else _invert_curve(take(c, rows), take(marks, rows), s)
    return np.where(s <= 0.0, 0.0, np.where(s >= size - ON_JOINT, 1.0, t))


def point_at(path: Path, s: FloatArray) -> FloatArray:
    """Point (L, 2) at arc length s (L,), mm; NaN off the path. Lanes may lie on different spans."""
    return place_at(path, s)[0]


def points_on(path: Path, lanes: IntArray, s: FloatArray) -> FloatArray:
    """Points (n, 2) at arc length s (n,), mm, each on the path of its own of `lanes` (n,)."""
    joints(path)
    for i in np.flatnonzero(~np.array(path.straight)):
        _known_cells(path, int(i))
    return point_at(path.take(lanes), s)


def direction_at(path: Path, s: FloatArray) -> FloatArray:
    """Unit direction of travel (L, 2) at arc length s (L,); NaN off the path. At a corner, that of the later span."""
    return place_at(path, s)[1]


def place_at(path: Path, s: FloatArray) -> tuple[FloatArray, FloatArray]:
    """Point and unit direction of travel (L, 2) at arc length s (L,), as `point_at` and `direction_at` give them."""
    spans, inside, marks = _within(path, s)
    leaving, arriving = span_directions(path)
    points = np.full((spans.shape[0], 2), np.nan)
    directions = points.copy()
    for i in range(path.spans):
        rows = np.flatnonzero((spans == i) & np.isfinite(inside))
        if not rows.size:
            continue
        c, out, into = (take(a[:, i], rows) for a in (path.controls, leaving, arriving))
        t = _invert(path, i, inside[rows], marks[rows, i + 1] - marks[rows, i], rows)
        points[rows] = cubic.at(c, t)
        way = out if path.straight[i] else unit(cubic.velocity(c, t))
        directions[rows] = pick(t <= 0.0, out, pick((t >= 1.0) & (not path.straight[i]), into, way))
    return points, directions


def part(path: Path, s0: FloatArray, s1: FloatArray) -> Path:
    """The piece of the path from arc length s0 to s1 (L,), s0 < s1; the ends of the path and joints are no cuts.

    Lanes with s0 >= s1 or with a position off the path are NaN. Raises Disagreement when lanes are cut in different
    spans, or some on a joint and others beside it.
    """
    return parts(path, [s0, s1])[0]


def parts(path: Path, places: Sequence[FloatArray]) -> list[Path]:
    """The pieces of the path between arc lengths (L,), one after the other, each as `part` gives it."""
    found = [_within(path, s) for s in places]
    inverted: dict[tuple[int, int], FloatArray] = {}  # each place is the end of one piece and the start of the next

    def at(number: int, span: int) -> FloatArray:
        if (number, span) not in inverted:
            marks = found[number][2]
            inverted[number, span] = _invert(path, span, found[number][1], marks[:, span + 1] - marks[:, span])
        return inverted[number, span]

    return [_part(path, (places[k], places[k + 1]), (found[k], found[k + 1]), k, at) for k in range(len(places) - 1)]


def _part(
    path: Path,
    places: tuple[FloatArray, FloatArray],
    found: tuple[_Within, _Within],
    number: int,
    at: Callable[[int, int], FloatArray],
) -> Path:
    """Piece `number` of a path, between two places and where these were found; `at` gives the parameter of a place in a span."""
    (s0, s1), ((i_lanes, start, marks), (j_lanes, stop, _)) = places, found
    lanes = lane_count(start, stop)
    at_joint = (stop == 0.0) & (j_lanes > 0)  # a piece that ends on a joint ends with the span before it
    j_lanes = np.where(at_joint, j_lanes - 1, j_lanes)
    size = marks[:, 1:] - marks[:, :-1]
    whole = at_joint | (stop >= size[np.arange(stop.shape[0]) % size.shape[0], j_lanes] - ON_JOINT)
    ok = np.isfinite(start + stop) & (s1 > s0 + ON_JOINT)
    keys = ((i_lanes * 2 + (start > 0.0)) * path.spans + j_lanes) * 2 + whole
    rest, ends_whole = divmod(agree(np.broadcast_to(keys, (lanes,)), ok), 2)
    rest, j = divmod(rest, path.spans)
    i, cut_start = divmod(rest, 2)
    t0 = at(number, i) if cut_start else None
    t1 = None if ends_whole else at(number + 1, j)
    pieces = [_piece(path, k, t0 if k == i else None, t1 if k == j else None) for k in range(i, max(i, j) + 1)]
    controls = np.stack([shaped(p, (lanes, 4, 2)) for p in pieces], axis=1)
    return Path(np.where(ok[:, None, None, None], controls, np.nan), path.straight[i : max(i, j) + 1])


def _piece(path: Path, span: int, t0: FloatArray | None, t1: FloatArray | None) -> FloatArray:
    """Control points (L, 4, 2) of one span from t0 to t1; None stands for its own end, kept to the last bit."""
    c = path.controls[:, span]
    if path.straight[span] and not (t0 is None and t1 is None):
        return cubic.straight(c[:, 0] if t0 is None else cubic.at(c, t0), c[:, 3] if t1 is None else cubic.at(c, t1))
    if t0 is not None:
        _, c = cubic.split(c, t0)
        # The rest runs over t0..1, so that t1 moves with it; a lane without length here is masked by `part`.
        t1 = None if t1 is None else (t1 - t0) / np.where(t0 < 1.0, 1.0 - t0, 1.0)
    return c if t1 is None else cubic.split(c, t1)[0]


def cut_at(path: Path, s: FloatArray) -> tuple[Path, Path]:
    """The two pieces before and after arc length s (L,), for 0 < s < length; the cut point is one and the same.

    Lanes where s is not inside the path are NaN in both pieces: test first. Raises Disagreement as `part` does.
    """
    total = length(path)
    inside = np.where((s > ON_JOINT) & (s < total - ON_JOINT), s, np.nan)
    before, after = parts(path, [np.zeros(1), inside, total])
    return before, after


def nearest(path: Path, p: FloatArray) -> tuple[FloatArray, FloatArray]:
    """Arc length (L,) of the point of the path nearest to p (L, 2), and its distance (L,), both mm; the first of equals."""
    marks, lanes = joints(path), lane_count(path.controls, p)
    on_joint = (np.concatenate([path.controls[:, :, 0], path.controls[:, -1:, 3]], axis=1) == p[:, None]).all(axis=-1)
    exact = on_joint.any(axis=1)  # a draft mostly asks for a point it was drawn from
    joint = marks[np.arange(lanes) if path.lanes > 1 else 0, np.argmax(on_joint, axis=1)]
    if exact.all():
        return joint, np.zeros(lanes)
    span, best_t, best = np.zeros(lanes, dtype=np.int64), np.zeros(lanes), np.full(lanes, np.inf)
    may = _may_be_nearest(path, p)
    for i in range(path.spans):
        rows = np.flatnonzero(may[:, i])
        if not rows.size:
            continue
        c, q = take(path.controls[:, i], rows), take(p, rows)
        t = _nearest_on_line(c, q) if path.straight[i] else _nearest_on_curve(c, q)
        away = norm(cubic.at(c, t) - q)
        closer = away < best[rows]
        rows = rows[closer]
        span[rows], best_t[rows], best[rows] = i, t[closer], away[closer]
    along, found = _along(path, span, best_t), np.isfinite(best)
    return np.where(exact, joint, np.where(found, along, np.nan)), np.where(exact, 0.0, np.where(found, best, np.nan))


def least_away(path: Path, p: FloatArray) -> FloatArray:
    """How far (L,) mm a point (L, 2) lies from the boxes the spans of a path are in: the path itself is no nearer."""
    return np.asarray(_from_boxes(path, p).min(axis=1))


def _boxes(path: Path) -> tuple[FloatArray, FloatArray]:
    """Lower left and upper right corner (L, k, 2) of the box of every span's control points."""
    low = memoized(path, "low", lambda whole: whole.controls.min(axis=2))
    return low, memoized(path, "high", lambda whole: whole.controls.max(axis=2))


def _may_be_nearest(path: Path, p: FloatArray) -> BoolArray:
    """Spans (L, k) whose box is no farther from p (L, 2) than the nearest joint is: no other holds the nearest point."""
    c, spot = path.controls, p[:, None]
    if path.spans == 1:
        return np.ones((lane_count(c, p), 1), dtype=bool)
    least = _from_boxes(path, p)
    most = np.fmin(np.fmin.reduce(norm(c[:, :, 0] - spot), axis=1), norm(c[:, -1, 3] - p))
    return np.asarray(least <= most[:, None] + COINCIDE)


def _from_boxes(path: Path, p: FloatArray) -> FloatArray:
    """How far (L, k) the boxes of the control points of every span are from p (L, 2), mm."""
    (low, high), spot = _boxes(path), p[:, None]
    return norm(np.maximum(np.maximum(low - spot, spot - high), 0.0))


def _along(path: Path, span: IntArray, t: FloatArray) -> FloatArray:
    """Arc length (L,) at parameter t (L,) of span number `span` (L,)."""
    row = np.arange(span.size) if path.lanes > 1 else np.zeros(span.size, dtype=np.int64)
    marks, straight = joints(path), np.array(path.straight)[span]
    inside = t * (marks[row, span + 1] - marks[row, span])
    if not straight.all():
        inside = np.where(straight, inside, cubic_length(path.controls[row, span], t))
    return marks[row, span] + inside


def _nearest_on_line(c: FloatArray, p: FloatArray) -> FloatArray:
    way = c[:, 3] - c[:, 0]
    size = dot(way, way)
    return np.clip(dot(p - c[:, 0], way) / np.where(size > 0.0, size, 1.0), 0.0, 1.0)


def _nearest_on_curve(c: FloatArray, p: FloatArray) -> FloatArray:
    """Parameter (L,) of the nearest point: the best of 33, then Newton between its neighbours."""
    tries = np.linspace(0.0, 1.0, 33)
    t = tries[np.argmin(norm(cubic.at(c[:, None], tries) - p[:, None]), axis=1)]
    return polish_nearest(c, p, t, np.maximum(t - 1.0 / 32.0, 0.0), np.minimum(t + 1.0 / 32.0, 1.0), 8)


def polish_nearest(
    c: FloatArray, p: FloatArray, t: FloatArray, low: FloatArray, high: FloatArray, steps: int
) -> FloatArray:
    """Parameters (...) between low and high where cubics (..., 4, 2) come nearest to p (..., 2), from a start t."""
    off, resting = cubic.at(c, t) - p, False
    for step in range(steps):
        first = cubic.velocity(c, t)
        steep = dot(first, first)
        bend = steep + dot(off, cubic.acceleration(c, t))
        # Newton and Gauss-Newton in turn: the one is slow near the centre of curvature, the other where all is not convex.
        slope = np.where(bend > 0.0, bend, steep) if step % 2 == 0 else steep
        there = np.clip(t - dot(off, first) / np.where(slope > 0.0, slope, 1.0), low, high)
        off_there = cubic.at(c, there) - p
        nearer = norm(off_there) <= norm(off)
        before, t = t, np.where(nearer, there, t)
        rested, resting = resting, np.array_equal(before, t)
        if rested and resting:  # it would stay so: a lane does not depend on how long the others take
            break
        off = pick(nearer, off_there, off)
    return t
