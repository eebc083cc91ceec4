"""Hobby's spline: smooth cubics through points, with directions at the ends.

J. D. Hobby, "Smooth, easy to compute interpolating splines", Discrete & Computational Geometry 1 (1986) 123-140; the
equations for tension as in D. E. Knuth, The METAFONTbook, ch. 14.
"""

from typing import Final

import numpy as np

from .lanes import FloatArray, cross, dot, join, lane_count, left_of, norm, spread, unit
from .path import Path

MIN_TENSION: Final = 0.75
_LONGEST_HANDLE: Final = 4.0  # of a third of the chord
_ROOT2, _ROOT5 = 2.0**0.5, 5.0**0.5


def hobby(
    points: FloatArray,
    leaving: FloatArray | None = None,
    arriving: FloatArray | None = None,
    tension: FloatArray | float = 1.0,
) -> Path:
    """Smooth path of n - 1 spans through points (L, n, 2), n >= 2, mm.

    leaving and arriving (L, 2) are unit directions of travel at the ends; None leaves that end free (curvature as at
    the other end of its span). tension (L,) or a number draws the curve to its chords as it grows. Raises ValueError
    for a tension below 3/4, where the curve would loop. Two points without directions give a straight line.
    """
    pull = np.atleast_1d(np.asarray(tension, dtype=np.float64))
    if (pull < MIN_TENSION).any():
        raise ValueError(f"tension below {MIN_TENSION}")
    chords = points[:, 1:] - points[:, :-1]
    free = leaving is None and arriving is None
    if points.shape[1] == 2 and free:
        directions = join([unit(chords), unit(chords)], 1)
    elif points.shape[1] == 2 and leaving is not None and arriving is not None:
        directions = join([leaving[:, None], arriving[:, None]], 1)
    else:
        directions = _directions(chords, leaving, arriving, pull)
    return _through(points, chords, directions, pull, (points.shape[1] == 2 and free,) * chords.shape[1])


def _through(
    points: FloatArray, chords: FloatArray, directions: FloatArray, tension: FloatArray, flags: tuple[bool, ...]
) -> Path:
    """The cubics with handles along directions (L, n, 2), of Hobby's lengths."""
    size, along = norm(chords), unit(chords)
    out, into = directions[:, :-1], directions[:, 1:]
    sin_out, cos_out = cross(along, out), dot(along, out)
    sin_in, cos_in = cross(into, along), dot(into, along)
    reach = size / 3.0
    first = reach * np.minimum(_handle(sin_out, cos_out, sin_in, cos_in) / tension[:, None], _LONGEST_HANDLE)
    second = reach * np.minimum(_handle(sin_in, cos_in, sin_out, cos_out) / tension[:, None], _LONGEST_HANDLE)
    starts, ends = points[:, :-1], points[:, 1:]
    rows = [starts, starts + first[..., None] * out, ends - second[..., None] * into, ends]
    lanes = lane_count(*rows)
    return Path(np.stack([spread(row, lanes) for row in rows], axis=2), flags)


def _handle(sin_a: FloatArray, cos_a: FloatArray, sin_b: FloatArray, cos_b: FloatArray) -> FloatArray:
    """Hobby's handle, as a multiple of a third of the chord, at the end that makes angle a with the chord."""
    shape = _ROOT2 * (sin_a - sin_b / 16.0) * (sin_b - sin_a / 16.0) * (cos_a - cos_b)
    handle: FloatArray = (2.0 + shape) / (1.0 + 0.5 * (_ROOT5 - 1.0) * cos_a + 0.5 * (3.0 - _ROOT5) * cos_b)
    return handle


def _directions(
    chords: FloatArray, leaving: FloatArray | None, arriving: FloatArray | None, tension: FloatArray
) -> FloatArray:
    """Unit directions (L, n, 2) at the points, of equal mock curvature on both sides of each inner point.

    Unknown is the angle theta_k from the chord after point k; at the last point, from the chord before it.
    """
    size, along = norm(chords), unit(chords)
    count = chords.shape[1] + 1
    turn = np.arctan2(cross(along[:, :-1], along[:, 1:]), dot(along[:, :-1], along[:, 1:]))
    turn = join([np.zeros((1, 1)), turn, np.zeros((1, 1))], 1)
    pull = 1.0 / tension
    near, far = (3.0 - pull)[:, None] / size, pull[:, None] / size
    one, none = np.ones((1, 1)), np.zeros((1, 1))
    first_given, last_given = none, none
    if leaving is not None:
        first_given = np.arctan2(cross(along[:, 0], leaving), dot(along[:, 0], leaving))[:, None]
    if arriving is not None:
        last_given = np.arctan2(cross(along[:, -1], arriving), dot(along[:, -1], arriving))[:, None]
    below = join([far[:, :-1], one if arriving is None else none], 1)
    middle = join([one, near[:, :-1] + near[:, 1:], one], 1)
    above = join([one if leaving is None else none, far[:, 1:]], 1)
    inner = -near[:, :-1] * turn[:, 1:-1] - far[:, 1:] * turn[:, 2:]
    right = join([-turn[:, 1:2] if leaving is None else first_given, inner, last_given], 1)
    theta = _tridiagonal(below, middle, above, right, count)
    base = join([along, along[:, -1:]], 1)
    sine, cosine = np.sin(theta)[..., None], np.cos(theta)[..., None]
    directions = base * cosine + left_of(base) * sine
    if leaving is not None:
        directions = join([leaving[:, None], directions[:, 1:]], 1)
    if arriving is not None:
        directions = join([directions[:, :-1], arriving[:, None]], 1)
    return directions


def _tridiagonal(below: FloatArray, middle: FloatArray, above: FloatArray, right: FloatArray, count: int) -> FloatArray:
    """Solution (L, count) of diagonally dominant tridiagonal systems, one a lane (elimination without pivots)."""
    pivots, values = [middle[:, 0]], [right[:, 0]]
    for k in range(1, count):
        ratio = below[:, k - 1] / pivots[-1]
        pivots.append(middle[:, k] - ratio * above[:, k - 1])
        values.append(right[:, k] - ratio * values[-1])
    solved = [values[-1] / pivots[-1]]
    for k in range(count - 2, -1, -1):
        solved.append((values[k] - above[:, k] * solved[-1]) / pivots[k])
    return join([s[:, None] for s in reversed(solved)], 1)
