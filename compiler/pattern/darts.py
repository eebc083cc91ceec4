"""Darts: placing them, opening them to an edge, moving their apex, leaving them unsewn, making their legs equal."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
from numpy.typing import NDArray

from ..geometry.lanes import agree, cross, dot, left_of, norm, unit
from ..geometry.length import length, place_at, point_at
from ..geometry.meet import line_path
from ..geometry.path import line, ring_area
from ..geometry.tolerances import COINCIDE
from .inner import parted
from .piece import Dart, Hole, HoleEnd, Piece, Reals, Side, Trouble, leg_names
from .ring import (
    End,
    RingPart,
    RingPlace,
    edge_run,
    edge_total,
    end_of,
    names_there,
    place_on,
    rebuilt,
    record,
    runs_of,
    settled,
    split_ring,
    start_of,
    straight,
    with_ends,
)


def apex_of(piece: Piece, name: str, end: HoleEnd = "upper") -> Reals | None:
    """The apex (L, 2) of a dart, or one of the two of a dart with two ends; None in a sketch."""
    dart = piece.dart(name)
    if dart is not None:
        return end_of(piece.ring[edge_run(piece, dart.first)[-1]])
    # Travel is clockwise from the upper apex; which of the two legs comes first depends on where `inner` lies.
    inner, outer = _hole(piece, name).legs(end)
    if inner.path is None or outer.path is None:
        return None
    ends_meet = norm(inner.path.end - outer.path.start) <= norm(inner.path.start - outer.path.end)
    return np.where(ends_meet[:, None], inner.path.end, inner.path.start)


def leg_run(piece: Piece, dart: Dart) -> tuple[int, ...]:
    """Numbers of all ring sides between the edge before the dart and the edge after it, in travelling order, with what pleats
    in its legs fold away."""
    names, count = set(dart.leg_names), len(piece.ring)
    start, stop = edge_run(piece, dart.first)[0], edge_run(piece, dart.second)[-1]
    while names.intersection(piece.ring[(start - 1) % count].names):
        start = (start - 1) % count
    while names.intersection(piece.ring[(stop + 1) % count].names):
        stop = (stop + 1) % count
    return tuple((start + k) % count for k in range((stop - start) % count + 1))


def is_open_below(piece: Piece, dart: Dart) -> bool:
    """Whether the dart had two ends and its lower one was opened to an edge."""
    lower = dart.leg_names[2:]
    return any(name in side.names for side in piece.ring for name in lower)


def place_dart(
    piece: Piece,
    name: str,
    edge: str,
    *,
    at: Reals | None,
    width: Reals | None,
    apex: Reals | None = None,
    long: Reals | None = None,
    from_end: End = "start",
) -> Piece:
    """The piece with a dart cut out of an edge: its middle `at` (L,) mm along the edge from `from_end` (as travelled).

    The opening is `width` (L,) mm across, its ends equally far along the edge from the middle. The apex is given
    (L, 2), or lies `long` (L,) mm inside, square to the opening from its middle. Trouble when the opening does not fit.
    """
    _new_name(piece, name)
    place = place_on(piece, edge, at, from_end)
    side, i = piece.ring[place.side], place.side
    dart = Dart.named(name, edge, from_end == "start")
    if side.path is None or width is None:
        opened = [RingPart(side, i), RingPart(Side((dart.first,))), RingPart(Side((dart.second,))), RingPart(side, i)]
        ring = [*runs_of(piece)[:i], *opened, *runs_of(piece)[i + 1 :]]
        return rebuilt(piece, ring, darts=(*piece.darts, dart))
    low, high = _opening(side, place.at, width, edge, name)
    runs, _ = split_ring(piece, [RingPlace(i, low), RingPlace(i, high)])
    a, b = point_at(side.path, low), point_at(side.path, high)
    if apex is None:
        if long is None:
            raise Trouble(f"the dart `{name}` needs an apex or a length", "say where its apex lies, or how long it is")
        apex = (a + b) / 2.0 + long[:, None] * left_of(unit(b - a))
    cut_out = next(k for k, run in enumerate(runs) if run.source == i) + 1
    runs[cut_out : cut_out + 1] = [RingPart(straight((dart.first,), a, apex)), RingPart(straight((dart.second,), apex, b))]
    return rebuilt(piece, runs, darts=(*piece.darts, dart))


def _opening(side: Side, middle: Reals, width: Reals, edge: str, name: str) -> tuple[Reals, Reals]:
    """Two positions (L,) equally far from the middle along a side whose points lie `width` apart."""
    path = side.drawn
    room = np.minimum(middle, length(path) - middle) - COINCIDE
    widest = norm(point_at(path, middle + np.maximum(room, 0.0)) - point_at(path, middle - np.maximum(room, 0.0)))
    off = (width > widest) | (room <= 0.0) | (width <= 0.0)
    if off.any():
        figures = {"width": width, "room for": np.where(room > 0.0, widest, 0.0)}
        fix = "place it further from the end, or make it narrower"
        raise Trouble(f"the dart `{name}` does not fit on `{edge}`", fix, off, figures)
    low, half, high = width / 2.0, width / 2.0, room
    for _ in range(60):  # Newton, kept in a bracket: a chord grows with its arc on any edge worth a dart
        (first, back), (second, on) = place_at(path, middle - half), place_at(path, middle + half)
        chord = second - first
        miss = norm(chord) - width
        moving = np.abs(miss) > COINCIDE * 1e-5
        if not moving.any():
            break
        low, high = np.where(miss < 0.0, half, low), np.where(miss > 0.0, half, high)
        slope = dot(unit(chord), back + on)
        there = half - miss / np.where(slope > 0.0, slope, 1.0)
        half = np.where(moving, np.where((there > low) & (there < high), there, (low + high) / 2.0), half)
    return middle - half, middle + half


def place_two_ended(
    piece: Piece,
    name: str,
    *,
    middle: Reals | None,
    width: Reals | None,
    upper_apex: Reals | None,
    lower_apex: Reals | None,
    inner: Reals | None,
) -> Piece:
    """The piece with a dart of two ends taken out: the middle (L, 2) of its greatest width (L,), both apexes (L, 2).

    `inner` (L, 2) is the direction from the middle to the inner leg. Raises Disagreement when lanes differ in its side.
    """
    _new_name(piece, name)
    inner_leg, outer_leg, lower_inner, lower_outer = leg_names(name)
    if middle is None or width is None or upper_apex is None or lower_apex is None or inner is None:
        sides = tuple(Side((leg,)) for leg in (outer_leg, lower_outer, lower_inner, inner_leg))
        return record(replace(piece, holes=(*piece.holes, Hole(name, sides))), {})
    half = width[:, None] / 2.0 * unit(inner)
    inner_side = (inner_leg, lower_inner, middle + half)
    outer_side = (outer_leg, lower_outer, middle - half)
    turned = agree((cross(lower_apex - upper_apex, half) < 0.0).astype(np.int64))
    # Clockwise from the upper apex: down the leg on the right of the paper first, seen with the lower apex below.
    down, up = (inner_side, outer_side) if not turned else (outer_side, inner_side)
    sides = (
        straight((down[0],), upper_apex, down[2]),
        straight((down[1],), down[2], lower_apex),
        straight((up[1],), lower_apex, up[2]),
        straight((up[0],), up[2], upper_apex),
    )
    flat = np.abs(ring_area([side.drawn for side in sides])) < COINCIDE
    if flat.any():
        raise Trouble(f"the dart `{name}` has no width or no length", "give it some, or leave it out", flat, {"width": width})
    return record(replace(piece, holes=(*piece.holes, Hole(name, sides))), {})


def _hole(piece: Piece, name: str) -> Hole:
    hole = piece.hole(name)
    if hole is None:
        raise no_such_dart(piece, name)
    return hole


def no_such_dart(piece: Piece, name: str) -> Trouble:
    """The trouble that there is no dart of a name."""
    why = piece.removed.get(name)
    return Trouble(f"there is no dart `{name}`" + (f": {why}" if why else ""), names_there(piece.dart_names()))


def _new_name(piece: Piece, name: str) -> None:
    if name in piece.dart_names():
        raise Trouble(f"there is a dart `{name}` already", "give the new one another name")


def open_to_edge(piece: Piece, name: str, edge: str) -> Piece:
    """A dart with two ends becomes a dart on `edge`: the cloth is cut straight on from its lower apex.

    `NAME.lower_inner_leg` and `NAME.lower_outer_leg` then have two sides each: the lower leg and the cut below it. Inner
    lines are in parts where the cut runs through them.
    Trouble with lanes where the cut does not meet the edge.
    """
    hole = _hole(piece, name)
    sides = _from_lower_apex(hole)
    lower, upper = start_of(sides[0]), end_of(sides[1])
    place = RingPlace(edge_run(piece, edge)[0])
    if lower is not None and upper is not None:
        place = settled(piece, _straight_on(piece, lower, lower - upper, edge, name))
    runs, (start,) = split_ring(piece, [place])
    if piece.is_sketch:
        start = place.side + 1
        runs.insert(start, runs[place.side])
    foot = start_of(runs[start].side)
    legs = [straight(sides[0].names, foot, lower), *sides, straight(sides[3].names, lower, foot)]
    ring = [*runs[:start], *(RingPart(side) for side in legs), *runs[start:]]
    dart = Dart.named(name, edge, sides[1] is hole.legs("upper")[0])
    holes = tuple(other for other in piece.holes if other.name != name)
    lines = piece.lines
    if foot is not None and lower is not None:
        legs_there = [side.drawn.start for side in (*sides, sides[0])]  # near an apex a line may run through unbroken
        lines = tuple(part for side in lines for part in parted(piece, side, [(foot, *legs_there)]))
    return rebuilt(piece, ring, darts=(*piece.darts, dart), holes=holes, lines=lines)


def _from_lower_apex(hole: Hole) -> tuple[Side, ...]:
    """The four legs in travelling order from the lower apex: lower, upper, upper, lower."""
    lower = [hole.is_lower(side) for side in hole.sides]
    first = next(k for k in range(4) if lower[k] and lower[k - 1])
    return (*hole.sides[first:], *hole.sides[:first])


def _straight_on(piece: Piece, origin: Reals, way: Reals, edge: str, name: str) -> RingPlace:
    """The first place of an edge straight on from a point."""
    numbers = edge_run(piece, edge)
    away, at = [], []
    for i in numbers:
        s, point, ok = line_path(origin, way, piece.ring[i].drawn)
        ahead = ((point - origin) * unit(way)).sum(axis=-1)
        away.append(np.where(ok & (ahead > COINCIDE), ahead, np.inf))
        at.append(s)
    table = np.stack(np.broadcast_arrays(*away), axis=1)
    missed = ~np.isfinite(table).any(axis=1)
    if missed.any():
        raise Trouble(
            f"straight on from its lower end, `{name}` does not meet `{edge}`", "name the edge below it", missed
        )
    chosen = agree(np.argmin(table, axis=1))
    return RingPlace(numbers[chosen], at[chosen])


def move_apex(piece: Piece, name: str, point: Reals | None, end: HoleEnd = "upper") -> Piece:
    """The dart with its apex at `point` (L, 2), both legs there redrawn straight; `end` is for darts of two ends."""
    dart = piece.dart(name)
    if dart is None:
        hole = _hole(piece, name)
        if point is None:
            return piece
        apex = apex_of(piece, name, end)
        moved = Hole(name, tuple(_to(side, apex, point) for side in hole.sides))
        return replace(piece, holes=tuple(moved if other is hole else other for other in piece.holes))
    first, second = edge_run(piece, dart.first), edge_run(piece, dart.second)
    runs = runs_of(piece)
    if point is not None and not piece.is_sketch:
        runs[first[0]] = RingPart(straight(runs[first[0]].side.names, start_of(runs[first[0]].side), point))
        runs[second[-1]] = RingPart(straight(runs[second[-1]].side.names, point, end_of(runs[second[-1]].side)))
    dropped = {*first[1:], *second[:-1]}
    return rebuilt(piece, [run for k, run in enumerate(runs) if k not in dropped])


def _to(side: Side, apex: Reals | None, point: Reals) -> Side:
    """The leg redrawn to a new apex if it touches the old one."""
    path = side.drawn
    if apex is None:
        return side
    if bool((norm(path.start - apex) <= COINCIDE).all()):
        return replace(side, path=line(point, path.end))
    if bool((norm(path.end - apex) <= COINCIDE).all()):
        return replace(side, path=line(path.start, point))
    return side


def leg_lengths(piece: Piece, dart: Dart) -> tuple[Reals, Reals]:
    """Lengths (L,) mm of the inner and of the outer leg."""
    inner, outer, *_ = dart.leg_names
    return edge_total(piece, inner), edge_total(piece, outer)


def equal_legs(piece: Piece, name: str) -> tuple[Piece, Reals]:
    """The dart with its shorter leg lengthened straight on to the length of the other, and by how much (L,) mm.

    The edge beside it is drawn to the new end.
    """
    dart = piece.dart(name)
    if dart is None:
        raise no_such_dart(piece, name)
    if piece.is_sketch:
        return piece, np.zeros(1)
    runs, count = runs_of(piece), len(piece.ring)
    first, second = edge_run(piece, dart.first)[0], edge_run(piece, dart.second)[-1]
    missing: NDArray[np.float64] = edge_total(piece, dart.second) - edge_total(piece, dart.first)
    start, end = piece.ring[first].drawn, piece.ring[second].drawn
    foot = start.start + np.maximum(missing, 0.0)[:, None] * unit(start.start - start.end)
    tip = end.end + np.maximum(-missing, 0.0)[:, None] * unit(end.end - end.start)
    runs[first] = replace(runs[first], side=with_ends(piece.ring[first], start=foot))
    runs[second] = replace(runs[second], side=with_ends(piece.ring[second], end=tip))
    before, after = (first - 1) % count, (second + 1) % count
    runs[before] = replace(runs[before], side=with_ends(runs[before].side, end=foot))
    runs[after] = replace(runs[after], side=with_ends(runs[after].side, start=tip))
    return rebuilt(piece, runs), np.abs(missing)
