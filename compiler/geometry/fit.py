"""Truing: one smooth span in place of a kinked edge, or a few."""

import numpy as np

from . import cubic
from .lanes import FloatArray, dot, join, norm, ordered_sum, pick, spread, unit
from .length import polish_nearest
from .path import CHORDS, Path, flatten_fixed
from .spline import hobby

_ROUNDS = 4
_FINE = 24  # places on the chain for each span that is drawn through it
_SHORTEST, _LONGEST = 0.1, 1.5  # handles, in chords: outside, least squares has lost its hold or draws a corner


def smooth_fit(
    points: FloatArray | Path, leaving: FloatArray | None = None, arriving: FloatArray | None = None
) -> tuple[Path, FloatArray]:
    """One smooth span from the first to the last point that lies close to a chain of points (L, n, 2) or a path.

    Least squares over the chain, evenly along its length, with new parameters after every round. leaving and arriving
    (L, 2) are unit directions of travel at the ends; by default, those of the best cubic without such a condition.
    Returns the path and the largest distance (L,) of the chain from it, mm. Lanes whose handles come out too short or
    too long get Hobby's handles instead.
    """
    vertices = flatten_fixed(points, CHORDS) if isinstance(points, Path) else points
    chain, t = _along(vertices)
    first, last = chain[:, 0], chain[:, vertices.shape[1] - 1]
    if leaving is None or arriving is None:
        c = _free_fit(chain, t, first, last)
        size = norm(last - first)
        out, into = c[:, 1] - first, last - c[:, 2]
        leaving = unit(pick(norm(out) > 0.01 * size, out, c[:, 2] - first)) if leaving is None else leaving
        arriving = unit(pick(norm(into) > 0.01 * size, into, last - c[:, 1])) if arriving is None else arriving
    fallback = hobby(join([first[:, None], last[:, None]], 1), leaving, arriving).controls[:, 0]
    chain = spread(chain, fallback.shape[0])
    c = fallback
    for _ in range(_ROUNDS):
        c = _held_fit(chain, t, leaving, arriving, fallback)
        t = polish_nearest(c[:, None], chain, t, np.zeros(1), np.ones(1), 1)
    t = polish_nearest(c[:, None], chain, t, np.zeros(1), np.ones(1), 8)
    deviation = norm(cubic.at(c[:, None], t) - chain).max(axis=1)
    return Path(c[:, None], (False,)), deviation


def smooth_spans(path: Path, spans: int, leaving: FloatArray, arriving: FloatArray) -> tuple[Path, FloatArray]:
    """As many smooth spans as told from the first to the last point of a path, for an edge of more than one bend.

    They meet at places evenly along it, each where the parabola lies that is closest to the stretch about it, half a span
    each way: steps shorter than a span are evened out, bends are kept. leaving and arriving (L, 2) are unit directions of
    travel at the ends. Returns the path and the largest distance (L,) of the old one from it, mm.
    """
    chain, _ = _along(flatten_fixed(path, CHORDS), _FINE * spans + 1)
    chain = chain[:, -(_FINE * spans + 1) :]
    half = _FINE // 2
    steps = np.arange(-half, half + 1) / half
    # Savitzky and Golay, Analytical Chemistry 36, 1964: the middle of the closest parabola is a weighted mean.
    square, fourth = (steps**2).mean(), (steps**4).mean()
    weights = (fourth - square * steps**2) / (fourth - square**2) / steps.size
    knots = [chain[:, 0]]
    for k in range(1, spans):
        about = chain[:, _FINE * k - half : _FINE * k + half + 1]
        knots.append(ordered_sum(np.moveaxis(about * weights[:, None], 1, -1)))
    made = hobby(np.stack([*knots, chain[:, -1]], axis=1), leaving, arriving)
    return made, _furthest(chain, flatten_fixed(made, CHORDS))


def _furthest(points: FloatArray, line: FloatArray) -> FloatArray:
    """The largest distance (L,) of points (L, n, 2) from a chain of others (L, m, 2)."""
    start, way = line[:, :-1], line[:, 1:] - line[:, :-1]
    size = np.maximum(dot(way, way), 1e-12)
    found = np.zeros(points.shape[0])
    for k in range(points.shape[1]):
        to = points[:, k, None] - start
        share = np.clip(dot(to, way) / size, 0.0, 1.0)
        found = np.maximum(found, norm(to - share[..., None] * way).min(axis=1))
    return found


