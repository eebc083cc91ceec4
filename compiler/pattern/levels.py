"""Levels: lines of the body on a piece, as bust, waist or hip, carried by its cloth; along them the garment is measured.

A level lies on the cloth in parts: what a dart takes out of it is no part. Its parts are inner lines of one name in their
order; where a piece is slashed open or a dart is left unsewn, what lies between two parts is garment too. An edge may be a
level as well, as the waistline of a bodice is.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from types import MappingProxyType

import numpy as np
import shapely
from numpy.typing import NDArray

from ..geometry import cubic
from ..geometry.crossing import paths
from ..geometry.lanes import agree, norm, take, unit
from ..geometry.length import least_away, length, nearest, part
from ..geometry.path import CHORDS, Path, end_direction, flatten_fixed, line, reverse
from .edges import edge_from, edge_path
from .flat import Shapes, flat_around, flat_line
from .inner import GONE
from .marks import OFF_CLOTH, must_be_new
from .piece import Piece, Reals, Side, Sign, Trouble
from .ring import row_keys

NARROW = 1e-3
"""A dart that takes less than this (mm) out of a level does not break it: its apex may lie on the level itself."""

INSET = 0.05
"""How far (mm) inside its ends a level is known to lie on cloth: far below what a tape tells."""

ONWARD = 30.0
"""How far (mm) a level goes straight on to an edge that was drawn anew: farther off it is another edge."""

CLOTH = ".cloth"
"""Under what name a piece keeps its polygons, beside its levels by theirs."""



def with_level(piece: Piece, called: str, path: Path | None, ends: tuple[str, str]) -> Piece:
    """The piece with a level along a path (L), None in a sketch. `ends` are the edges it runs from and to.

    Trouble where an edge is that level already, or with lanes where it does not reach them.
    """
    must_be_new(piece, called)
    if called in levels_of(piece):
        fix = "take the sentence away, or call the level otherwise"
        raise Trouble(f"an edge of the piece is the level `{called}` already", fix)
    parts = [Side((called,), path)]
    if path is not None:
        _must_reach(piece, called, path, ends)
        parts = _on_cloth(piece, parts[0])
    signs = MappingProxyType({**piece.signs, called: Sign("level", level=called, ends=ends)})
    return replace(piece, lines=(*piece.lines, *parts), signs=signs)


def with_level_edge(piece: Piece, called: str, edge: str, ends: tuple[str, str]) -> Piece:
    """The piece with an edge that is a level, as the waistline of a bodice: its sides are named `EDGE.CALLED`, so that what is
    drawn on to it later, as a button stand, is no part of the level.

    Trouble where it does not run from one of the edges `ends` to the other.
    """
    if edge_from(piece, edge, ends[0]) == edge_from(piece, edge, ends[1]):
        raise Trouble(f"`{edge}` meets `{ends[0]}` and `{ends[1]}` at one end", "name the edges it runs between")
    part_of = f"{edge}.{called}"
    ring = tuple(replace(one, names=(*one.names, part_of)) if edge in one.names else one for one in piece.ring)
    return replace(piece, ring=ring, signs=MappingProxyType({**piece.signs, part_of: Sign("level", level=called, ends=ends)}))


def _must_reach(piece: Piece, called: str, path: Path, ends: tuple[str, str]) -> None:
    for edge, tip in zip(ends, (path.start, path.end), strict=True):
        away = _away(edge_path(piece, edge), tip)
        if (off := away > OFF_CLOTH).any():
            fix = f"draw it from `{ends[0]}` to `{ends[1]}`, or name behind `meeting` the edges it begins and ends on"
            raise Trouble(f"the level `{called}` does not reach `{edge}`", fix, off, {f"away from {edge}": away})


def _away(edge: Sequence[Path], point: Reals) -> Reals:
    """How far (L,) mm a point (L, 2) lies from an edge."""
    return np.asarray(np.stack(np.broadcast_arrays(*(nearest(path, point)[1] for path in edge))).min(axis=0))


def _on_cloth(piece: Piece, side: Side) -> list[Side]:
    """A level in its parts, without what darts take out of it. On a body where a dart that others have there does not reach
    it, its parts meet, so that such bodies stay together. Raises Disagreement where lanes meet darts in another order."""
    total = length(side.drawn)
    gaps = [gap for legs in _pairs(piece) if (gap := _gap(side.drawn, total, legs)) is not None]
    if not gaps:
        return [side]
    middles = np.stack(np.broadcast_arrays(*((low + high) / 2.0 for low, high in gaps)), axis=1)
    order = np.argsort(middles, axis=1, kind="stable")
    agree(row_keys(order))
    starts, stops = [np.zeros(1)], []
    for low, high in (gaps[k] for k in order[0]):
        stops.append(np.maximum(low, starts[-1] + NARROW))
        starts.append(np.maximum(high, stops[-1]))
    return [replace(side, path=part(side.drawn, a, b)) for a, b in zip(starts, [*stops, total], strict=True)]


def _pairs(piece: Piece) -> list[tuple[list[Path], list[Path]]]:
    """For each dart its inner and its outer legs, of one with two ends the upper and the lower ones."""
    made = []
    for dart in piece.darts:
        one, two = (piece.sides(leg)[0].drawn for leg in (dart.first, dart.second))
        made.append(([one], [two]))
    for hole in piece.holes:
        upper, lower = hole.legs("upper"), hole.legs("lower")
        inner, outer = ([leg.drawn for leg in both] for both in zip(upper, lower, strict=True))
        made.append((inner, outer))
    return made


def _gap(level: Path, total: Reals, legs: tuple[Sequence[Path], Sequence[Path]]) -> tuple[Reals, Reals] | None:
    """From where to where (L,) mm along a level of a length (L,) a dart takes cloth out; nothing, at the place nearest to its
    mouth, on bodies where it does not reach the level, and None where it reaches it on none.

    A slanting level enters a dart with two ends over an upper leg and leaves it over a lower one."""
    inner, outer = (_first_met(level, paths_of) for paths_of in legs)
    low, high = np.fmin(inner, outer), np.fmax(inner, outer)
    met = np.isfinite(inner) & np.isfinite(outer) & (high - low > NARROW)
    if not met.any():
        return None
    if met.all():
        return low, high
    beside = np.clip(nearest(level, (legs[0][0].start + legs[1][0].end) / 2.0)[0], total * 0.02, total * 0.98)
    return np.where(met, low, beside), np.where(met, high, beside)


def _first_met(level: Path, legs: Sequence[Path]) -> Reals:
    """Where (L,) mm along a level it first meets one of the legs, NaN where it meets none."""
    found = [np.where(met, at, np.nan) for at, _, _, met in (paths(level, leg) for leg in legs)]
    return np.asarray(np.fmin.reduce(np.broadcast_arrays(*found)))


def levels_to(piece: Piece, before: Path, after: Path) -> Piece:
    """The piece with its levels that ended on a path that was its edge until now ending on the path that is: cut short, or gone
    straight on to it. A part that ends near the edge where the next one goes on does not end on it."""

    def to_edge(side: Side) -> Side:
        others = [one.drawn for one in piece.lines if one is not side and set(one.names).intersection(side.names)]
        for _ in range(2):
            goes_on = [(norm(other.start - side.drawn.end) <= NARROW) & (length(other) > 2 * GONE) for other in others]
            side = replace(side, path=reverse(_ended_on(side.drawn, before, after, goes_on)))
            others = [reverse(one) for one in others]
        return side

    return replace(piece, lines=tuple(to_edge(side) if piece.has_sign(side, "level") else side for side in piece.lines))


def _ended_on(level: Path, before: Path, after: Path, goes_on: Sequence[NDArray[np.bool_]]) -> Path:
    """A level that ends on the path `before`, its last span, which is straight, ended on `after`; others as they are, and on
    bodies (L,) where a further part of it goes on from its end."""
    if not level.straight[-1] or not (least_away(before, level.end) <= OFF_CLOTH).any():
        return level
    ends = (length(level) > 2 * GONE) & (_away([before], level.end) <= OFF_CLOTH)
    for further in goes_on:
        ends = ends & ~further
    if not ends.any():
        return level
    start, way = level.controls[:, -1, 0], end_direction(level)
    span = norm(level.end - start)
    reach, _, _, met = paths(line(start, start + (span + ONWARD)[:, None] * way), after)
    ends = ends & met & (reach > NARROW)
    if not ends.any():
        return level
    controls = np.array(np.broadcast_to(level.controls, (ends.size, *level.controls.shape[1:])))
    tip = np.where(ends[:, None], start + np.nan_to_num(reach)[:, None] * way, level.end)
    controls[:, -1] = cubic.straight(controls[:, -1, 0], tip)
    return Path(controls, level.straight)


def levels_of(piece: Piece) -> tuple[str, ...]:
    """The levels a piece, or its sketch, has."""
    drawn = {name for side in (*piece.lines, *piece.ring) for name in side.names}
    return tuple(dict.fromkeys(s.level for name, s in piece.signs.items() if s.kind == "level" and name in drawn))


def level_length(piece: Piece, level: str) -> Reals:
    """How much garment (L,) mm lies along a level of a piece, darts and pleats as sewn; nothing where it has no such level.

    Of a piece that was taken of one of more bodies, what that one comes to: it is measured once, however the bodies part.
    """
    if piece.whole is not None:
        whole, lanes = piece.whole
        return take(level_length(whole, level), lanes)
    if level not in piece.memo:
        piece.memo[level] = _measured(piece, level)
    found: Reals = piece.memo[level]
    return found


def _measured(piece: Piece, level: str) -> Reals:
    names = [name for name, sign in piece.signs.items() if sign.kind == "level" and sign.level == level]
    inner = {name for side in piece.lines for name in side.names}  # an edge may be called as one, as the underarm of a sleeve is
    of_edge = {name for name in names if name not in inner}
    edges = [side.drawn for side in piece.ring if not side.folded and of_edge.intersection(side.names)]
    total: Reals = np.asarray(sum((length(path) for path in edges), np.zeros(1)))
    drawn = ([side.drawn for side in piece.lines if name in side.names] for name in names)
    runs = [run for run in drawn if run]  # an edge that was a level leaves its name behind where it is drawn anew
    if not runs:
        return total
    cloth, outline = _cloth(piece)
    folds = [side.drawn for side in piece.lines if piece.has_sign(side, "fold")]
    for run in runs:
        end, begun = run[0].start, np.zeros(1, dtype=bool)
        for path in run:  # a part that this body does not have is passed over
            there = length(path) > 2 * GONE
            total = total + np.where(there, _inside(path, cloth), 0.0)
            total = total + np.where(there & begun, _between(end, path.start, cloth, outline, folds), 0.0)
            end, begun = np.where(there[:, None], path.end, end), begun | there
    return total


def length_on_cloth(piece: Piece, runs: Sequence[Path]) -> Reals:
    """How much (L,) mm of inner lines lies on the cloth of a piece."""
    cloth, _ = _cloth(piece)
    return np.asarray(sum((_inside(path, cloth) for path in runs), np.zeros(1)))


def lies_on_cloth(piece: Piece, path: Path) -> NDArray[np.bool_]:
    """On which bodies (L,) most of a path lies on the cloth of a piece, and not along its outline."""
    cloth, outline = _cloth(piece)
    within = shapely.difference(cloth, shapely.buffer(outline, 2 * OFF_CLOTH))
    return np.asarray(shapely.length(shapely.intersection(flat_line(path), within)) > length(path) / 2.0)


def cut_away(piece: Piece, level: str) -> dict[str, Reals]:
    """How much (L,) mm of a level other edges than those it runs between cut off a piece, by edge, as a neck below the bust.

    What a dart or a slash takes is none of it, nor is a side that was drawn farther in: there the piece is narrower.
    """
    found: dict[str, Reals] = {}
    signs = [sign for sign in piece.signs.values() if sign.kind == "level" and sign.level == level]
    cloth, outline = _cloth(piece)
    for part_of in (side for side in piece.lines if piece.has_sign(side, "level") and piece.sign_of(side) in signs):
        ends = {end for sign in signs for end in sign.ends}
        for path in (part_of.drawn, reverse(part_of.drawn)):
            tip = shapely.points(path.start)
            outside = ~shapely.covers(cloth, tip) & (shapely.distance(outline, tip) > OFF_CLOTH) & (length(path) > 2 * GONE)
            for edge, off in _cut_by(piece, path).items() if outside.any() else ():
                if not ends.intersection(edge):
                    found[edge[0]] = found.get(edge[0], np.zeros(1)) + np.where(outside, off, 0.0)
        for name, off in _cut_within(piece, part_of.drawn, cloth, outline, ends).items():
            found[name] = found.get(name, np.zeros(1)) + off
    return {edge: off for edge, off in found.items() if (off > OFF_CLOTH).any()}


def _cut_within(piece: Piece, path: Path, cloth: Shapes, outline: Shapes, ends: set[str]) -> dict[str, Reals]:
    """By edge how much (L,) mm of a level that begins and ends on the cloth of a piece it cuts off between, as a low back that
    rises to the underarm."""
    lost = length(path) - _inside(path, cloth)
    found: dict[str, Reals] = {}
    drawn, cloth, outline, lost = np.broadcast_arrays(
        flat_line(path), cloth, outline, lost
    )
    shut = piece.dart_sides()
    others = [side for number, side in enumerate(piece.ring) if number not in shut and not ends.intersection(side.names)]
    edges = [np.broadcast_to(flat_line(side.drawn), drawn.shape) for side in others]
    for lane in np.flatnonzero(lost > OFF_CLOTH):
        for away in shapely.get_parts(shapely.difference(drawn[lane], cloth[lane])):
            tips = shapely.points(shapely.get_coordinates(away)[[0, -1]])
            near = [k for k, edge in enumerate(edges) if shapely.distance(edge[lane], away) <= OFF_CLOTH]
            if near and (shapely.distance(outline[lane], tips) <= OFF_CLOTH).all():
                found.setdefault(others[near[0]].names[0], np.zeros(drawn.size))[lane] += away.length
    return found


def _cut_by(piece: Piece, path: Path) -> dict[tuple[str, ...], Reals]:
    """By the names of an edge how much (L,) mm of a path that starts beyond it lies beyond: up to the ring."""
    shut = piece.dart_sides()
    sides = [side for number, side in enumerate(piece.ring) if number not in shut]
    reach = np.stack(np.broadcast_arrays(*(np.where(met, at, np.inf) for at, _, _, met in (paths(path, s.drawn) for s in sides))))
    first, least = reach.argmin(axis=0), reach.min(axis=0)
    return {
        side.names: np.where((first == number) & np.isfinite(least), least, 0.0)
        for number, side in enumerate(sides)
        if (first == number).any()
    }


def _cloth(piece: Piece) -> tuple[Shapes, Shapes]:
    """The piece as polygons (L,), two-ended darts taken out, and their outlines: worked out once for all its levels."""
    if CLOTH not in piece.memo:
        shapes = shapely.make_valid(flat_around(piece.ring))
        for hole in piece.holes:
            taken = flat_around(hole.sides)
            shapes = shapely.difference(shapes, shapely.make_valid(taken))
        outline = shapely.boundary(shapes)
        shapely.prepare(shapes)
        shapely.prepare(outline)
        piece.memo[CLOTH] = shapes, outline
    made: tuple[Shapes, Shapes] = piece.memo[CLOTH]
    return made


def _inside(path: Path, cloth: Shapes) -> Reals:
    """Length (L,) of what lies on the cloth of a part of a level."""
    points = flatten_fixed(path, CHORDS)
    drawn, over = np.broadcast_arrays(shapely.linestrings(points), np.zeros(cloth.shape))
    # Where all but its ends, which lie on the outline, is covered, nothing is over: the difference is dear.
    inner = points.copy()
    inner[:, 0] += INSET * unit(points[:, 1] - points[:, 0])
    inner[:, -1] += INSET * unit(points[:, -2] - points[:, -1])
    beyond = np.flatnonzero(~np.broadcast_to(shapely.covers(cloth, shapely.linestrings(inner)), drawn.shape))
    over = over.copy()
    over[beyond] = shapely.length(shapely.difference(drawn[beyond], np.broadcast_to(cloth, drawn.shape)[beyond]))
    return np.asarray(length(path) - over)


def _between(a: Reals, b: Reals, cloth: Shapes, outline: Shapes, folds: Sequence[Path]) -> Reals:
    """Length (L,) of the cloth between two parts of a level (L, 2) each: a gap that was opened, or a dart left unsewn.

    Nothing where the parts end on the outline, as at a dart that is sewn, or where a pleat folds the cloth away.
    """
    cloth, outline, *ends = np.broadcast_arrays(cloth, outline, shapely.points(a), shapely.points(b))
    loose = shapely.covers(cloth, ends[0]) & shapely.covers(cloth, ends[1])
    for end in ends:  # what is dear is asked only where it counts
        at = np.flatnonzero(loose)
        loose[at] = ~shapely.dwithin(outline[at], end[at], OFF_CLOTH)
    at = np.flatnonzero(loose)
    if not at.size:
        return np.zeros(1)
    bridge = line(a, b)
    drawn = shapely.linestrings(flatten_fixed(bridge.take(at)))
    drawn = np.broadcast_to(drawn, at.shape).copy()
    over = np.flatnonzero(~shapely.covers(cloth[at], drawn))
    drawn[over] = shapely.intersection(drawn[over], cloth[at][over])
    counted = np.zeros(loose.shape)
    counted[at] = shapely.length(drawn)
    for fold in folds:
        counted = np.where(paths(bridge, fold)[3], 0.0, counted)
    return np.asarray(counted)
