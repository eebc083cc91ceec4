"""One cubic Bezier: the formulas, for control points (..., 4, 2) and parameters (...) that broadcast.

Only sums and products in a fixed order, so a lane has the same bits alone and in a batch.
"""

import numpy as np

from .lanes import ComplexArray, FloatArray, cross, norm


def at(c: FloatArray, t: FloatArray) -> FloatArray:
    """Points (..., 2). Exactly the end points at t = 0 and t = 1."""
    p, w = _plane(c), 1.0 - t
    outer = w * w * w * p[..., 0] + t * t * t * p[..., 3]
    return _real(3.0 * w * w * t * p[..., 1] + 3.0 * w * t * t * p[..., 2] + outer)


def velocity(c: FloatArray, t: FloatArray) -> FloatArray:
    """First derivative (..., 2), mm per unit of t."""
    p, w = _plane(c), 1.0 - t
    step = p[..., 1:] - p[..., :-1]
    return _real(3.0 * (w * w * step[..., 0] + 2.0 * w * t * step[..., 1] + t * t * step[..., 2]))


def speed(c: FloatArray, t: FloatArray) -> FloatArray:
    """Length (...) of the first derivative, to the bits of `norm(velocity(c, t))`. Each coordinate for itself: what is held
    meanwhile is half as large, and of many lanes that takes less time."""
    w, step = 1.0 - t, c[..., 1:, :] - c[..., :-1, :]
    first, second, third = w * w, 2.0 * w * t, t * t
    x, y = (3.0 * (first * step[..., 0, k] + second * step[..., 1, k] + third * step[..., 2, k]) for k in (0, 1))
    return np.sqrt(x * x + y * y)


def _plane(c: FloatArray) -> ComplexArray:
    """Points (..., 2) as complex numbers (...): numpy is slow on a last axis of two, and the bits are the same."""
    return c.view(np.complex128)[..., 0]


def _real(z: ComplexArray) -> FloatArray:
    return z[..., None].view(np.float64)


def acceleration(c: FloatArray, t: FloatArray) -> FloatArray:
    """Second derivative (..., 2)."""
    p = _plane(c)
    a = p[..., 2] - 2.0 * p[..., 1] + p[..., 0]
    b = p[..., 3] - 2.0 * p[..., 2] + p[..., 1]
    return _real(6.0 * ((1.0 - t) * a + t * b))


def curvature(c: FloatArray, t: FloatArray) -> FloatArray:
    """Signed curvature (...), 1/mm, positive on a left turn; 0 where the curve stands still."""
    first, second = velocity(c, t), acceleration(c, t)
    speed = norm(first)
    moving = speed > 1e-9
    return np.where(moving, cross(first, second) / np.where(moving, speed * speed * speed, 1.0), 0.0)


def split(c: FloatArray, t: FloatArray) -> tuple[FloatArray, FloatArray]:
    """The two parts at t (de Casteljau): same curve exactly, the cut point is one and the same in both."""
    v = t[..., None]
    p0, p1, p2, p3 = (c[..., i, :] for i in range(4))
    a, b, e = p0 + v * (p1 - p0), p1 + v * (p2 - p1), p2 + v * (p3 - p2)
    f, g = a + v * (b - a), b + v * (e - b)
    h = f + v * (g - f)
    return _row(p0, a, f, h), _row(h, g, e, p3)


def straight(a: FloatArray, b: FloatArray) -> FloatArray:
    """The straight cubic from a to b (..., 2): control points at thirds."""
    step = (b - a) / 3.0
    return _row(a, a + step, b - step, b)


def _row(a: FloatArray, b: FloatArray, c: FloatArray, d: FloatArray) -> FloatArray:
    """Control points (..., 4, 2) of four points, `b` of as many lanes as all: filled in, which takes less than stacking."""
    made = np.empty((*b.shape[:-1], 4, 2))
    for k, point in enumerate((a, b, c, d)):
        made[..., k, :] = point
    return made


def chord_bend(c: FloatArray) -> FloatArray:
    """The larger second difference M (...): n chords stay within 6 M / (8 n^2) of the curve (Wang's bound)."""
    a = norm(c[..., 2, :] - 2.0 * c[..., 1, :] + c[..., 0, :])
    b = norm(c[..., 3, :] - 2.0 * c[..., 2, :] + c[..., 1, :])
    return np.maximum(a, b)
