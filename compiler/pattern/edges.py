"""Edges of a piece: their ends, drawing a stretch of the outline anew, renaming."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from dataclasses import replace
from types import MappingProxyType

import numpy as np

from ..geometry.lanes import agree, norm
from ..geometry.length import cut_at, length, nearest
from ..geometry.path import Path, chain, reverse
from ..geometry.tolerances import COINCIDE
from .piece import Dart, Piece, Reals, Side, Sign, Trouble
from .ring import End, Run, edge_run, end_of, pulled, rebuilt, record, start_of, those_there

OFF = 0.1
"""How far (mm) the end of a new line may lie off the edge it should meet: a plotter repeats to this."""

NewSide = tuple[str, Path | None]


def edge_path(piece: Piece, name: str) -> list[Path]:
    """The paths of an edge's sides, in travelling order; also of an inner line or a leg of a dart with two ends."""
    if piece.run(name):
        return [piece.ring[i].drawn for i in edge_run(piece, name)]
    sides = piece.sides(name)
    if not sides:
        edge_run(piece, name)
    return [side.drawn for side in sides]


def edge_length(piece: Piece, name: str) -> Reals:
    """Length (L,) mm of an edge, its darts closed: the sum of its sides."""
    lengths = np.broadcast_arrays(*(length(path) for path in edge_path(piece, name)))
    total = np.zeros(1)
    for long in lengths:
        total = total + long
    return total


def cloth_length(piece: Piece, name: str) -> Reals:
    """Length (L,) mm of the cloth in an edge: its sewn length, and what pleats fold away in it."""
    total = edge_length(piece, name)
    for side in piece.ring:
        if name in side.folded:
            total = total + length(side.drawn)
    return total


def edge_from(piece: Piece, name: str, mark: str) -> End:
    """Which end of an edge, as travelled, another edge or a point of the piece marks.

    A dart's name marks the end at its apex; of an inner line, the end nearer to the edge or point is meant. Trouble when
    neither end touches it, or both do. Raises Disagreement when a point lies at other ends in other lanes. In a sketch
    every point counts as the start.
    """
    if not piece.run(name) and any(name in side.names for side in piece.lines):
        return _of_line(piece, name, mark)
    numbers, count = edge_run(piece, name), len(piece.ring)
    if mark in piece.points and not piece.run(mark):
        return _from_point(piece, name, mark)
    dart = piece.dart(mark)
    marks = {mark} if dart is None else {dart.first, dart.second}
    touching = [bool(marks.intersection(piece.ring[i % count].names)) for i in (numbers[0] - 1, numbers[-1] + 1)]
    if touching == [True, False]:
        return "start"
    if touching == [False, True]:
        return "end"
    if all(touching):
        raise Trouble(f"`{mark}` touches both ends of `{name}`", "measure from another edge or from a point")
    neighbours = [piece.ring[i % count].edge for i in (numbers[0] - 1, numbers[-1] + 1)]
    why = f": {piece.gone[mark]}" if mark in piece.gone else ""
    raise Trouble(
        f"`{mark}` is not at an end of `{name}`{why}", f"its ends are at `{neighbours[0]}` and at `{neighbours[1]}`"
    )


def _of_line(piece: Piece, name: str, mark: str) -> End:
    """The end of an inner line that lies nearer to an edge or point."""
    point = piece.points.get(mark)
    if mark not in piece.points and not piece.sides(mark):
        raise Trouble(f"there is no edge or point `{mark}`", those_there(piece.edge_names()))
    if piece.is_sketch:
        return "start"
    path = chain(edge_path(piece, name))
    if point is not None:
        away = [norm(end - point) for end in (path.start, path.end)]
    else:
        edge = chain(edge_path(piece, mark))
        away = [nearest(edge, end)[1] for end in (path.start, path.end)]
    return "end" if agree((away[1] < away[0]).astype(np.int64)) else "start"


def _from_point(piece: Piece, name: str, mark: str) -> End:
    point, numbers = piece.points[mark], edge_run(piece, name)
    first, last = start_of(piece.ring[numbers[0]]), end_of(piece.ring[numbers[-1]])
    if point is None or first is None or last is None:
        return "start"
    away = norm(first - point), norm(last - point)
    off = np.minimum(*away) > OFF
    if off.any():
        fix = "name the edge it meets at that end"
        raise Trouble(f"the point `{mark}` is not at an end of `{name}`", fix, off, {"apart": np.minimum(*away)})
    return "end" if agree((away[1] < away[0]).astype(np.int64)) else "start"


