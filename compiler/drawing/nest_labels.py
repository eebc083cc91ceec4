"""The sizes written in their lines: where lines lie furthest apart, staggered so that they form a slant across the nest."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from itertools import pairwise
from typing import Protocol

import numpy as np
import shapely
from numpy.typing import NDArray

from ..finish.finished import FinishedPiece
from ..grading.lines import resampled, stretches
from .lettering import text_room
from .lines import obstacles
from .marks import Circle, Label, Line, Mark, Reals
from .signs import across, centred, readable

HEIGHT, SAMPLE_HEIGHT = 2.5, 3.5
"""Of the capitals of a size, mm."""

IN_LINE = 1.9
"""Lines at least so far apart (mm) have their sizes written in them; nearer ones have one label beside them."""

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

ONE_LINE = 0.5
"""Lines nearer to each other than this (mm) are one."""

IN_BUNDLE = 2.5
"""A bundle of lines no wider than this (mm) is broken for its label as one line is."""

ON_CUT = 0.1
"""So near (mm) to the cut line a place lies on it."""


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
    size lies outward of the sample (sizes, places), where all of them are cut (places), and from place to place, mm."""

    points: Reals
    way: Reals
    outward: Reals
    cut: NDArray[np.bool_]
    pitch: float

    def bundles(self, at: int) -> tuple[tuple[int, ...], ...]:
        """The sizes at a place from inside out, those together whose lines are too near to each other to be written in."""
        order = np.argsort(self.outward[:, at], kind="stable").tolist()
        found = [[order[0]]]
        for one, two in pairwise(order):
            if self.outward[two, at] - self.outward[one, at] < IN_LINE:
                found[-1].append(two)
            else:
                found.append([two])
        return tuple(tuple(some) for some in found)


def size_labels(sizes: Sequence[Laid], sample: int, drawn: Sequence[Mark]) -> list[Mark]:
    """A label for each size along every edge, none on another, on a notch or on a corner."""
    taken = [shapely.LineString(run).buffer(CLEAR) for run in obstacles([mark for mark in drawn if _in_the_way(mark)])]
    names, found = [one.name for one in sizes], list[Mark]()
    for edge in _edges(sizes, sample):
        times = max(1, round(PLACES * edge.pitch / AGAIN))
        for k in range(times):
            within = range(PLACES * k // times + 4, PLACES * (k + 1) // times - 3)
            labels = _in_one_place(edge, names, sample, within, shapely.STRtree(taken))
            found += labels
            taken += [shapely.Polygon(label.box).buffer(CLEAR) for label in labels]
    return found


def _in_the_way(mark: Mark) -> bool:
    return mark.layer == "notch" or (isinstance(mark, Line) and mark.filled) or isinstance(mark, Circle)


def _edges(sizes: Sequence[Laid], sample: int) -> Iterator[_Edge]:
    rows = [stretches(one.cloth) for one in sizes]
    cuts = [shapely.linearrings(one.there(one.cloth.cut[0])) for one in sizes]
    for key, mine in rows[sample].items():
        runs = [row[key] for row in rows if key in row]
        long = float(np.linalg.norm(np.diff(mine, axis=0), axis=1).sum())
        if long < SHORTEST or len(runs) < len(rows):
            continue
        points = np.stack([one.there(resampled(run, PLACES + 1)) for one, run in zip(sizes, runs, strict=True)])
        off = np.array([shapely.distance(cut, shapely.points(row)) for cut, row in zip(cuts, points, strict=True)])
        way = np.gradient(points[sample], axis=0)
        way /= np.maximum(np.linalg.norm(way, axis=1, keepdims=True), 1e-9)
        outward = np.einsum("kni,ni->kn", points - points[sample], -across(way))
        yield _Edge(points, way, outward, np.all(off < ON_CUT, axis=0), long / PLACES)


def _in_one_place(edge: _Edge, names: Sequence[str], sample: int, within: range, taken: shapely.STRtree) -> list[Label]:
    """The labels of a part of an edge: where most sizes can be told apart, as near to its middle as there is room, on a slant
    or, where that finds none, side by side; none where no size is cut there, or there is no room at all."""
    middle = (within[0] + within[-1]) / 2
    bundled = {at: edge.bundles(at) for at in within if edge.cut[at]}
    tries = sorted(bundled, key=lambda at: (-len(bundled[at]), abs(at - middle)))
    room = max((text_room(name, HEIGHT) for name in names), default=0.0) + CLEAR
    for slant in (room, room / 2, 0.0):
        for at in tries[::2]:
            labels = _slanted(edge, names, sample, bundled, at, slant / edge.pitch)
            if labels and _free(labels, taken):
                return labels
    return []


def _slanted(
    edge: _Edge, names: Sequence[str], sample: int, bundled: Mapping[int, tuple[tuple[int, ...], ...]], at: int, step: float
) -> list[Label]:
    """Labels of all bundles about a place, each so many places further on than the one inside of it; none where they are bundled
    otherwise there."""
    bundles = bundled[at]
    spots = [round(at + (rank - (len(bundles) - 1) / 2) * step) for rank in range(len(bundles))]
    if any(bundled.get(spot) != bundles for spot in spots):
        return []
    return [
        _of_bundle(edge, names, sample, some, spot, rank, len(bundles))
        for rank, (some, spot) in enumerate(zip(bundles, spots, strict=True))
    ]


def _of_bundle(
    edge: _Edge, names: Sequence[str], sample: int, some: tuple[int, ...], at: int, rank: int, count: int
) -> Label:
    """The label of lines that lie together: in them, or beside them where they are too broad a bundle for that."""
    first, last = edge.outward[some[0], at], edge.outward[some[-1], at]
    text = names[some[0]] if len(some) == 1 else _together([names[k] for k in sorted(some)])
    if len(some) == len(names) > 1 and last - first < ONE_LINE:
        text = "all sizes"
    if len(some) > 1 and (last - first > IN_BUNDLE or count == 1):
        outward = rank == count - 1
        line, sign = (edge.points[some[-1]], 1.0) if outward else (edge.points[some[0]], -1.0)
        aside = sign * (BESIDE + HEIGHT / 2) * -across(edge.way[at])
        return centred(text, line[at] + aside, HEIGHT, readable(edge.way[at]), "sizes")
    line = edge.points[some[len(some) // 2]]
    height = SAMPLE_HEIGHT if some == (sample,) else HEIGHT
    way = line[min(at + 1, PLACES)] - line[max(at - 1, 0)]
    return centred(text, line[at], height, readable(way), f"size {text}", boxed=True)


def _together(names: Sequence[str]) -> str:
    """`80 to 92`, in the order of the chart, or two."""
    return f"{names[0]} to {names[-1]}" if len(names) > 2 else " and ".join(names)


def _free(labels: Sequence[Label], taken: shapely.STRtree) -> bool:
    boxes = [shapely.Polygon(label.box) for label in labels]
    alone = all(not a.intersects(b) for k, a in enumerate(boxes) for b in boxes[k + 1 :])
    return alone and not taken.query(boxes, "intersects").size
