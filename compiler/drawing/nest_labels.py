"""The sizes written in their lines: where lines lie furthest apart, staggered so that they form a slant across the nest."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from typing import Protocol

import numpy as np
import shapely

from ..finish.finished import FinishedPiece
from ..pattern.piece import Piece
from .lettering import text_room
from .lines import obstacles, on_fold
from .marks import Circle, Label, Line, Mark, Reals
from .signs import across, centred, readable

HEIGHT, SAMPLE_HEIGHT = 2.5, 3.5
"""Of the capitals of a size, mm."""

IN_LINE = 1.9
"""Lines at least so far apart (mm) have their sizes written in them; nearer ones have one label beside them."""

ONE_LINE = 0.3
"""Lines nearer to each other than this (mm) are one."""

SHORTEST = 25.0
"""Along a shorter edge (mm) nothing is written."""

AGAIN = 250.0
"""An edge has its sizes written about every so many mm."""

CLEAR = 1.5
"""Of notches, corners and other labels, mm."""

PLACES = 120
"""Places tried along an edge."""

BESIDE = 2.0
"""How far (mm) beside the outermost line one label for several stands."""


class Laid(Protocol):
    """A size of a piece, laid on the sample."""

    @property
    def name(self) -> str: ...

    @property
    def cloth(self) -> FinishedPiece: ...

    def there(self, points: Reals) -> Reals: ...


@dataclass(frozen=True, eq=False)
class _Edge:
    """A stretch of cut line in every size: `points` (sizes, places, 2), the way it runs on the sample (places, 2), how far each
    size lies outward of the sample (sizes, places), and between places, mm."""

    points: Reals
    way: Reals
    outward: Reals
    pitch: float


def size_labels(sizes: Sequence[Laid], sample: int, drawn: Sequence[Mark]) -> list[Mark]:
    """A label for each size along every edge, none on another, on a notch or on a corner."""
    taken = [shapely.LineString(run).buffer(CLEAR) for run in obstacles([mark for mark in drawn if _in_the_way(mark)])]
    found: list[Mark] = []
    for edge in _edges(sizes, sample):
        for labels in _along(edge, [one.name for one in sizes], sample, taken):
            found += labels
            taken += [shapely.Polygon(label.box).buffer(CLEAR) for label in labels]
    return found


def _in_the_way(mark: Mark) -> bool:
    return mark.layer == "notch" or (isinstance(mark, Line) and mark.filled) or isinstance(mark, Circle)


def _edges(sizes: Sequence[Laid], sample: int) -> Iterator[_Edge]:
    shares = np.linspace(0.0, 1.0, PLACES + 1)
    if any(bool(one.cloth.patched[0]) for one in sizes):
        return
    rows = [_stretches(one.cloth) for one in sizes]
    for key, mine in rows[sample].items():
        stretches = [row.get(key) for row in rows]
        long = float(np.linalg.norm(np.diff(mine, axis=0), axis=1).sum())
        if long < SHORTEST or any(one is None for one in stretches):
            continue
        points = np.stack([one.there(_resampled(run, shares)) for one, run in zip(sizes, stretches, strict=True) if run is not None])
        way = np.gradient(points[sample], axis=0)
        way /= np.maximum(np.linalg.norm(way, axis=1, keepdims=True), 1e-9)
        outward = np.einsum("kni,ni->kn", points - points[sample], -across(way))
        yield _Edge(points, way, outward, long / PLACES)


def _stretches(cloth: FinishedPiece) -> dict[tuple[str, int], Reals]:
    """The cut line along each side of the outline, by the side's name and its number among those of the name."""
    found: dict[tuple[str, int], Reals] = {}
    count: dict[str, int] = {}
    for number, points in _in_order(cloth.piece, cloth):
        name = cloth.piece.ring[number].names[-1]
        count[name] = count.get(name, 0) + 1
        found[name, count[name]] = points
    return found


