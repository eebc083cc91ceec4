"""Levels of the body on a piece: bust, waist, hip and others, each a line with its name and a tick where it meets a seam."""

from __future__ import annotations

import itertools
from collections.abc import Container, Iterator, Sequence
from dataclasses import replace

import numpy as np
import shapely

from ..geometry.lanes import norm
from ..geometry.length import nearest
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
    return any(float(nearest(side.drawn, end[None])[1][0]) <= NEAR for side in edges)


def level_names(room: Room, piece: Piece, how: Levels) -> list[Label]:
    """The name of each level once, on its longest part, near an edge and over no other words; none where there is no room."""
    parts: dict[str, list[Reals]] = {}
    for level, _, points in _drawn(piece, how):
        parts.setdefault(level, []).append(points)
    found: list[Label] = []
    for name, runs in parts.items():
        run = max(runs, key=lambda points: float(np.linalg.norm(points[-1] - points[0])))
        run = run if run[-1][0] >= run[0][0] else run[::-1]  # above a line that runs to the right, then below it
        label = _named(room, run, name) or _named(room, run[::-1], name)
        if label is not None:
            room.take_area(label.box)
            found.append(label)
    return found


def _named(room: Room, run: Reals, name: str) -> Label | None:
    return edge_name(room, run, name.replace("_", " "), name, NEAR_ENDS)


def level_lines(piece: Piece, words: Sequence[Label], how: Levels) -> list[Mark]:
    """The levels themselves, broken where words stand."""
    drawn = [*_drawn(piece, how)]
    if not drawn:
        return []
    boxes = shapely.union_all(shapely.buffer(shapely.polygons(np.stack([label.box for label in words])), BEFORE_WORDS))
    marks: list[Mark] = []
    for _, side, points in drawn:
        for part in shapely.get_parts(shapely.LineString(points).difference(boxes)):
            if not part.is_empty:  # words may stand on all of it
                marks.append(Line(LAYERS[how], shapely.get_coordinates(part), source=side.names[-1]))
    return marks


def _drawn(piece: Piece, how: Levels) -> Iterator[tuple[str, Side, Reals]]:
    """Levels as points (n, 2), as far as they lie on the cloth: operations may have carried some beyond a new edge."""
    levels = level_sides(piece) if how in LAYERS else []
    if not levels:
        return
    cloth = shapely.make_valid(shapely.Polygon(ring_points(piece.ring))).buffer(NEAR)
    for hole in piece.holes:
        cloth = cloth.difference(shapely.make_valid(shapely.Polygon(ring_points(hole.sides))))
    for level, side in levels:
        for part in shapely.get_parts(shapely.LineString(flat(side.drawn)).intersection(cloth)):
            points = shapely.get_coordinates(part)
            if part.length > SHORTEST:
                yield level, side, points
