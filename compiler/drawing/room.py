"""Finding room for text inside a piece: what is taken, and where a block of a given size still fits."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from functools import cached_property

import numpy as np
import shapely

from .marks import Label, Reals, turned

CLEAR = 2.0
"""No letter comes nearer than this (mm) to a line."""

WORDS_APART = 2.5
"""Between words that belong to different things, mm: nearer they read as one."""

COARSE = 0.2
"""Room is found round lines that are this much (mm) coarser than those drawn, and kept that much further off."""

TRIES = 28
"""Places tried along each side of the room's bounding box."""

SHORTEST_GRAIN = 20.0
"""An arrow along the grain shorter than this (mm) cannot be laid to the cloth's edge with any care."""

AT_EASE = 14.0
"""More clear space round a block than this (mm) makes it no better."""


TO_JOINT = 3.5
"""Where pages are joined no letter stands nearer than this (mm) to the joint, as long as there is another place."""


class Room:
    """The inside of a piece, less what is drawn there. Grows smaller with every mark taken note of."""

    def __init__(self, ring: Reals, joints: Iterable[Reals] = ()) -> None:
        """`ring` (n, 2): the sewing line, closed, first point not repeated; `joints` (2, 2): where pages will be joined."""
        self.inside = shapely.make_valid(shapely.Polygon(ring))
        self.free = self.inside.buffer(-CLEAR)
        self.joints = shapely.union_all([shapely.LineString(one).buffer(TO_JOINT) for one in joints])

    @property
    def wholes(self) -> tuple[bool, ...]:
        """What to ask for in turn: a place on one page, then any; where no pages are joined the second alone."""
        return (False,) if self.joints.is_empty else (True, False)

    def take(self, lines: Iterable[Reals], clear: float = CLEAR) -> None:
        """Lines of points (n, 2) that no text may come near."""
        shapes = [shapely.LineString(points) for points in lines if len(points) > 1]
        if shapes:
            near = shapely.buffer(shapely.simplify(shapes, COARSE), clear + COARSE, quad_segs=4)
            self.free = self.free.difference(shapely.union_all(near))

    def take_area(self, corners: Reals, clear: float = 1.0) -> None:
        """The convex area about points (n, 2)."""
        self.take_areas(corners[None], clear)

    def take_rows(self, labels: Sequence[Label]) -> None:
        """Rows of text: a block set level as one, so that no other word stands where a row is short; else each for itself."""
        boxes = np.concatenate([label.box for label in labels])
        if len({label.angle for label in labels}) == 1:
            turn = turned(labels[0].angle)
            level = boxes @ turn.T
            (left, bottom), (right, top) = level.min(axis=0), level.max(axis=0)
            boxes = np.array([[left, bottom], [right, bottom], [right, top], [left, top]]) @ turn
        self.take_areas(boxes.reshape(-1, 4, 2), WORDS_APART)

    def take_areas(self, areas: Reals, clear: float = 1.0) -> None:
        """The convex areas about points (m, n, 2)."""
        hulls = shapely.buffer(shapely.convex_hull(shapely.multipoints(areas)), clear)
        self.free = self.free.difference(shapely.union_all(hulls))

    def holds(self, corners: Reals, whole: bool = False) -> bool:
        """Whether an area (n, 2), or each of several (m, n, 2), is free; with `whole`, on one page too."""
        areas = shapely.polygons(corners)
        shapely.prepare([self.free, self.joints])
        return bool(np.all(shapely.contains(self.free, areas))) and not (
            whole and bool(np.any(shapely.intersects(self.joints, areas)))
        )

    def level(self, angle: float, whole: bool = False) -> Level | None:
        """What is free now, turned so that text at `angle` degrees lies level; with `whole`, clear of joints. None where
        nothing is."""
        free = self.free.difference(self.joints) if whole else self.free
        return None if free.is_empty else Level(free, angle)

    @cached_property
    def heart(self) -> Reals:
        """The point (2,) furthest from every edge of the piece."""
        spoke = shapely.maximum_inscribed_circle(self.inside, tolerance=0.5)
        return np.asarray(spoke.coords[0], dtype=np.float64)

    def longest(self, way: Reals, near: Reals, most: float, clear: float = 8.0) -> Reals | None:
        """Ends (2, 2) of a long free line along the unit direction `way`, near the point `near`, or None.

        Lines 3 mm apart are tried; one further from `near` must be longer by most of that distance to win.
        """
        free = self.free.buffer(CLEAR - clear)
        if free.is_empty:
            return None
        turn = np.stack([way, np.array([-way[1], way[0]])], axis=1)
        chains = [shapely.get_coordinates(chain) @ turn for chain in shapely.get_parts(shapely.boundary(free))]
        heights = np.concatenate(chains)[:, 1]
        start, stop, level = _runs(chains, np.arange(heights.min() + 1.5, heights.max(), 3.0))
        beside, aside = near @ turn
        away = np.hypot(np.maximum(np.maximum(start - beside, beside - stop), 0.0), level - aside)
        score = np.where(stop - start >= SHORTEST_GRAIN, np.minimum(stop - start, most) - 0.7 * away, -np.inf)
        if not np.isfinite(score).any():
            return None
        best = int(np.argmax(np.round(score, 6)))
        half = min(most, stop[best] - start[best]) / 2
        middle = float(np.clip(beside, start[best] + half, stop[best] - half))
        ends: Reals = np.array([[middle - half, level[best]], [middle + half, level[best]]]) @ turn.T
        return ends


