"""Levels of the body on a piece: bust, waist, hip and others, each a line with its name and a tick where it meets a seam."""

from __future__ import annotations

import itertools
from collections import Counter
from collections.abc import Container, Mapping, Sequence
from dataclasses import replace

import numpy as np
import shapely

from ..geometry.lanes import norm
from ..geometry.length import least_away, nearest
from ..geometry.path import Path, chain, line
from ..geometry.tolerances import COINCIDE
from ..pattern.piece import Piece, Side
from .lines import flat, ring_points
from .marks import Label, Layer, Line, Mark, Reals
from .room import Room
from .signs import TICK, across
from .texts import NEAR_ENDS, edge_name
from .wording import Levels

LAYERS: dict[Levels, Layer] = {"light": "level", "strong": "level_strong"}

BEFORE_WORDS = 1.2
"""A line of the body is broken so far (mm) before words."""

SHORTEST = 2.0
"""Less of a level than this (mm) is not drawn."""

NEAR = 0.5
"""How near (mm) to an edge a level ends that ends on it."""

MOVED = 20.0
"""As far (mm) as truing moves an edge, where a style does not say otherwise, a level that ended on it is carried on."""

GOES_ON = float(np.cos(np.radians(35.0)))
"""A stroke that turns off from a part of a level by less than this (the cosine of the angle) goes on as it does."""


def level_sides(piece: Piece) -> list[tuple[str, Side]]:
    """The lines of a piece of one body that are levels, each with what it is the level of; where darts part one, each part.
    Parts that meet, where only others' darts part it, are one, so that a body is drawn with others as it is alone."""
    made: list[tuple[str, Side]] = []
    for side in piece.lines:
        sign = piece.sign_of(side)
        if sign is None or sign.kind != "level":
            continue
        before = made[-1][1] if made and made[-1][1].names == side.names else None
        if before is not None and float(norm(before.drawn.end - side.drawn.start).max()) < COINCIDE:
            made[-1] = sign.level, replace(side, path=_one(before.drawn, side.drawn))
        else:
            made.append((sign.level, side))
    return made


def _one(a: Path, b: Path) -> Path:
    """Two paths that meet as one; straight ones in line are one straight line, as a level is before it is parted."""
    whole = chain([a, b])
    if not all(whole.straight):
        return whole
    corners = [*(whole.controls[:, k, 0] for k in range(whole.spans)), whole.end]
    kept = corners[:1]
    for here, after in itertools.pairwise(corners[1:]):
        if float(nearest(line(kept[-1], after), here)[1].max()) > COINCIDE:  # where a panel was turned
            kept.append(here)
    return chain([line(start, end) for start, end in itertools.pairwise([*kept, corners[-1]])])


def level_ticks(piece: Piece, sewn: Container[str], how: Levels) -> list[Mark]:
    """Across each level, a little inside the edge it ends on, where that is sewn: there the pieces of a seam must meet."""
    marks: list[Mark] = []
    for _, side, points in _drawn(piece, how):
        for end, before in ((points[0], points[1]), (points[-1], points[-2])):
            if _meets_seam(piece, end, sewn):
                way = (before - end) / np.linalg.norm(before - end)
                at, arm = end + 1.5 * TICK * way, TICK * across(way)
                marks.append(Line(LAYERS[how], np.stack([at - arm, at + arm]), solid=True, source=side.names[-1]))
    return marks


def _meets_seam(piece: Piece, end: Reals, sewn: Container[str]) -> bool:
    shut = piece.dart_sides()
    edges = (side for i, side in enumerate(piece.ring) if i not in shut and any(name in sewn for name in side.names))
    paths, point = (side.drawn for side in edges), end[None]
    return any(least_away(path, point)[0] <= NEAR and nearest(path, point)[1][0] <= NEAR for path in paths)


def level_names(room: Room, piece: Piece, how: Levels, called: Mapping[str, str]) -> list[Label]:
    """What each level is called once, on its longest part, near an edge and over no other words; none where there is no room."""
    parts: dict[str, list[Reals]] = {}
    for level, _, points in _drawn(piece, how):
        parts.setdefault(level, []).append(points)
    found: list[Label] = []
    for name, runs in parts.items():
        run = max(runs, key=lambda points: float(np.linalg.norm(points[-1] - points[0])))
        run = run if run[-1][0] >= run[0][0] else run[::-1]  # above a line that runs to the right, then below it
        said = called.get(name, name)
        label = _named(room, run, said, name) or _named(room, run[::-1], said, name)
        if label is not None:
            room.take_rows([label])
            found.append(label)
    return found


