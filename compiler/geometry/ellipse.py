"""Quarters of an ellipse, the curve of a neckline square to the fold and to the shoulder line; and arcs of a circle."""

from typing import Final

import numpy as np

from .lanes import FloatArray, cross, dot, left_of
from .path import Path
from .roots import bracketed
from .tolerances import ON_JOINT


def _unit_quarter() -> FloatArray:
    """Control points (2, 4, 2) of the quarter (sin f, 1 - cos f), f from 0 to 90 degrees, in two spans.

    Handles of 4/3 tan(a/4) for an arc of angle a: the distance from the circle stays below 5e-6 of the radius.
    """
    corners = np.array([0.0, np.pi / 4.0, np.pi / 2.0])
    points = np.stack([np.sin(corners), 1.0 - np.cos(corners)], axis=1)
    points[2] = 1.0
    ways = np.array([[1.0, 0.0], [np.sqrt(0.5), np.sqrt(0.5)], [0.0, 1.0]]) * (4.0 / 3.0 * np.tan(np.pi / 16.0))
    return np.stack([points[:-1], points[:-1] + ways[:-1], points[1:] - ways[1:], points[1:]], axis=1)


_QUARTER = _unit_quarter()


def quarter(a: FloatArray, b: FloatArray, first: FloatArray, last: FloatArray | None = None) -> Path:
    """Quarter of an ellipse from a to b (L, 2), leaving along the unit direction `first` (L, 2), arriving along `last` (square
    to `first` where it is None).

    `first` and `last` are directions of conjugate half-diameters, so any two make a quarter: the affine image of one of a
    circle, which never bends back. Two spans; length within 1e-5 of the true quarter. Lanes where the way from a to b is not
    some of `first` and some of `last` are NaN.
    """
    beside = left_of(first) * np.where(cross(first, b - a) < 0.0, -1.0, 1.0)[:, None] if last is None else last
    turn = cross(first, beside)
    ahead, aside = cross(b - a, beside) / turn, cross(first, b - a) / turn
    ahead = np.where((ahead > 0.0) & (aside >= 0.0), ahead, np.nan)
    along = (first * ahead[:, None])[:, None, None]
    across = (beside * aside[:, None])[:, None, None]
    controls = a[:, None, None] + _QUARTER[None, ..., :1] * along + _QUARTER[None, ..., 1:] * across
    controls[:, 1, 3] = b
    return Path(controls, (False, False))


def quarter_length(p: FloatArray, q: FloatArray) -> FloatArray:
    """Length (L,) of a quarter ellipse with semi-axes p and q (L,) >= 0, by the arithmetic-geometric mean."""
    long, short = np.maximum(p, q), np.minimum(p, q)
    mean, other = long, np.where(short > 0.0, short, long)
    power, spent = 0.5, 0.5 * (long * long - other * other)
    for _ in range(14):
        half_gap = (mean - other) / 2.0
        mean, other = (mean + other) / 2.0, np.sqrt(mean * other)
        power *= 2.0
        spent = spent + power * half_gap * half_gap
    with np.errstate(divide="ignore", invalid="ignore"):
        whole = np.pi / 2.0 * (long * long - spent) / mean
    return np.where(short > 0.0, whole, long)


def quarter_axis(p: FloatArray, wanted: FloatArray) -> FloatArray:
    """The other semi-axis (L,) of a quarter ellipse with semi-axis p (L,) and length `wanted` (L,), mm.

    A quarter is at least as long as either axis, and grows with both: NaN where wanted < p.
    Solved by false position in the bracket 0..wanted, which always holds the answer.
    """
    exists = wanted >= p - ON_JOINT
    goal = np.where(exists, np.maximum(wanted, p), p)
    axis = bracketed(lambda q: quarter_length(p, q) - goal, np.zeros(goal.shape), goal, ON_JOINT / 10.0)
    return np.where(exists, axis, np.nan)


ARC_SPANS: Final = 8
"""Spans of an arc: with handles of 4/3 tan(a/4) for a span of angle a, even a whole turn stays within 5e-6 of its radius."""


def arc(centre: FloatArray, a: FloatArray, b: FloatArray, clockwise: bool) -> Path:
    """Arc about `centre` from a to b (L, 2), by the way round that is asked for; a and b must be equally far from it.

    Eight spans; length within 3e-6 of the true arc.
    """
    first, last = a - centre, b - centre
    turn = np.arctan2(cross(first, last), dot(first, last))
    turn = np.where(turn > 0.0, turn - 2.0 * np.pi, turn) if clockwise else np.where(turn < 0.0, turn + 2.0 * np.pi, turn)
    steps = np.arange(ARC_SPANS + 1) / ARC_SPANS * turn[:, None]
    spokes = np.cos(steps)[..., None] * first[:, None] + np.sin(steps)[..., None] * left_of(first)[:, None]
    corners = centre[:, None] + spokes
    corners[:, -1] = b
    handles = left_of(spokes) * (4.0 / 3.0 * np.tan(turn / ARC_SPANS / 4.0))[:, None, None]
    spans = (corners[:, :-1], corners[:, :-1] + handles[:, :-1], corners[:, 1:] - handles[:, 1:], corners[:, 1:])
    return Path(np.stack(spans, axis=2), (False,) * ARC_SPANS)
