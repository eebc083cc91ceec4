"""The draft of `half_bodice.style` as it is written without lanes: one body after the other, points of drafts as floats, lines as
arrays of points (n, 2), shapely for offsets and rings.

It is the baseline of `budgets.py`: the same points, splines, darts, seams, checks and cut lines, but for the cap of the dart,
whose edges are straight here. The areas agree to a thousandth; `budgets.py` sees to that.
"""

from __future__ import annotations

import math
from collections.abc import Mapping

import numpy as np
import shapely
from numpy.typing import NDArray

Point = tuple[float, float]
Line = NDArray[np.float64]
CHORDS = 64
_T = np.arange(1, CHORDS + 1) / CHORDS
WEIGHTS = np.stack([(1 - _T) ** 3, 3 * (1 - _T) ** 2 * _T, 3 * (1 - _T) * _T**2, _T**3], axis=1)
ROOT2, ROOT5 = math.sqrt(2.0), math.sqrt(5.0)


def less(a: Point, b: Point) -> Point:
    return a[0] - b[0], a[1] - b[1]


def plus(a: Point, way: Point, far: float) -> Point:
    return a[0] + far * way[0], a[1] + far * way[1]


def unit(a: Point) -> Point:
    size = math.hypot(*a)
    return a[0] / size, a[1] / size


def cross(a: Point, b: Point) -> float:
    return a[0] * b[1] - a[1] * b[0]


def dot(a: Point, b: Point) -> float:
    return a[0] * b[0] + a[1] * b[1]


def turned(a: Point, angle: float) -> Point:
    c, s = math.cos(angle), math.sin(angle)
    return c * a[0] - s * a[1], s * a[0] + c * a[1]


def handle(out: float, into: float) -> float:
    """Hobby's handle at the end that makes the angle `out` with the chord, `into` at the other (Hobby 1986)."""
    shape = ROOT2 * (math.sin(out) - math.sin(into) / 16) * (math.sin(into) - math.sin(out) / 16)
    shape *= math.cos(out) - math.cos(into)
    return (2 + shape) / (1 + (ROOT5 - 1) / 2 * math.cos(out) + (3 - ROOT5) / 2 * math.cos(into))


def span(a: Point, b: Point, out: Point, into: Point) -> Line:
    """Points of one cubic from a to b, a left out."""
    way, third = unit(less(b, a)), math.dist(a, b) / 3
    theta, phi = math.atan2(cross(way, out), dot(way, out)), math.atan2(cross(into, way), dot(into, way))
    controls = [a, plus(a, out, third * handle(theta, phi)), plus(b, into, -third * handle(phi, theta)), b]
    made: Line = WEIGHTS @ np.array(controls)
    return made


def curve(a: Point, b: Point, out: Point, into: Point) -> Line:
    return np.concatenate([[a], span(a, b, out, into)])


def point(row: Line) -> Point:
    return float(row[0]), float(row[1])


def through(a: Point, m: Point, b: Point, out: Point, into: Point) -> Line:
    """Two cubics over a middle point, of equal mock curvature there."""
    one, two = unit(less(m, a)), unit(less(b, m))
    turn = math.atan2(cross(one, two), dot(one, two))
    first, last = math.atan2(cross(one, out), dot(one, out)), math.atan2(cross(two, into), dot(two, into))
    d, e = math.dist(a, m), math.dist(m, b)
    theta = (-2 / d * turn - first / d - last / e) / (2 / d + 2 / e)
    way = turned(two, theta)
    return np.concatenate([[a], span(a, m, out, way), span(m, b, way, into)])


def steps(line: Line) -> Line:
    """The length of each chord."""
    way = np.diff(line, axis=0)
    made: Line = np.hypot(way[:, 0], way[:, 1])
    return made


def long(line: Line) -> float:
    return float(steps(line).sum())


def parted(line: Line, at: float) -> tuple[Line, Line]:
    """The chain before and after a length along it."""
    passed = np.concatenate([[0.0], np.cumsum(steps(line))])
    k = int(np.searchsorted(passed, at)) - 1
    if not 0 <= k < len(line) - 1:
        raise ValueError("beyond the end")
    cut = line[k] + (line[k + 1] - line[k]) * ((at - passed[k]) / (passed[k + 1] - passed[k]))
    return np.concatenate([line[: k + 1], cut[None]]), np.concatenate([cut[None], line[k + 1 :]])


def opening(line: Line, middle: float, width: float) -> tuple[Line, Line]:
    """What is left of a line before and after a dart with its middle there, its ends `width` apart."""
    half = width / 2
    for _ in range(4):
        before, rest = parted(line, middle - half)
        _, after = parted(rest, 2 * half)
        half *= width / math.dist(before[-1], after[0])
    return before, after


