"""The end of a path put elsewhere, in another direction, the rest going with it: what truing a corner does to an edge."""

import numpy as np

from . import cubic
from .lanes import FloatArray, norm
from .path import Path, end_direction, reverse
from .tolerances import COINCIDE

_GRID: FloatArray = np.linspace(0.0, 1.0, 33)


def turned_end(path: Path, way: FloatArray, point: FloatArray | None = None) -> tuple[Path, FloatArray]:
    """The path ending at `point` (L, 2), else where it ends, and arriving along the unit direction `way` (L, 2).

    Its start and its direction there stay. One cubic is added along the whole path, the one that bends least, so that spans
    which run smoothly into each other still do; a straight line whose end moves by half as much as it turns becomes a
    parabola. Returns the path, and how far (L,) mm a point of it moves at most. Lanes that end so already are not changed.
    """
    tip = path.end if point is None else point
    same = (norm(way - end_direction(path)) <= COINCIDE) & (norm(tip - path.end) <= COINCIDE)
    if same.all():
        return path, np.zeros(same.shape)
    added = np.where(same[:, None, None, None], 0.0, _added(path, way, tip))
    moved = norm(cubic.at(added[:, :, None], _GRID)).max(axis=(1, 2))
    return Path(path.controls + added, (False,) * path.spans), moved


def turned_start(path: Path, way: FloatArray, point: FloatArray | None = None) -> tuple[Path, FloatArray]:
    """The path leaving `point` (L, 2), else its start, along the unit direction `way` (L, 2), as `turned_end` does it."""
    back, moved = turned_end(reverse(path), -way, point)
    return reverse(back), moved


def end_speed(path: Path) -> FloatArray:
    """Speed (L,) at the end of a path, mm per unit of one parameter all along it: the larger, the further the path moves
    when its end is turned by an angle (4/27 of the speed for each radian, at most)."""
    speed = norm(3.0 * (path.controls[:, -1, 3] - path.controls[:, -1, 2])) / _sizes(path)[:, -1]
    return np.where(speed > COINCIDE, speed, norm(path.end - path.start))


def _added(path: Path, way: FloatArray, tip: FloatArray) -> FloatArray:
    """Control points (L, k, 4, 2) of what is added along a path to shift and turn its end."""
    sizes = _sizes(path)
    shift, push = tip - path.end, end_speed(path)[:, None] * (way - end_direction(path))
    marks = np.concatenate([np.zeros((sizes.shape[0], 1)), np.cumsum(sizes, axis=1)], axis=1)
    marks[:, -1] = 1.0
    low, high = marks[:, :-1], marks[:, 1:]
    third = (high - low) / 3.0
    added = np.zeros(1)
    for amount, value, slope in ((shift, _step, _step_slope), (push, _bump, _bump_slope)):
        # The Bezier form between two marks, from values and slopes there.
        shape = [value(low), value(low) + third * slope(low), value(high) - third * slope(high), value(high)]
        added = added + np.stack(shape, axis=2)[..., None] * amount[:, None, None]
    return added


def _sizes(path: Path) -> FloatArray:
    """Shares (L, k) of one parameter that the spans take, so that speeds are equal on both sides of every joint."""
    out, into = norm(path.controls[:, :, 1] - path.controls[:, :, 0]), norm(path.controls[:, :, 3] - path.controls[:, :, 2])
    rows = [np.ones(path.lanes)]
    for k in range(1, path.spans):
        sound = (into[:, k - 1] > COINCIDE) & (out[:, k] > COINCIDE)
        rows.append(rows[-1] * np.where(sound, out[:, k] / np.where(sound, into[:, k - 1], 1.0), 1.0))
    total = np.zeros(path.lanes)
    for row in rows:
        total = total + row
    return np.stack(rows, axis=1) / total[:, None]


def _step(u: FloatArray) -> FloatArray:
    """From 0 to 1, level at both ends."""
    return u * u * (3.0 - 2.0 * u)


def _step_slope(u: FloatArray) -> FloatArray:
    return 6.0 * u * (1.0 - u)


def _bump(u: FloatArray) -> FloatArray:
    """From 0 to 0, level at the start, with slope 1 at the end."""
    return u * u * (u - 1.0)


def _bump_slope(u: FloatArray) -> FloatArray:
    return u * (3.0 * u - 2.0)
