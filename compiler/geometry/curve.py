"""Curves a cutter draws: through points with directions, bowed off a chord, to a wanted length.

The spline is Hobby's (see `spline`). It keeps its shape under turning, shifting and even scaling only: build it on the
graded points, never scale a drawn curve.
"""

from typing import Final

import numpy as np

from .bend import inflects, min_clearance, smallest_radius
from .ellipse import quarter, quarter_axis, quarter_length
from .fit import smooth_fit
from .lanes import BoolArray, FloatArray, join, lane_count, left_of, norm, unit
from .length import length
from .offset import parallel, parallel_curve
from .path import Path
from .roots import bracketed
from .spline import MIN_TENSION, hobby
from .tolerances import MEET, ON_JOINT

__all__ = [
    "MAX_TENSION",
    "MIN_TENSION",
    "bowed",
    "hobby",
    "inflects",
    "min_clearance",
    "parallel",
    "parallel_curve",
    "quarter",
    "quarter_axis",
    "quarter_length",
    "smallest_radius",
    "smooth_fit",
    "with_length",
]

MAX_TENSION: Final = 3.0
"""Above this a curve is two straight lines and a corner."""


def bowed(a: FloatArray, b: FloatArray, depth: FloatArray) -> Path:
    """One symmetric span from a to b (L, 2) whose middle lies `depth` (L,) mm off the chord, left of travel positive.

    The arc Hobby's spline draws for equal angles at both ends: close to circular, and of exactly that depth.
    """
    way = b - a
    sag = 2.0 * depth / norm(way)  # the tangent of half the angle between chord and curve
    along = (way * ((1.0 - sag * sag) / 3.0)[:, None], left_of(unit(way)) * (4.0 / 3.0 * depth)[:, None])
    lanes = lane_count(along[0], along[1])
    corners = (a, a + along[0] + along[1], b - along[0] + along[1], b)
    return Path(join([np.broadcast_to(c, (lanes, 2))[:, None] for c in corners], 1)[:, None], (False,))


def with_length(
    a: FloatArray, b: FloatArray, leaving: FloatArray, arriving: FloatArray, wanted: FloatArray
) -> tuple[Path, FloatArray, BoolArray]:
    """One span from a to b (L, 2), with unit directions of travel, of length `wanted` (L,) mm.

    Returns the path, its tension (L,) and whether the length was reached (L,). Length falls as tension rises; lanes
    that cannot reach it between MIN_TENSION and MAX_TENSION get the nearer of the two. A curve stays fair between
    about 0.85 and 1.25; beyond, move a point instead.
    """
    points = join([a[:, None], b[:, None]], 1)
    lanes = lane_count(points, leaving, arriving, wanted)

    def surplus(tension: FloatArray) -> FloatArray:
        return length(hobby(points, leaving, arriving, tension)) - wanted

    tension = bracketed(surplus, np.full(lanes, MIN_TENSION), np.full(lanes, MAX_TENSION), ON_JOINT)
    reached = np.abs(surplus(tension)) < MEET
    return hobby(points, leaving, arriving, tension), tension, reached
