"""Where lines, circles and paths meet."""

from itertools import pairwise

import numpy as np

from . import cubic
from .crossing import paths
from .lanes import BoolArray, FloatArray, cross, dot, lane_count, left_of, norm, pick, unit
from .length import cubic_length, joints
from .path import Path
from .tolerances import ON_JOINT, PARALLEL

__all__ = ["circles", "line_circle", "line_path", "lines", "paths"]


def lines(
    p: FloatArray, d: FloatArray, q: FloatArray, e: FloatArray
) -> tuple[FloatArray, FloatArray, FloatArray, BoolArray]:
    """Crossing of the endless lines p + t d and q + u e, all (L, 2).

    Returns the point (L, 2), t and u (L,) in units of d and e, and ok (L,): False, with NaN, where they are parallel.
    """
    area = cross(d, e)
    ok = np.abs(area) > PARALLEL * norm(d) * norm(e)
    area = np.where(ok, area, np.nan)
    t, u = cross(q - p, e) / area, cross(q - p, d) / area
    return p + t[:, None] * d, t, u, ok


def line_circle(p: FloatArray, d: FloatArray, c: FloatArray, r: FloatArray) -> tuple[FloatArray, FloatArray, BoolArray]:
    """The two points (L, 2) of the endless line p + t d on the circle about c of radius r (L,), the one nearer along d
    first, and ok (L,): False, with NaN, where the line passes the circle."""
    way = unit(d)
    middle = p + dot(c - p, way)[:, None] * way
    away = norm(c - middle)
    ok = away <= r + ON_JOINT
    half = np.where(ok, np.sqrt(np.maximum(r * r - away * away, 0.0)), np.nan)[:, None]
    return middle - half * way, middle + half * way, ok


def circles(c1: FloatArray, r1: FloatArray, c2: FloatArray, r2: FloatArray) -> tuple[FloatArray, FloatArray, BoolArray]:
    """The two points (L, 2) at r1 from c1 and r2 from c2: left of the way from c1 to c2, then right of it.

    ok (L,) is False, with NaN, unless |r1 - r2| <= distance of the centres <= r1 + r2.
    """
    base = norm(c2 - c1)
    ok = (base > ON_JOINT) & (base <= r1 + r2 + ON_JOINT) & (base >= np.abs(r1 - r2) - ON_JOINT)
    base = np.where(ok, base, np.nan)
    along = ((r1 - r2) * (r1 + r2) / base + base) / 2.0
    aside = np.sqrt(np.maximum((r1 - along) * (r1 + along), 0.0))
    way = unit(c2 - c1)
    middle, off = c1 + along[:, None] * way, aside[:, None] * left_of(way)
    return middle + off, middle - off, ok


def line_path(p: FloatArray, d: FloatArray, path: Path) -> tuple[FloatArray, FloatArray, BoolArray]:
    """First crossing, along the path, with the endless line through p along d (L, 2).

    Returns its arc length on the path (L,), the point (L, 2) and ok (L,): False, with NaN, where they do not meet.
    Touching counts. Where the path runs along the line, the start of that run counts.
    """
    marks = joints(path)
    way = unit(d)
    lanes = lane_count(path.controls, p, d)
    s, point, ok = np.full(lanes, np.nan), np.full((lanes, 2), np.nan), np.zeros(lanes, dtype=bool)
    for i in range(path.spans):
        c = path.controls[:, i]
        heights = np.stack([cross(way, c[:, j] - p) for j in range(4)], axis=1)
        t = _line_zero(heights) if path.straight[i] else _first_zero(heights)
        new = ~ok & np.isfinite(t)
        if not new.any():
            continue
        size = marks[:, i + 1] - marks[:, i]
        along = t * size if path.straight[i] else cubic_length(c, t)
        s, point, ok = np.where(new, marks[:, i] + along, s), pick(new, cubic.at(c, t), point), ok | new
    return s, point, ok


def _line_zero(h: FloatArray) -> FloatArray:
    """Parameter (L,) where a height linear from h[:, 0] to h[:, 3] is zero, or NaN."""
    first, last = (np.where(np.abs(h[:, j]) < ON_JOINT, 0.0, h[:, j]) for j in (0, 3))
    gap = first - last
    t = np.where(first == 0.0, 0.0, first / np.where(gap == 0.0, 1.0, gap))
    return np.where(first * last <= 0.0, t, np.nan)


def _height(h: FloatArray, t: FloatArray) -> FloatArray:
    w = 1.0 - t
    return w * w * w * h[:, 0] + 3.0 * w * w * t * h[:, 1] + 3.0 * w * t * t * h[:, 2] + t * t * t * h[:, 3]


def _slope(h: FloatArray, t: FloatArray) -> FloatArray:
    w = 1.0 - t
    a, b, e = h[:, 1] - h[:, 0], h[:, 2] - h[:, 1], h[:, 3] - h[:, 2]
    return 3.0 * (w * w * a + 2.0 * w * t * b + t * t * e)


def _first_zero(h: FloatArray) -> FloatArray:
    """First parameter (L,) where the cubic with Bernstein coefficients h (L, 4) is zero, or NaN.

    Split at the extrema into monotone parts; Newton in a bracket, twelve steps, in each.
    """
    a, b, e = h[:, 1] - h[:, 0], h[:, 2] - h[:, 1], h[:, 3] - h[:, 2]
    lead, half = a - 2.0 * b + e, b - a
    root = np.sqrt(np.maximum(half * half - a * lead, 0.0))
    big = -(half + np.copysign(root, half))
    with np.errstate(divide="ignore", invalid="ignore"):
        turns = np.stack([big / lead, a / big], axis=1)
    turns = np.sort(np.where(np.isfinite(turns), np.clip(turns, 0.0, 1.0), 0.0), axis=1)
    ends = [np.zeros(h.shape[0]), turns[:, 0], turns[:, 1], np.ones(h.shape[0])]
    found = np.full(h.shape[0], np.nan)
    for low, high in pairwise(ends):
        zero = _monotone_zero(h, low, high)
        found = np.where(np.isnan(found), zero, found)
    return found


def _monotone_zero(h: FloatArray, low: FloatArray, high: FloatArray) -> FloatArray:
    """The zero between low and high, where h is monotone, or NaN; an end within rounding of zero is the zero."""
    f_low, f_high = _height(h, low), _height(h, high)
    at_low, at_high = np.abs(f_low) < ON_JOINT, np.abs(f_high) < ON_JOINT
    inside = ~at_low & ~at_high & (f_low * f_high < 0.0)
    start, stop, rising = low, high, f_high > f_low
    t = low + (high - low) * f_low / np.where(inside, f_low - f_high, 1.0)
    for _ in range(12 if inside.any() else 0):
        value = _height(h, t)
        beyond = (value > 0.0) == rising
        start, stop = np.where(beyond, start, t), np.where(beyond, t, stop)
        slope = _slope(h, t)
        there = t - value / np.where(slope == 0.0, 1.0, slope)
        settled = np.abs(value) < ON_JOINT / 1000.0
        if (settled | ~inside).all():
            break
        t = np.where(settled, t, np.where((there >= start) & (there <= stop), there, 0.5 * (start + stop)))
    return np.where(at_low, low, np.where(at_high, high, np.where(inside, t, np.nan)))