def _along(vertices: FloatArray, places: int = 33) -> tuple[FloatArray, FloatArray]:
    """The vertices followed by points evenly along their chain, (L, n + places, 2), and their share of its length."""
    lanes, count = vertices.shape[:2]
    steps = norm(vertices[:, 1:] - vertices[:, :-1])
    marks = np.concatenate([np.zeros((lanes, 1)), np.cumsum(steps, axis=1)], axis=1)
    total = np.where(marks[:, -1:] > 0.0, marks[:, -1:], 1.0)
    even = np.broadcast_to(np.linspace(0.0, 1.0, places), (lanes, places))
    place = even * marks[:, -1:]
    at = np.clip((marks[:, None, :] <= place[:, :, None]).sum(axis=2) - 1, 0, count - 2)
    row = np.arange(lanes)[:, None]
    share = (place - marks[row, at]) / np.where(steps[row, at] > 0.0, steps[row, at], 1.0)
    start, stop = vertices[row, at], vertices[row, at + 1]
    samples = start + share[..., None] * (stop - start)
    return np.concatenate([vertices, samples], axis=1), np.concatenate([marks / total, even], axis=1)


def _weights(t: FloatArray) -> tuple[FloatArray, FloatArray, FloatArray, FloatArray]:
    w = 1.0 - t
    return w * w * w, 3.0 * w * w * t, 3.0 * w * t * t, t * t * t


def _free_fit(chain: FloatArray, t: FloatArray, first: FloatArray, last: FloatArray) -> FloatArray:
    """Control points (L, 4, 2) of the cubic between fixed ends that lies closest to the chain."""
    c = cubic.straight(first, last)
    for _ in range(_ROUNDS):
        b0, b1, b2, b3 = _weights(t)
        rest = chain - b0[..., None] * first[:, None] - b3[..., None] * last[:, None]
        a11, a12, a22 = ordered_sum(b1 * b1), ordered_sum(b1 * b2), ordered_sum(b2 * b2)
        det = (a11 * a22 - a12 * a12)[:, None]
        r1, r2 = (ordered_sum(np.moveaxis(b[..., None] * rest, 1, -1)) for b in (b1, b2))
        c1 = (a22[:, None] * r1 - a12[:, None] * r2) / det
        c2 = (a11[:, None] * r2 - a12[:, None] * r1) / det
        c = np.stack([first, c1, c2, last], axis=1)
        t = polish_nearest(c[:, None], chain, t, np.zeros(1), np.ones(1), 1)
    return c


def _held_fit(
    chain: FloatArray, t: FloatArray, leaving: FloatArray, arriving: FloatArray, fallback: FloatArray
) -> FloatArray:
    """Control points (L, 4, 2) of the closest cubic with the ends of `fallback` and handles along the directions."""
    first, last = fallback[:, 0], fallback[:, 3]
    b0, b1, b2, b3 = _weights(t)
    rest = chain - (b0 + b1)[..., None] * first[:, None] - (b2 + b3)[..., None] * last[:, None]
    a11, a22 = ordered_sum(b1 * b1), ordered_sum(b2 * b2)
    a12 = -ordered_sum(b1 * b2) * dot(leaving, arriving)
    r1 = ordered_sum(b1 * dot(rest, leaving[:, None]))
    r2 = -ordered_sum(b2 * dot(rest, arriving[:, None]))
    det = a11 * a22 - a12 * a12
    sound = det > 1e-6 * a11 * a22
    det = np.where(sound, det, 1.0)
    alpha, beta = (a22 * r1 - a12 * r2) / det, (a11 * r2 - a12 * r1) / det
    chord = norm(last - first)
    for handle in (alpha, beta):
        sound &= (handle > _SHORTEST * chord) & (handle < _LONGEST * chord)
    fitted = np.stack([first, first + alpha[:, None] * leaving, last - beta[:, None] * arriving, last], axis=1)
    return np.where(sound[:, None, None], fitted, fallback)
