"""Parallels: points or cubics at a signed distance to the left of a path."""

import numpy as np

from . import cubic
from .lanes import FloatArray, agree, dot, join, lane_count, left_of, spread
from .path import Path, evaluate, span_directions
from .tolerances import COINCIDE

_KINK = 1e-4
"""Turn at a joint, in radians, from which the two spans no longer run smoothly into each other."""


def _joint_points(path: Path, d: FloatArray) -> tuple[FloatArray, FloatArray, FloatArray]:
    """Start points and end points (L, k, 2) of each span moved by d along their normals, and the points (L, k + 1, 2)
    where neighbouring spans meet: at a corner, where the tangents moved by d cross."""
    leaving, arriving = (left_of(way) for way in span_directions(path))
    far = d[:, None, None]
    starts = path.controls[:, :, 0] + far * leaving
    ends = path.controls[:, :, 3] + far * arriving
    both = arriving[:, :-1] + leaving[:, 1:]
    # The sum of the two normals, stretched; limited where the path turns back on itself and there is no crossing.
    stretch = far[..., 0] / np.maximum(1.0 + dot(arriving[:, :-1], leaving[:, 1:]), COINCIDE)
    corners = path.controls[:, 1:, 0] + stretch[..., None] * both
    return starts, ends, join([starts[:, :1], corners, ends[:, -1:]], 1)


def parallel(path: Path, d: FloatArray | float, per_curve: int = 64) -> FloatArray:
    """Points (L, n, 2) of the parallel at d (L,) or a number, mm, left of travel positive.

    Exact points, with the true normals at both ends: straight spans give their ends, curved ones `per_curve` chords
    even in t. At a corner the one point where both sides meet. Test `min_clearance` first: on the hollow side of a
    bend tighter than d the points turn back on themselves.
    """
    far = np.atleast_1d(np.asarray(d, dtype=np.float64))
    _, _, joints = _joint_points(path, far)
    t = np.arange(1, per_curve) / per_curve
    rows = [joints[:, :1]]
    for i, flag in enumerate(path.straight):
        if not flag:
            normal = left_of(_inner_directions(path, i, t))
            rows.append(evaluate(path, i, t) + far[:, None, None] * normal)
        rows.append(joints[:, i + 1 : i + 2])
    return join(rows, 1)


def _inner_directions(path: Path, span: int, t: FloatArray) -> FloatArray:
    """Unit directions (L, m, 2) inside a curve."""
    way = cubic.velocity(path.controls[:, span, None], t[None])
    size = np.sqrt(dot(way, way))
    return way / np.where(size > 0.0, size, np.nan)[..., None]


def parallel_curve(path: Path, d: FloatArray | float, pieces: int = 4) -> Path:
    """The parallel at d (L,) or a number, mm, left of travel positive, as a path.

    Each curved span becomes `pieces` cubics with exact ends, and handles B'(1 - d * curvature)/3; the error falls by
    about 16 for each doubling of `pieces`. Straight spans that meet at a corner meet again where they cross; a corner
    on a curve is bridged by a straight span. Raises Disagreement when lanes differ in which joints are corners.
    """
    far = np.atleast_1d(np.asarray(d, dtype=np.float64))
    starts, ends, joints = _joint_points(path, far)
    bridged = _bridges(path)
    spans: list[FloatArray] = []
    flags: list[bool] = []
    for i, flag in enumerate(path.straight):
        first = starts[:, i] if i > 0 and bridged[i - 1] else joints[:, i]
        last = ends[:, i] if i < path.spans - 1 and bridged[i] else joints[:, i + 1]
        made = cubic.straight(first, last)[:, None] if flag else _hermite(path, i, far, (first, last), pieces)
        spans.append(made)
        flags += [flag] * made.shape[1]
        if i < path.spans - 1 and bridged[i]:
            spans.append(cubic.straight(last, starts[:, i + 1])[:, None])
            flags.append(True)
    return Path(join(spans, 1), tuple(flags))


def _bridges(path: Path) -> tuple[bool, ...]:
    """For each inner joint, whether its parallel needs a bridge: a corner with a curve on one side at least."""
    leaving, arriving = span_directions(path)
    turned = dot(arriving[:, :-1], leaving[:, 1:]) < np.cos(_KINK)
    straight = np.array(path.straight)
    turned &= ~(straight[:-1] & straight[1:])
    if not turned.size:
        return ()
    kinds, keys = np.unique(turned, axis=0, return_inverse=True)
    ok = np.isfinite(path.controls.sum(axis=(1, 2, 3)))
    return tuple(bool(k) for k in kinds[agree(keys.reshape(-1), ok)])


def _hermite(path: Path, span: int, far: FloatArray, ends: tuple[FloatArray, FloatArray], pieces: int) -> FloatArray:
    """Control points (L, pieces, 4, 2) of the parallel of one curve, between given end points."""
    t = np.linspace(0.0, 1.0, pieces + 1)[None]
    c = path.controls[:, span, None]
    inner = evaluate(path, span, t[0, 1:-1]) + far[:, None, None] * left_of(_inner_directions(path, span, t[0, 1:-1]))
    points = join([ends[0][:, None], inner, ends[1][:, None]], 1)
    shrink = 1.0 - far[:, None] * cubic.curvature(c, t)
    handles = cubic.velocity(c, t) * (shrink / (3.0 * pieces))[..., None]
    lanes = lane_count(points, handles)
    points, handles = spread(points, lanes), spread(handles, lanes)
    rows = [points[:, :-1], points[:, :-1] + handles[:, :-1], points[:, 1:] - handles[:, 1:], points[:, 1:]]
    return np.stack(rows, axis=2)
