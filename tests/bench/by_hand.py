"""The draft of `half_bodice.style` as it is written without lanes: one body after the other, floats, shapely for offsets.

It is the baseline of `budgets.py`: the same points, splines, darts, seams, checks and cut lines, but for the cap of the dart,
whose edges are straight here. The areas agree to a thousandth; `budgets.py` sees to that.
"""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence
from itertools import pairwise

import shapely

Point = tuple[float, float]
CHORDS = 64
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


def span(a: Point, b: Point, out: Point, into: Point) -> list[Point]:
    """Points of one cubic from a to b, a left out."""
    way, third = unit(less(b, a)), math.dist(a, b) / 3
    theta, phi = math.atan2(cross(way, out), dot(way, out)), math.atan2(cross(into, way), dot(into, way))
    p, q = plus(a, out, third * handle(theta, phi)), plus(b, into, -third * handle(phi, theta))
    points = []
    for k in range(1, CHORDS + 1):
        t = k / CHORDS
        w = 1 - t
        f, g, h, i = w * w * w, 3 * w * w * t, 3 * w * t * t, t * t * t
        points.append((f * a[0] + g * p[0] + h * q[0] + i * b[0], f * a[1] + g * p[1] + h * q[1] + i * b[1]))
    return points


def curve(a: Point, b: Point, out: Point, into: Point) -> list[Point]:
    return [a, *span(a, b, out, into)]


def through(a: Point, m: Point, b: Point, out: Point, into: Point) -> list[Point]:
    """Two cubics over a middle point, of equal mock curvature there."""
    one, two = unit(less(m, a)), unit(less(b, m))
    turn = math.atan2(cross(one, two), dot(one, two))
    first, last = math.atan2(cross(one, out), dot(one, out)), math.atan2(cross(two, into), dot(two, into))
    d, e = math.dist(a, m), math.dist(m, b)
    theta = (-2 / d * turn - first / d - last / e) / (2 / d + 2 / e)
    way = turned(two, theta)
    return [a, *span(a, m, out, way), *span(m, b, way, into)]


def long(points: Sequence[Point]) -> float:
    return sum(math.dist(p, q) for p, q in pairwise(points))


def parted(points: Sequence[Point], at: float) -> tuple[list[Point], list[Point]]:
    """The chain before and after a length along it."""
    passed = 0.0
    for k, (p, q) in enumerate(pairwise(points)):
        step = math.dist(p, q)
        if passed + step >= at:
            cut = plus(p, less(q, p), (at - passed) / step)
            return [*points[: k + 1], cut], [cut, *points[k + 1 :]]
        passed += step
    raise ValueError("beyond the end")


def opening(line: Sequence[Point], middle: float, width: float) -> tuple[list[Point], list[Point]]:
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


def beside(line: Sequence[Point], width: float) -> list[Point]:
    """The line of a seam allowance, outside a ring that runs clockwise."""
    made = shapely.LineString(line).offset_curve(width, quad_segs=8, join_style="mitre")
    return [(float(x), float(y)) for x, y in made.coords]


def cap(apex: Point, before: Sequence[Point], after: Sequence[Point]) -> list[Point]:
    """The cut line over a dart pressed to the leg of `after`: the lines beside it laid on and unfolded again."""
    leg, other = unit(less(after[0], apex)), unit(less(before[-1], apex))
    angle = math.atan2(cross(leg, other), dot(leg, other))
    way = unit(less(after[1], after[0]))
    start = meeting(after[0], way, apex, leg)
    top = meeting(after[0], way, apex, turned(leg, -angle / 2))
    peak = plus(apex, turned(less(top, apex), angle), 1.0)
    end = meeting(before[-1], unit(less(before[-1], before[-2])), apex, other)
    return [end, peak, start]


def piece(edges: Mapping[str, list[Point]], dart: tuple[list[Point], Point, list[Point]]) -> shapely.Polygon:
    """The cut line round edges that follow each other; the waistline is the two parts of `dart` and its apex between."""
    widths = {"waistline": 20.0, "centre": 15.0}
    before, apex, after = dart
    lines = [(name, beside(line, widths.get(name, 10.0))) for name, line in edges.items() if name != "waistline"]
    first, second = beside(before, 20.0), beside(after, 20.0)
    waist = first[:-1] + cap(apex, first, second) + second[1:]
    lines.insert(4, ("waistline", waist))
    ring: list[Point] = []
    for (_, line), (_, after_it) in zip(lines, [*lines[1:], lines[0]], strict=True):
        corner = meeting(line[-1], less(line[-1], line[-2]), after_it[0], less(after_it[1], after_it[0]))
        ring += [*line[1:-1], corner]
    made = shapely.Polygon(ring)
    sewing = [point for name, line in edges.items() for point in (line if name != "waistline" else [*before, apex, *after])]
    if not made.is_valid or not shapely.Polygon(sewing).is_valid:
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
    mouth = plus(before[-1], less(after[0], before[-1]), 0.5)
    apex = plus(mouth, turned(unit(less(after[0], before[-1])), -math.pi / 2), 120.0)
    edges = {
        "neckline": curve(top, neck_point, (1.0, 0.0), turned(slope, math.pi / 2)),
        "shoulder": [neck_point, shoulder_point],
        "armhole": through(shoulder_point, pitch, underarm, turned(slope, -math.pi / 2), (1.0, 0.0)),
        "side": [underarm, side_waist],
        "waistline": waist,
        "centre": [(0.0, 0.0), top],
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