class Level:
    """A free area turned by `angle` degrees, so that text lies level there: asked for many blocks, turned once."""

    def __init__(self, free: shapely.Geometry, angle: float) -> None:
        self.angle = angle
        self.free = shapely.transform(free, lambda points: points @ turned(-angle))
        self.edge = self.free.boundary
        shapely.prepare([self.free, self.edge])
        left, bottom, right, top = self.free.bounds
        x, y = np.linspace(left, right, TRIES + 2)[1:-1], np.linspace(bottom, top, TRIES + 2)[1:-1]
        middles = np.stack(np.meshgrid(x, y), axis=-1).reshape(-1, 2)
        self.middles = middles[shapely.contains_xy(self.free, middles)]
        self.reach = shapely.distance(self.edge, shapely.points(self.middles))

    def place(self, width: float, height: float) -> Reals | None:
        """Middle (2,), on the piece as it is drawn, of the best place for a block of this size (mm), or None."""
        half = np.array([width, height]) / 2
        middles = self.middles[self.reach > half.min()]  # of no other is the whole block free
        boxes = shapely.box(*(middles - half).T, *(middles + half).T)
        held = np.asarray(shapely.contains(self.free, boxes), dtype=bool)
        if not held.any():
            return None
        clear = np.minimum(shapely.distance(self.edge, boxes[held]), AT_EASE)
        aside = np.linalg.norm(middles[held] - np.array(self.free.centroid.coords[0]), axis=1)
        best = int(np.argmax(np.round(clear - 0.05 * aside, 6)))
        chosen: Reals = middles[held][best] @ turned(self.angle)
        return chosen


def _runs(chains: list[Reals], levels: Reals) -> tuple[Reals, Reals, Reals]:
    """Where level lines run inside an area with closed boundaries (n, 2): start, stop and height (m,) of every run."""
    a, b = (np.concatenate(ends) for ends in zip(*((chain[:-1], chain[1:]) for chain in chains), strict=True))
    # The lower end of an edge belongs to it, the upper one does not: every line crosses the boundary an even number of times.
    first, last = (np.searchsorted(levels, pick(a[:, 1], b[:, 1])) for pick in (np.minimum, np.maximum))
    count = last - first
    edge = np.repeat(np.arange(count.size), count)
    number = np.arange(edge.size) - np.repeat(np.cumsum(count) - count, count) + first[edge]
    share = (levels[number] - a[edge, 1]) / (b[edge, 1] - a[edge, 1])
    along = a[edge, 0] + share * (b[edge, 0] - a[edge, 0])
    order = np.lexsort((along, number))
    return along[order][::2], along[order][1::2], levels[number[order][::2]]