def _named(room: Room, run: Reals, said: str, name: str) -> Label | None:
    return edge_name(room, run, said.replace("_", " "), name, NEAR_ENDS)


def level_lines(piece: Piece, words: Sequence[Label], how: Levels) -> list[Mark]:
    """The levels themselves, broken where words stand."""
    drawn = _drawn(piece, how)
    if not drawn:
        return []
    boxes = shapely.union_all(shapely.buffer(shapely.polygons(np.stack([label.box for label in words])), BEFORE_WORDS))
    marks: list[Mark] = []
    for _, side, points in drawn:
        for part in shapely.get_parts(shapely.LineString(points).difference(boxes)):
            if not part.is_empty:  # words may stand on all of it
                marks.append(Line(LAYERS[how], shapely.get_coordinates(part), source=side.names[-1]))
    return marks


def _drawn(piece: Piece, how: Levels) -> list[tuple[str, Side, Reals]]:
    """Levels as points (n, 2), as far as they lie on the cloth: operations may have carried some beyond a new edge. Parts that
    cloth let in has moved apart are one again; a scrap that no more than hangs in the middle is left out."""
    levels = level_sides(piece) if how in LAYERS else []
    if not levels:
        return []
    cloth = shapely.make_valid(shapely.Polygon(ring_points(piece.ring))).buffer(NEAR)
    for hole in piece.holes:
        cloth = cloth.difference(shapely.make_valid(shapely.Polygon(ring_points(hole.sides))))
    found: list[tuple[str, Side, Reals]] = []
    for level, side in levels:
        for part in shapely.get_parts(shapely.LineString(flat(side.drawn)).intersection(cloth)):
            if part.length > SHORTEST:
                found = _gone_on(found, (level, side, shapely.get_coordinates(part)), cloth)
    parted = {name for name, count in Counter(side.names for _, side, _ in found).items() if count > 1}
    edge = shapely.LinearRing(ring_points(piece.ring))
    reached = [(level, side, _to_edge(run, edge) if side.names in parted else run) for level, side, run in found]
    return [one for one in reached if one[1].names not in parted or _is_held(one, reached, edge)]


def _to_edge(points: Reals, edge: shapely.Geometry) -> Reals:
    """The run (n, 2), each end carried on to an edge that truing has moved from it."""
    for _ in range(2):
        points = points[::-1]
        way = (points[-1] - points[-2]) / np.linalg.norm(points[-1] - points[-2])
        met = edge.intersection(shapely.LineString([points[-1], points[-1] + MOVED * way]))
        if not met.is_empty and edge.distance(shapely.Point(points[-1])) > NEAR:
            points = np.concatenate([points, shapely.get_coordinates(shapely.shortest_line(shapely.Point(points[-1]), met))[1:]])
    return points


def _gone_on(
    found: list[tuple[str, Side, Reals]], part: tuple[str, Side, Reals], cloth: shapely.Geometry
) -> list[tuple[str, Side, Reals]]:
    """The parts with one more, joined to the last of its line where a straight stroke over the cloth between goes on as both."""
    level, side, points = part
    if found and found[-1][1].names == side.names:
        before = found[-1][2]
        stroke = np.stack([before[-1], points[0]])
        ways = [np.diff(run, axis=0)[0] for run in (before[-2:], stroke, points[:2])]
        longs = [float(np.linalg.norm(way)) for way in ways]
        if longs[1] < NEAR or (
            all(float(ways[k] @ ways[1]) > GOES_ON * longs[k] * longs[1] for k in (0, 2))
            and cloth.contains(shapely.LineString(stroke))
        ):
            return [*found[:-1], (level, side, np.concatenate([before, points]))]
    return [*found, part]


def _is_held(part: tuple[str, Side, Reals], found: Sequence[tuple[str, Side, Reals]], edge: shapely.Geometry) -> bool:
    """Whether a part of a level ends on an edge, or where another line of that level begins, as at a centre."""
    level, side, points = part
    others = [end for name, one, run in found if name == level and one.names != side.names for end in (run[0], run[-1])]
    return any(
        shapely.distance(edge, shapely.Point(end)) <= 2 * NEAR
        or any(float(np.linalg.norm(end - other)) <= NEAR for other in others)
        for end in (points[0], points[-1])
    )
