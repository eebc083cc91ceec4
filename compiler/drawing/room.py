"""Finding room for text inside a piece: what is taken, and where a block of a given size still fits."""

from __future__ import annotations

from collections.abc import Iterable

import numpy as np
import shapely

from .marks import Reals, turned

CLEAR = 2.0
"""No letter comes nearer than this (mm) to a line."""

COARSE = 0.2
"""Room is found round lines that are this much (mm) coarser than those drawn, and kept that much further off."""

TRIES = 28
"""Places tried along each side of the room's bounding box."""

SHORTEST_GRAIN = 20.0
"""An arrow along the grain shorter than this (mm) cannot be laid to the cloth's edge with any care."""

FAR = 5000.0
"""Beyond the end of any piece, mm."""

AT_EASE = 14.0
"""More clear space round a block than this (mm) makes it no better."""


class Room:
    """The inside of a piece, less what is drawn there. Grows smaller with every mark taken note of."""

    def __init__(self, ring: Reals) -> None:
        """`ring` (n, 2): the sewing line, closed, first point not repeated."""
        self.inside = shapely.make_valid(shapely.Polygon(ring))
        self.free = self.inside.buffer(-CLEAR)

    def take(self, lines: Iterable[Reals], clear: float = CLEAR) -> None:
        """Lines of points (n, 2) that no text may come near."""
        shapes = [shapely.LineString(points) for points in lines if len(points) > 1]
        if shapes:
            near = shapely.buffer(shapely.simplify(shapes, COARSE), clear + COARSE, quad_segs=4)
            self.free = self.free.difference(shapely.union_all(near))

    def take_area(self, corners: Reals, clear: float = 1.0) -> None:
        """The convex area about points (n, 2)."""
        self.free = self.free.difference(shapely.MultiPoint(corners).convex_hull.buffer(clear))

    def holds(self, corners: Reals) -> bool:
        return bool(self.free.contains(shapely.Polygon(corners)))

    def place(self, width: float, height: float, angle: float) -> Reals | None:
        """Middle (2,) of the best place for a block of this size (mm) turned by `angle` degrees, or None."""
        level = shapely.transform(self.free, lambda points: points @ turned(-angle))
        if level.is_empty:
            return None
        left, bottom, right, top = level.bounds
        x, y = np.linspace(left, right, TRIES + 2)[1:-1], np.linspace(bottom, top, TRIES + 2)[1:-1]
        middles = np.stack(np.meshgrid(x, y), axis=-1).reshape(-1, 2)
        half = np.array([width, height]) / 2
        low, high = middles - half, middles + half
        fits = (low >= [left, bottom]).all(axis=1) & (high <= [right, top]).all(axis=1)
        middles, low, high = middles[fits], low[fits], high[fits]
        boxes = shapely.box(low[:, 0], low[:, 1], high[:, 0], high[:, 1])
        shapely.prepare(level)
        held = np.asarray(shapely.contains(level, boxes), dtype=bool)
        if not held.any():
            return None
        clear = np.minimum(shapely.distance(level.boundary, boxes[held]), AT_EASE)
        aside = np.linalg.norm(middles[held] - np.array(level.centroid.coords[0]), axis=1)
        best = int(np.argmax(np.round(clear - 0.05 * aside, 6)))
        chosen: Reals = middles[held][best] @ turned(angle)
        return chosen

    def heart(self) -> Reals:
        """The point (2,) furthest from every edge of the piece."""
        spoke = shapely.maximum_inscribed_circle(self.inside, tolerance=0.5)
        return np.asarray(spoke.coords[0], dtype=np.float64)

    def right_side(self) -> Reals:
        """A point (2,) a little inside the right edge, level with the heart: where a leader from the right may end."""
        heart = self.heart()
        level = shapely.LineString([heart, heart + np.array([FAR, 0.0])]).intersection(self.inside)
        first = min(shapely.get_parts(level), key=lambda part: float(part.distance(shapely.Point(heart))))
        return np.array([max(first.bounds[2] - CLEAR / 2.0, heart[0]), heart[1]])

    def longest(self, way: Reals, near: Reals, most: float, clear: float = 8.0) -> Reals | None:
        """Ends (2, 2) of a long free line along the unit direction `way`, near the point `near`, or None.

        Lines 3 mm apart are tried; one further from `near` must be longer by most of that distance to win.
        """
        free = self.free.buffer(CLEAR - clear)
        if free.is_empty:
            return None
        across = np.array([-way[1], way[0]])
        shadow = shapely.get_coordinates(free) @ across
        middles = np.arange(shadow.min() + 1.5, shadow.max(), 3.0)[:, None] * across + way * (near @ way)
        runs = shapely.linestrings(np.stack([middles - FAR * way, middles + FAR * way], axis=1))
        shapely.prepare(free)
        parts = shapely.get_parts(shapely.intersection(runs, free))
        parts = parts[shapely.length(parts) >= SHORTEST_GRAIN]
        if not parts.size:
            return None
        score = np.minimum(shapely.length(parts), most) - 0.7 * shapely.distance(parts, shapely.Point(near))
        ends = shapely.get_coordinates(parts[int(np.argmax(np.round(score, 6)))])
        return _shortened(ends, way, near, most)


def _shortened(ends: Reals, way: Reals, near: Reals, most: float) -> Reals:
    """The line cut to `most` mm about the place next to `near`, from its end against `way` to its end along it."""
    marks = np.sort(ends @ way)
    half = min(most, marks[1] - marks[0]) / 2
    middle = float(np.clip(near @ way, marks[0] + half, marks[1] - half))
    across = np.array([-way[1], way[0]])
    foot = across * (ends[0] @ across)
    return np.stack([foot + way * (middle - half), foot + way * (middle + half)])
