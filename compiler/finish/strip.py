"""The parallel line of one side as a run of points, carried on straight at both ends to make corners with."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from ..geometry.lanes import BoolArray, FloatArray, IntArray, cross, join, lane_count, norm, pick, spread
from ..geometry.tolerances import COINCIDE, PARALLEL

REACH = 1000.0
"""How far (mm) a side is carried on beyond its ends: further than any corner worth making."""

STEPS = 16
"""Crossings of two runs of points settle within this many steps, or they are not near the corner at all."""


@dataclass(frozen=True)
class Strip:
    """Points (L, n, 2) and the length along them `marks` (L, n), mm: 0 at the start of the side itself, so that the
    point the line is carried back to has a negative mark."""

    points: FloatArray
    marks: FloatArray

    @property
    def end(self) -> FloatArray:
        """The mark (L,) where the side itself ends."""
        return self.marks[:, -2]

    @property
    def is_straight(self) -> bool:
        return bool(self.points.shape[1] == 4)


def run_on(points: FloatArray, leaving: FloatArray, arriving: FloatArray) -> Strip:
    """The strip of points (L, n, 2), carried back against `leaving` and on along `arriving`, unit directions (L, 2)."""
    lanes = lane_count(points, leaving, arriving)
    body = spread(points, lanes)
    back = body[:, :1] - REACH * leaving[:, None]
    onward = body[:, -1:] + REACH * arriving[:, None]
    return _measured(join([back, body, onward], 1))


def ray(start: FloatArray, way: FloatArray) -> Strip:
    """The straight strip through `start` (L, 2), mark 0, both ways along the unit direction `way` (L, 2)."""
    return run_on(start[:, None] + np.array([0.0, 1.0])[None, :, None] * way[:, None], way, way)


def _measured(points: FloatArray) -> Strip:
    marks = np.zeros(points.shape[:2])
    np.cumsum(norm(np.diff(points, axis=1)), axis=1, out=marks[:, 1:])
    return Strip(points, marks - marks[:, 1:2])


def _number(strip: Strip, s: FloatArray) -> IntArray:
    """Number (L,) of the segment on which each mark s (L,) lies."""
    number: IntArray = np.clip((strip.marks <= s[:, None]).sum(axis=1) - 1, 0, strip.points.shape[1] - 2)
    return number


def _segment(strip: Strip, number: IntArray) -> tuple[FloatArray, FloatArray, FloatArray]:
    """Start (L, 2), unit direction (L, 2) and mark (L,) of the segments of these numbers (L,)."""
    lanes = np.arange(number.size)
    points, marks = spread(strip.points, number.size), spread(strip.marks, number.size)
    start = points[lanes, number]
    way = points[lanes, number + 1] - start
    size = norm(way)
    return start, way / np.where(size > 0.0, size, 1.0)[:, None], marks[lanes, number]


def at(strip: Strip, s: FloatArray) -> FloatArray:
    """Points (L, 2) at marks s (L,)."""
    start, way, mark = _segment(strip, _number(strip, s))
    return start + (s - mark)[:, None] * way


def between(strip: Strip, s0: FloatArray, s1: FloatArray, count: int) -> FloatArray:
    """`count` points (L, count, 2) spaced evenly from mark s0 to mark s1, both included."""
    shares = np.linspace(0.0, 1.0, count)
    return np.stack([at(strip, s0 + share * (s1 - s0)) for share in shares], axis=1)


def clipped(strip: Strip, s0: FloatArray, s1: FloatArray, early: FloatArray, late: FloatArray) -> FloatArray:
    """The points of the side itself (L, n, 2); those up to mark s0 become the point `early`, those from s1 on `late`.

    The corner's own points are handed in, not computed again, and what coincides with them becomes them: one bit of
    difference would make the ring cross itself.
    """
    lanes = lane_count(strip.points, s0, s1, early, late)
    points, marks = spread(strip.points[:, 1:-1], lanes), spread(strip.marks[:, 1:-1], lanes)
    after_start = pick(marks < s0[:, None] + COINCIDE, early[:, None], points)
    return pick(marks > s1[:, None] - COINCIDE, late[:, None], after_start)


def meet(a: Strip, b: Strip, sa: FloatArray, sb: FloatArray) -> tuple[FloatArray, FloatArray, BoolArray]:
    """Marks (L,) on a and b where they cross, found from the marks sa, sb; the flags (L,) say where they do.

    Each step crosses the lines of the two segments reached and goes to the segments on which that crossing lies.
    """
    lanes = lane_count(a.points, b.points, sa, sb)
    sa, sb = np.broadcast_to(sa, (lanes,)).copy(), np.broadcast_to(sb, (lanes,)).copy()
    on_a, on_b = _number(a, sa), _number(b, sb)
    for _ in range(STEPS):
        p, d, mark_a = _segment(a, on_a)
        q, e, mark_b = _segment(b, on_b)
        sine = cross(d, e)
        slanted = np.abs(sine) > PARALLEL
        safe = np.where(slanted, sine, 1.0)
        gap = q - p
        sa = np.clip(np.where(slanted, mark_a + cross(gap, e) / safe, sa), a.marks[:, 0], a.marks[:, -1])
        sb = np.clip(np.where(slanted, mark_b + cross(gap, d) / safe, sb), b.marks[:, 0], b.marks[:, -1])
        before_a, before_b = on_a, on_b
        on_a, on_b = _number(a, sa), _number(b, sb)
        # The same segments give the same again, so a lane does not depend on how long the others take.
        if np.array_equal(on_a, before_a) and np.array_equal(on_b, before_b):
            break
    return sa, sb, slanted & (norm(at(a, sa) - at(b, sb)) < COINCIDE)