def meeting(p: Point, d: Point, q: Point, e: Point) -> Point:
    """Where the line through p along d meets the line through q along e."""
    return plus(p, d, cross(less(q, p), e) / cross(d, e))


def beside(line: Line, width: float) -> Line:
    """The line of a seam allowance, outside a ring that runs clockwise."""
    made: Line = shapely.get_coordinates(shapely.offset_curve(shapely.linestrings(line), width, quad_segs=8, join_style="mitre"))
    return made


def cap(apex: Point, before: Line, after: Line) -> list[Point]:
    """The cut line over a dart pressed to the leg of `after`: the lines beside it laid on and unfolded again."""
    last, first = point(before[-1]), point(after[0])
    leg, other = unit(less(first, apex)), unit(less(last, apex))
    angle = math.atan2(cross(leg, other), dot(leg, other))
    way = unit(less(point(after[1]), first))
    start = meeting(first, way, apex, leg)
    top = meeting(first, way, apex, turned(leg, -angle / 2))
    peak = plus(apex, turned(less(top, apex), angle), 1.0)
    end = meeting(last, unit(less(last, point(before[-2]))), apex, other)
    return [end, peak, start]


def piece(edges: Mapping[str, Line], dart: tuple[Line, Point, Line]) -> shapely.Polygon:
    """The cut line round edges that follow each other; the waistline is the two parts of `dart` and its apex between."""
    widths = {"waistline": 20.0, "centre": 15.0}
    before, apex, after = dart
    lines = [beside(line, widths.get(name, 10.0)) for name, line in edges.items() if name != "waistline"]
    first, second = beside(before, 20.0), beside(after, 20.0)
    lines.insert(4, np.concatenate([first[:-1], cap(apex, first, second), second[1:]]))
    ring: list[Line] = []
    for line, after_it in zip(lines, [*lines[1:], lines[0]], strict=True):
        ends = [point(one) for one in (line[-1], line[-2], after_it[0], after_it[1])]
        corner = meeting(ends[0], less(ends[0], ends[1]), ends[2], less(ends[3], ends[2]))
        ring += [line[1:-1], np.array([corner])]
    made = shapely.polygons(np.concatenate(ring))
    sewing = [line if name != "waistline" else np.concatenate([before, [apex], after]) for name, line in edges.items()]
    if not shapely.is_valid([made, shapely.polygons(np.concatenate(sewing))]).all():
        raise ValueError("the outline crosses itself")
    return made


def half(body: Mapping[str, float], back: bool) -> tuple[shapely.Polygon, float, float, float]:
    """The cut line of one piece, and the lengths of its side, shoulder and waistline."""
    quarter, depth = body["bust_girth"] / 4 + 20, body["bust_girth"] / 12 + 125
    neck, high = body["neck_base_girth"] / 6, body["back_neck_point_to_waist"]
    width = max((quarter - body["natural_waist_girth"] / 4 - 10) / 2, 10.0)
    neck_point, side_waist = (neck, high + neck / 3), (quarter - width, 8.0)
    shoulder_point, underarm = plus(neck_point, (120.0, -40.0), 1.0), (quarter, high - depth)
    pitch = (body["bust_girth"] / 8 + (70 if back else 60), high - depth * 0.6)
    top = (0.0, high if back else high - neck)
    slope, fall = unit(less(shoulder_point, neck_point)), unit(less(side_waist, underarm))
    waist = curve(side_waist, (0.0, 0.0), turned(fall, -math.pi / 2), (-1.0, 0.0))
    before, after = opening(waist, long(waist) - quarter / 2, width)
    left, right = point(before[-1]), point(after[0])
    apex = plus(plus(left, less(right, left), 0.5), turned(unit(less(right, left)), -math.pi / 2), 120.0)
    edges = {
        "neckline": curve(top, neck_point, (1.0, 0.0), turned(slope, math.pi / 2)),
        "shoulder": np.array([neck_point, shoulder_point]),
        "armhole": through(shoulder_point, pitch, underarm, turned(slope, -math.pi / 2), (1.0, 0.0)),
        "side": np.array([underarm, side_waist]),
        "waistline": waist,
        "centre": np.array([(0.0, 0.0), top]),
    }
    cut = piece(edges, (before, apex, after))
    return cut, long(edges["side"]), long(edges["shoulder"]), long(before) + long(after)


def draft(body: Mapping[str, float]) -> tuple[shapely.Polygon, shapely.Polygon]:
    """The cut lines of back and front of one body, its seams and its waist checked."""
    back, *of_back = half(body, True)
    front, *of_front = half(body, False)
    if not all(abs(a - b) < 1.0 for a, b in zip(of_back[:2], of_front[:2], strict=True)):
        raise ValueError("a seam does not fit")
    if 2 * (of_back[2] + of_front[2]) < 500:
        raise ValueError("the waist is too tight")
    return back, front
