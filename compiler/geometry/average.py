"""The line between two lines, point by point."""

import numpy as np

from .lanes import FloatArray, agree, join, norm, unit
from .length import length, point_at
from .path import Path, end_direction, line, reverse, start_direction
from .spline import hobby

_POINTS = 16


def average(one: Path, other: Path, share: FloatArray) -> Path:
    """The path whose points lie at `share` (L,) of the way from those of one path to those of another, at equal shares of
    both lengths; exact between straight lines, else Hobby's spline through 17 such points.

    It runs as the first does; the second is turned round where its ends lie the other way. Raises Disagreement when lanes
    differ in that.
    """
    straight = norm(one.start - other.start) + norm(one.end - other.end)
    crossed = norm(one.start - other.end) + norm(one.end - other.start)
    if agree((crossed < straight).astype(np.int64)):
        other = reverse(other)

    def mixed(a: FloatArray, b: FloatArray) -> FloatArray:
        return a + share[:, None] * (b - a)

    if one.straight == (True,) and other.straight == (True,):
        return line(mixed(one.start, other.start), mixed(one.end, other.end))
    sizes = length(one), length(other)
    shares = [k / _POINTS for k in range(1, _POINTS)]
    inner = [mixed(point_at(one, sizes[0] * s), point_at(other, sizes[1] * s)) for s in shares]
    points = [mixed(one.start, other.start), *inner, mixed(one.end, other.end)]
    leaving = unit(mixed(start_direction(one), start_direction(other)))
    arriving = unit(mixed(end_direction(one), end_direction(other)))
    return hobby(join([point[:, None] for point in points], 1), leaving, arriving)
