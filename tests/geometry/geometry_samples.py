"""Paths and points the geometry tests share: curves of the size they have on a garment, and random lanes of them."""

import tomllib
from pathlib import Path as FilePath
from typing import Any

import numpy as np
from godet.geometry.curve import hobby
from godet.geometry.lanes import FloatArray
from godet.geometry.path import Path, chain, line
from hypothesis import strategies as st

seeds = st.integers(min_value=0, max_value=2**32 - 1)


def checks(name: str) -> dict[str, Any]:
    """One table of the closed-form checks; lengths there are in cm."""
    data = tomllib.loads((FilePath(__file__).parent.parent / "data" / "geometry_checks.toml").read_text("utf-8"))
    table: dict[str, Any] = data[name]
    return table


def points(seed: int, lanes: int, count: int) -> FloatArray:
    """Points (lanes, count, 2) within half a metre, no two neighbours closer than 20 mm."""
    rng = np.random.default_rng(seed)
    steps = rng.uniform(20.0, 150.0, (lanes, count))
    ways = np.cumsum(rng.uniform(-0.9, 0.9, (lanes, count)), axis=1)
    return np.cumsum(np.stack([steps * np.cos(ways), steps * np.sin(ways)], axis=-1), axis=1)


def outline(seed: int, lanes: int = 4) -> Path:
    """A path of a curve of two spans, a line and a curve of one span, in a row."""
    p = points(seed, lanes, 5)
    return chain([hobby(p[:, :3]), line(p[:, 2], p[:, 3]), hobby(p[:, 3:], tilt(p[:, 4] - p[:, 3], 0.6), None)])


def tilt(way: FloatArray, angle: float) -> FloatArray:
    """Unit directions: `way` (L, 2) turned by an angle in radians."""
    x, y = way[:, 0], way[:, 1]
    turned = np.stack([x * np.cos(angle) - y * np.sin(angle), x * np.sin(angle) + y * np.cos(angle)], axis=-1)
    unit: FloatArray = turned / np.hypot(x, y)[:, None]
    return unit


def at(x: float, y: float) -> FloatArray:
    """One point or direction, one lane."""
    return np.array([[x, y]])


def arc(radius: float, degrees: float) -> Path:
    """Hobby's arc about the origin from (radius, 0), anticlockwise, one span."""
    a = np.radians(degrees)
    ends = radius * np.array([[[1.0, 0.0], [np.cos(a), np.sin(a)]]])
    return hobby(ends, at(0.0, 1.0), at(-np.sin(a), np.cos(a)))


def fine_arc(radius: float, degrees: float, spans: int = 12) -> Path:
    """The same arc in many spans, true to better than a millionth."""
    a = np.radians(degrees) * np.arange(spans + 1) / spans
    on = np.stack([np.cos(a), np.sin(a)], axis=-1)
    tangents = np.stack([-on[:, 1], on[:, 0]], axis=-1)
    pairs = zip(on[:-1], on[1:], tangents[:-1], tangents[1:], strict=True)
    return chain([hobby(radius * np.stack([p, q])[None], v[None], w[None]) for p, q, v, w in pairs])