def redraw(piece: Piece, first: str, last: str, over: str, new: Sequence[NewSide]) -> Piece:
    """The piece with the outline from edge `first` to edge `last`, on the way that passes `over`, drawn anew.

    `new` sides (name, path) follow each other from `first` to `last`; these two edges are cut short where the new line
    meets them. Trouble with lanes where it does not (by 0.1 mm), or when the three edges do not follow each other.
    """
    count, middle = len(piece.ring), edge_run(piece, over)
    ahead = _next_of(piece, middle[-1], {first, last}, 1)
    behind = _next_of(piece, middle[0], {first, last}, -1)
    if ahead is None or behind is None or ahead[1] == behind[1]:
        fix = "name three edges that follow each other round the piece"
        raise Trouble(f"`{over}` does not lie between `{first}` and `{last}`", fix)
    path = list(new) if ahead[1] == last else [(n, None if p is None else reverse(p)) for n, p in reversed(new)]
    sides = [Side((n,), p) for n, p in path]
    before = _trimmed(piece, behind[1], start_of(sides[0]), keep_start=True)
    after = _trimmed(piece, ahead[1], end_of(sides[-1]), keep_start=False)
    sides[0] = pulled(sides[0], start=None if before[1] is None else end_of(before[1].side))
    sides[-1] = pulled(sides[-1], end=None if after[1] is None else start_of(after[1].side))
    kept = _between(after[0], before[0], count)
    ring = [_kept(piece, i, before, after) for i in kept]
    runs = [*(Run(side) for side in sides), *ring]
    alive = {n for run in runs for n in run.side.names}
    why = f"the outline from `{first}` to `{last}` was drawn anew"
    gone = [dart for dart in piece.darts if dart.first not in alive or dart.second not in alive]
    parts = {leg for dart in gone for leg in (dart.name, *dart.leg_names)}
    runs = [run for run in runs if not parts.intersection(run.side.names)]
    lost = {n: why for n in (*piece.edge_names(), *(dart.name for dart in gone)) if n not in alive}
    return rebuilt(piece, runs, lost=lost, darts=tuple(dart for dart in piece.darts if dart not in gone))


def _kept(piece: Piece, i: int, before: tuple[int, Run | None], after: tuple[int, Run | None]) -> Run:
    for number, run in (before, after):
        if i == number and run is not None:
            return run
    return Run(piece.ring[i], i)


def _between(start: int, stop: int, count: int) -> list[int]:
    """Ring numbers from start to stop, both included, in travelling order."""
    return [(start + k) % count for k in range((stop - start) % count + 1)]


def _next_of(piece: Piece, start: int, names: set[str], step: int) -> tuple[int, str] | None:
    """The first side from `start` in a direction that bears one of the names, and that name."""
    for k in range(1, len(piece.ring)):
        i = (start + step * k) % len(piece.ring)
        for name in piece.ring[i].names:
            if name in names:
                return i, name
    return None


def _trimmed(piece: Piece, name: str, point: Reals | None, *, keep_start: bool) -> tuple[int, Run | None]:
    """The last side of an edge that stays when it is cut at a point, and what stays of it (None: all of it)."""
    numbers = edge_run(piece, name)
    whole = numbers[-1] if keep_start else numbers[0]
    if point is None or piece.is_sketch:
        return whole, None
    found = [nearest(piece.ring[i].drawn, point) for i in numbers]
    away = np.stack(np.broadcast_arrays(*(gap for _, gap in found)), axis=1)
    off = away.min(axis=1) > OFF
    if off.any():
        raise Trouble(
            f"the new line does not meet `{name}`", f"let it end on `{name}`", off, {"apart": away.min(axis=1)}
        )
    # At a joint between two sides both are nearest: the rounded distance lets every lane take the earlier.
    k = agree(np.argmin(np.round(away, 6), axis=1))
    i, at = numbers[k], found[k][0]
    side = piece.ring[i]
    where = agree(np.where(at <= COINCIDE, 0, np.where(at >= length(side.drawn) - COINCIDE, 2, 1)))
    if where == 1:
        pieces = cut_at(side.drawn, at)
        kept = replace(side, path=pieces[0 if keep_start else 1])
        return i, Run(kept, i, np.zeros(1) if keep_start else at)
    return _at_corner(piece, i, at_start=where == 0, keep_start=keep_start), None


