"""The sizes written in their lines: where lines lie furthest apart, staggered so that they form a slant across the nest. Where an
edge has no place for all of them, each where its own line has room, and those that have none at the end of a leader."""

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

FEW = 2.5
"""Where so many times as many sizes could be told apart as are, each is labelled for itself."""

BETWEEN_LEADERS = 4.5
"""Leaders of one edge stand so far apart (mm), and their labels side by side."""

LEADER_DOT = 0.4
"""Radius (mm) of the dot at which a leader begins."""

LONGEST_LEADER = 60.0
"""mm. Lines further apart than this have room for their labels."""

ON_CUT = 0.1
"""So near (mm) to the cut line a place lies on it."""


Geometries = NDArray[np.object_]


class SizeLaid(Protocol):
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

    def most(self) -> int:
        """How many bundles there are where sizes are told apart best."""
        return max((len(self.bundles(at)) for at in np.flatnonzero(self.cut).tolist()), default=0)

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


def size_labels(sizes: Sequence[SizeLaid], sample: int, drawn: Sequence[Mark]) -> list[Mark]:
    """A label for each size along every edge, none on another, on a notch or on a corner."""
    taken = [shapely.LineString(run).buffer(CLEAR) for run in obstacles([mark for mark in drawn if _in_the_way(mark)])]
    names, found = [one.name for one in sizes], list[Mark]()
    lines = np.array([shapely.linearrings(one.there(one.cloth.cut[0])) for one in sizes])
    shapely.prepare(lines)  # what is asked of their many points is asked for many places of every edge
    without = []
    for edge in _edges(sizes, sample, lines):
        times, most = max(1, round(PLACES * edge.pitch / AGAIN)), 0
        there: list[Mark] = []
        for k in range(times):
            within = range(PLACES * k // times + 4, PLACES * (k + 1) // times - 3)
            labels = _in_one_place(edge, names, sample, within, shapely.STRtree([*taken, *_boxes(there)]), lines)
            most = max(most, len(labels))
            there += labels
        if most * FEW < edge.most():
            without.append((edge, there))
        else:
            found += there
            taken += _boxes(there)
    for edge, there in without:  # which take what room the others leave
        marks, all_of_them = _each_for_itself(edge, names, sample, lines, taken)
        found += marks if all_of_them or not there else there
        taken += _boxes(marks if all_of_them or not there else there)
    return found


def _boxes(marks: Sequence[Mark]) -> list[shapely.Geometry]:
    """The room of labels, and about them."""
    return list(shapely.buffer(_rooms([one for one in marks if isinstance(one, Label)]), CLEAR))


def _rooms(labels: Sequence[Label]) -> Geometries:
    """The room of each label, as a polygon."""
    return np.asarray(shapely.polygons(np.array([one.box for one in labels]).reshape(-1, 4, 2)))


def _each_for_itself(
    edge: _Edge, names: Sequence[str], sample: int, lines: Geometries, taken: Sequence[shapely.Geometry]
) -> tuple[list[Mark], bool]:
    """The labels of an edge none of whose places has room for all, and whether each size has one: each in its own line, as near
    to the middle of that as it meets no other line; of those that always do on leaders, inward or outward. None where all sizes
    have one line."""
    if float(np.ptp(edge.outward, axis=0).max()) < ONE_LINE:
        return [], True
    tree, found = shapely.STRtree(taken), list[Label]()
    tries = sorted(np.flatnonzero(edge.cut).tolist(), key=lambda at: abs(at - PLACES / 2))
    crowded = []
    for k in range(len(names)):
        labels = (_of_bundle(edge, names, sample, (k,), at, 0, 2) for at in tries)
        own = next((one for one in labels if _has_room(one, k, found, tree, lines)), None)
        found += [own] if own else []
        crowded += [] if own else [k]
    leaders = (_leaders(edge, names, crowded, at, sign) for at in tries for sign in (-1.0, 1.0)) if crowded else iter(())
    for some, marks in leaders:
        if some and _free(_rooms([*found, *some]), tree) and not _met(_rooms(some), lines).any():
            return [*found, *some, *marks], True
    return [*found], not crowded


def _met(rooms: Geometries, lines: Geometries) -> NDArray[np.bool_]:
    """Which lines (sizes) each of the rooms (n) meets: (sizes, n)."""
    return np.asarray(shapely.intersects(lines[:, None], rooms))


def _has_room(label: Label, own: int, found: Sequence[Label], taken: shapely.STRtree, lines: Geometries) -> bool:
    """Whether a label meets neither what is there, nor a label found before, nor the line of another size than its own."""
    room = _rooms([label])
    if taken.query(room, "intersects").size or (_met(room, lines).nonzero()[0] != own).any():
        return False
    return not shapely.intersects(room, _rooms(found)).any()


def _leaders(edge: _Edge, names: Sequence[str], some: Sequence[int], at: int, sign: float) -> tuple[list[Label], list[Mark]]:
    """Labels beyond all lines about a place, outward or inward of these, each with a leader from its line; none where they do
    not fit on the edge."""
    bundles = [both for one in edge.bundles(at) if (both := tuple(k for k in one if k in some))]
    step = BETWEEN_LEADERS / edge.pitch
    spots = [round(at + (rank - (len(bundles) - 1) / 2) * step) for rank in range(len(bundles))]
    if spots[0] < 0 or spots[-1] > PLACES:
        return [], []
    out = -sign * across(edge.way[at])
    beyond = float((edge.points[:, spots[0] : spots[-1] + 1] @ out).max()) + BESIDE
    labels, marks = list[Label](), list[Mark]()
    for bundle, spot in zip(bundles, spots, strict=True):
        start = edge.points[bundle[len(bundle) // 2], spot]
        long = beyond - float(start @ out)
        text = names[bundle[0]] if len(bundle) == 1 else _together([names[k] for k in sorted(bundle)])
        if long > LONGEST_LEADER:
            return [], []
        middle = start + (long + CLEAR + text_room(text, HEIGHT) / 2) * out
        labels.append(centred(text, middle, HEIGHT, readable(out), f"size {text}"))
        marks += [Line("trail", np.stack([start, start + long * out]), solid=True, source="leader"), _dot(start)]
    return labels, marks


def _dot(at: Reals) -> Line:
    """Where a leader begins."""
    turns = np.arange(8) * np.pi / 4
    ring = at + LEADER_DOT * np.stack([np.cos(turns), np.sin(turns)], axis=1)
    return Line("trail", ring, closed=True, filled=True, source="leader")


def _in_the_way(mark: Mark) -> bool:
    return mark.layer == "notch" or (isinstance(mark, Line) and mark.filled) or isinstance(mark, Circle)


def _edges(sizes: Sequence[SizeLaid], sample: int, lines: Geometries) -> Iterator[_Edge]:
    rows = [stretches(one.cloth) for one in sizes]
    for key, mine in rows[sample].items():
        runs = [row[key] for row in rows if key in row]
        long = float(np.linalg.norm(np.diff(mine, axis=0), axis=1).sum())
        if long < SHORTEST or len(runs) < len(rows):
            continue
        points = np.stack([one.there(resampled(run, PLACES + 1)) for one, run in zip(sizes, runs, strict=True)])
        on_cut = [shapely.dwithin(cut, shapely.points(row), ON_CUT) for cut, row in zip(lines, points, strict=True)]
        way = np.gradient(points[sample], axis=0)
        way /= np.maximum(np.linalg.norm(way, axis=1, keepdims=True), 1e-9)
        outward = np.einsum("kni,ni->kn", points - points[sample], -across(way))
        yield _Edge(points, way, outward, np.all(on_cut, axis=0), long / PLACES)


def _in_one_place(
    edge: _Edge, names: Sequence[str], sample: int, within: range, taken: shapely.STRtree, lines: Geometries
) -> list[Label]:
    """The labels of a part of an edge: where most sizes can be told apart, as near to its middle as there is room, on a slant
    or, where that finds none, side by side; none where no size is cut there, or there is no room at all."""
    middle = (within[0] + within[-1]) / 2
    bundled = {at: edge.bundles(at) for at in within if edge.cut[at]}
    tries = sorted(bundled, key=lambda at: (-len(bundled[at]), abs(at - middle)))
    room = max((text_room(name, HEIGHT) for name in names), default=0.0) + CLEAR
    for slant in (room, room / 2, 0.0):
        for at in tries[::2]:
            labels = _slanted(edge, names, sample, bundled, at, slant / edge.pitch)
            rooms = _rooms(labels)
            if labels and _stand_alone(rooms, bundled[at], lines) and _free(rooms, taken):
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


def _stand_alone(rooms: Geometries, bundles: Sequence[tuple[int, ...]], lines: Geometries) -> bool:
    """Whether each label meets no lines but those it names."""
    return all(line in bundles[label] for line, label in np.argwhere(_met(rooms, lines)).tolist())


def _free(rooms: Geometries, taken: shapely.STRtree) -> bool:
    """Whether labels meet neither each other nor what is there."""
    one, other = np.triu_indices(len(rooms), 1)
    return not taken.query(rooms, "intersects").size and not shapely.intersects(rooms[one], rooms[other]).any()