def _in_order(piece: Piece, cloth: FinishedPiece) -> Iterator[tuple[int, Reals]]:
    names = [side.names[-1] for side in piece.ring]
    first = min(range(len(names)), key=lambda k: (names[k:] + names[:k], k))
    for k in range(len(names)):
        number = (first + k) % len(names)
        points = cloth.sides[number]
        if points is not None and not on_fold(piece, piece.ring[number]):
            yield number, points[0]


def _resampled(points: Reals, shares: Reals) -> Reals:
    """Points (n, 2) at shares of the length of a run."""
    steps = np.linalg.norm(np.diff(points, axis=0), axis=1)
    marks = np.concatenate([[0.0], np.cumsum(steps)])
    at = shares * marks[-1]
    return np.stack([np.interp(at, marks, points[:, 0]), np.interp(at, marks, points[:, 1])], axis=1)


def _along(edge: _Edge, names: Sequence[str], sample: int, taken: Sequence[shapely.Geometry]) -> Iterator[list[Label]]:
    """The labels of an edge, once or several times along it."""
    tree = shapely.STRtree(list(taken)) if taken else None
    times = max(1, round(PLACES * edge.pitch / AGAIN))
    for k in range(times):
        within = range(PLACES * k // times + 4, PLACES * (k + 1) // times - 3)
        yield _one_of(edge, names, sample, within, tree)


def _one_of(edge: _Edge, names: Sequence[str], sample: int, within: range, tree: shapely.STRtree | None) -> list[Label]:
    if len(names) > 1 and float(np.ptp(edge.outward, axis=0).max()) < ONE_LINE:
        return [_beside(edge, "all sizes", edge.points[sample], within[len(within) // 2])]
    order = np.argsort(edge.outward.mean(axis=1), kind="stable")
    gaps = np.diff(edge.outward[order], axis=0).min(axis=0) if len(names) > 1 else np.full(PLACES + 1, np.inf)
    middle = (within[0] + within[-1]) / 2
    tries = sorted(within, key=lambda at: (-round(min(float(gaps[at]), 2 * IN_LINE), 1), abs(at - middle)))
    widest = max(text_room(name, HEIGHT) for name in names)
    stagger = min((widest + 2.0) / edge.pitch, (len(within) - 1) / max(len(names) - 1, 1))
    best: list[Label] = []
    for at in tries[::3]:
        spots = [round(at + (rank - (len(names) - 1) / 2) * stagger) for rank in range(len(names))]
        if not (within[0] <= min(spots) and max(spots) <= within[-1]):
            continue
        if min(float(gaps[spot]) for spot in spots) < IN_LINE:
            continue
        labels = [_in_line(edge, names[k], int(k), spot, k == sample) for k, spot in zip(order, spots, strict=True)]
        if _free(labels, tree):
            return labels
        best = best or labels
    if best and tree is None:
        return best
    outer = edge.points[order[-1]]
    return [_beside(edge, f"{names[0]} to {names[-1]}" if len(names) > 1 else names[0], outer, int(middle))]


def _free(labels: Sequence[Label], tree: shapely.STRtree | None) -> bool:
    boxes = [shapely.Polygon(label.box) for label in labels]
    alone = all(not a.intersects(b) for k, a in enumerate(boxes) for b in boxes[k + 1 :])
    return alone and (tree is None or not tree.query(boxes, "intersects").size)


def _in_line(edge: _Edge, name: str, size: int, at: int, is_sample: bool) -> Label:
    height = SAMPLE_HEIGHT if is_sample else HEIGHT
    points = edge.points[size]
    way = points[min(at + 1, PLACES)] - points[max(at - 1, 0)]
    return centred(name, points[at], height, readable(way), f"size {name}", boxed=True)


def _beside(edge: _Edge, text: str, line: Reals, at: int) -> Label:
    """One label for several sizes, outward of the outermost line."""
    way = edge.way[at]
    middle = line[at] - across(way) * (BESIDE + HEIGHT / 2)
    return centred(text, middle, HEIGHT, readable(way), "sizes")