def _at_corner(piece: Piece, i: int, *, at_start: bool, keep_start: bool) -> int:
    """The last side that stays when the new line meets a side at its corner."""
    if keep_start:
        return (i - 1) % len(piece.ring) if at_start else i
    return i if at_start else (i + 1) % len(piece.ring)


def rename(piece: Piece, names: Mapping[str, str]) -> Piece:
    """The piece with edges, darts, points and inner lines renamed; parts `OLD.part` become `NEW.part`.

    Trouble when an old name does not exist or a new one does already.
    """
    known = {*piece.edge_names(), *piece.dart_names(), *piece.points}
    for old, new in names.items():
        if old not in known:
            why = f": {piece.gone[old]}" if old in piece.gone else ""
            raise Trouble(f"there is no `{old}`{why}", those_there(sorted(known)))
        if new in known and new not in names:
            raise Trouble(f"there is a `{new}` already", "choose another name")
    made = renamed(piece, lambda name: _with_new(name, names))
    return record(made, {old: f"it was renamed `{new}`" for old, new in names.items()})


def as_one(piece: Piece, first: str, second: str, name: str) -> Piece:
    """The piece with two edges that meet end to end as one, called `name`; its parts are `NAME.of_FIRST`, `NAME.of_SECOND`.

    Trouble when they do not meet, one lies on the fold, both have an allowance, or the name is taken.
    """
    runs = (edge_run(piece, first), edge_run(piece, second))
    count, whole = len(piece.ring), len({*runs[0], *runs[1]}) == len(piece.ring)
    if first == second or whole or not any((a[-1] + 1) % count == b[0] for a, b in (runs, runs[::-1])):
        raise Trouble(f"`{first}` and `{second}` do not meet at one corner", "name two edges that stand side by side")
    if piece.fold in (first, second):
        raise Trouble(f"`{piece.fold}` lies on the fold, which is straight", "name two edges beside it")
    if {first, second} <= {*piece.finish.allowances}:
        raise Trouble(f"`{first}` and `{second}` have an allowance each", "say it where they are one edge")
    made = rename(piece, {first: name, second: name})
    parts = {i: f"{name}.of_{old}" for old, run in zip((first, second), runs, strict=True) for i in run}
    ring = tuple(replace(s, names=(*s.names, parts[i])) if i in parts else s for i, s in enumerate(made.ring))
    return replace(made, ring=ring)


def _with_new(name: str, names: Mapping[str, str]) -> str:
    head, dot, part = name.partition(".")
    return names[name] if name in names else names.get(head, head) + dot + part


def renamed(piece: Piece, call: Callable[[str], str]) -> Piece:
    """The piece with every name of its edges, darts, points, lines and allowances changed by `call`."""

    def sides(old: Sequence[Side]) -> tuple[Side, ...]:
        return tuple(
            replace(side, names=tuple(call(n) for n in side.names), folded=tuple(call(n) for n in side.folded))
            for side in old
        )

    darts = tuple(Dart(call(d.name), call(d.edge), call(d.first), call(d.second)) for d in piece.darts)
    holes = tuple(replace(hole, name=call(hole.name), sides=sides(hole.sides)) for hole in piece.holes)
    return replace(
        piece,
        ring=sides(piece.ring),
        darts=darts,
        holes=holes,
        lines=sides(piece.lines),
        points=MappingProxyType({call(name): point for name, point in piece.points.items()}),
        signs=MappingProxyType({call(n): _called(sign, call) for n, sign in piece.signs.items()}),
        told=tuple(replace(told, edge=call(told.edge) if told.edge else "") for told in piece.told),
        fold=None if piece.fold is None else call(piece.fold),
        was_fold=None if piece.was_fold is None else call(piece.was_fold),
        unsure=frozenset(call(name) for name in piece.unsure),
        finish=piece.finish.called(call),
    )


def _called(sign: Sign, call: Callable[[str], str]) -> Sign:
    return replace(sign, toward=call(sign.toward) if sign.toward else "")
