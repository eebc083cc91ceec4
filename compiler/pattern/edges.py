"""Edges of a piece: their ends, their lengths, renaming."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from dataclasses import replace
from types import MappingProxyType

import numpy as np

from ..geometry.lanes import agree, norm
from ..geometry.length import length, nearest
from ..geometry.path import Path, chain
from .piece import LENGTHS, Dart, Piece, Reals, Side, Sign, Trouble
from .ring import End, edge_run, end_of, names_there, record, start_of

OFF = 0.1
"""How far (mm) the end of a new line may lie off the edge it should meet: a plotter repeats to this."""


def edge_path(piece: Piece, name: str) -> list[Path]:
    """The paths of an edge's sides, in travelling order; also of an inner line or a leg of a dart with two ends."""
    if piece.run(name):
        return [piece.ring[i].drawn for i in edge_run(piece, name)]
    sides = piece.sides(name)
    if not sides:
        edge_run(piece, name)
    return [side.drawn for side in sides]


def edge_length(piece: Piece, name: str) -> Reals:
    """Length (L,) mm of an edge, its darts closed: the sum of its sides; read only, for it is remembered with the piece."""
    known: dict[str, Reals] = piece.memo.setdefault(LENGTHS, {})
    if name not in known:
        total = np.zeros(1)
        for long in np.broadcast_arrays(*(length(path) for path in edge_path(piece, name))):
            total = total + long
        total.setflags(write=False)
        known[name] = total
    return known[name]


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
    why = f": {piece.removed[mark]}" if mark in piece.removed else ""
    raise Trouble(
        f"`{mark}` is not at an end of `{name}`{why}", f"its ends are at `{neighbours[0]}` and at `{neighbours[1]}`"
    )


def _of_line(piece: Piece, name: str, mark: str) -> End:
    """The end of an inner line that lies nearer to an edge or point."""
    point = piece.points.get(mark)
    if mark not in piece.points and not piece.sides(mark):
        raise Trouble(f"there is no edge or point `{mark}`", names_there(piece.edge_names()))
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


def rename(piece: Piece, names: Mapping[str, str]) -> Piece:
    """The piece with edges, darts, points and inner lines renamed; parts `OLD.part` become `NEW.part`.

    Trouble when an old name does not exist or a new one does already.
    """
    known = {*piece.edge_names(), *piece.dart_names(), *piece.points}
    for old, new in names.items():
        if old not in known:
            why = f": {piece.removed[old]}" if old in piece.removed else ""
            raise Trouble(f"there is no `{old}`{why}", names_there(sorted(known)))
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

    darts = tuple(Dart(call(d.name), call(d.edge), call(d.first), call(d.second), d.inner_first) for d in piece.darts)
    holes = tuple(replace(hole, name=call(hole.name), sides=sides(hole.sides)) for hole in piece.holes)
    return replace(
        piece,
        ring=sides(piece.ring),
        darts=darts,
        holes=holes,
        lines=sides(piece.lines),
        points=MappingProxyType({call(name): point for name, point in piece.points.items()}),
        notches=tuple(replace(notch, name=call(notch.name)) if notch.name else notch for notch in piece.notches),
        signs=MappingProxyType({call(n): _called(sign, call) for n, sign in piece.signs.items()}),
        parts=MappingProxyType({call(n): replace(part, edge=call(part.edge)) for n, part in piece.parts.items()}),
        told=tuple(replace(told, edge=call(told.edge) if told.edge else "") for told in piece.told),
        fold=None if piece.fold is None else call(piece.fold),
        was_fold=None if piece.was_fold is None else call(piece.was_fold),
        uncertain=frozenset(call(name) for name in piece.uncertain),
        finish=piece.finish.called(call),
    )


def _called(sign: Sign, call: Callable[[str], str]) -> Sign:
    return replace(sign, toward=call(sign.toward) if sign.toward else "", ends=tuple(call(end) for end in sign.ends))
