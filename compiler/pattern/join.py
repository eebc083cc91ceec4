"""Joining two pieces along an edge of each: the second is laid against the first, and the edge becomes an inner line."""

from __future__ import annotations

import itertools
from collections.abc import Callable, Sequence
from dataclasses import replace
from types import MappingProxyType

import numpy as np

from ..geometry.lanes import norm
from ..geometry.length import length, point_at
from ..geometry.motion import Motion, apply_points
from ..geometry.path import Path, chain
from .edges import renamed
from .piece import Hole, OperationNote, Piece, Reals, Side, Trouble, Turns
from .ring import RingPart, edge_run, end_of, moved, rebuilt, start_of, with_ends

SAMPLES = 33
"""Places at which two edges are compared: enough for edges with a few bends."""


def join(
    first: Piece,
    second: Piece,
    along: str,
    by: str,
    *,
    called: tuple[str, str] = ("", ""),
    naming: str = "",
    within: Reals | None = None,
) -> Piece:
    """Both pieces as one: the edge `by` of the second is laid on the edge `along` of the first, which stays.

    Kept: the edges of both. Where edges of one name come to meet end to end they fuse; their parts are then
    `NAME.of_CALLED`, by what the pieces are `called`. Other names in both, points too, are `NAMING_NAME` where they are of
    the second. The edge itself becomes the inner line `along`. Fold, half worn and
    what is stated for cutting are those of the first. Trouble when other names clash, and with lanes where the edges lie
    further apart than `within` (L,) mm (1 mm) when laid together; how far they do is told.
    """
    kept = _rest(first, along), _rest(second, by)
    meeting = _meeting(first, second, kept)
    _must_face(first, second, kept, meeting)
    if naming:
        second = renamed(second, _told_apart(_shared(first, second, by, meeting), first, second, naming))
    _must_not_clash(first, second, by, meeting, called)
    apart = None
    if not first.is_sketch:
        motion, apart = _laid(first, second, along, by)
        limit = np.ones(1) if within is None else within
        _must_lie_together(along, by, apart, limit)
        second = laid(second, motion)
        _points_must_agree(first, second, limit)
    both, shift = _beside(first, second, along), len(first.ring)
    runs = [RingPart(_part(both.ring[i], meeting, called[0], called), i) for i in kept[0]]
    others = [RingPart(_part(both.ring[shift + i], meeting, called[1], called), shift + i) for i in kept[1]]
    others[0] = replace(others[0], side=with_ends(others[0].side, start=end_of(runs[-1].side)))
    others[-1] = replace(others[-1], side=with_ends(others[-1].side, end=start_of(runs[0].side)))
    alive = {name for run in (*runs, *others) for name in run.side.names}
    folds = [name for name in (first.fold, second.fold) if name in alive]
    made = rebuilt(both, [*runs, *others], lost={by: f"it was joined to `{along}`"}, fold=folds[0] if folds else None)
    return made if apart is None else made.with_note(OperationNote("joined", along, {"apart at most": apart}))


def _rest(piece: Piece, edge: str) -> list[int]:
    """Numbers of the ring without an edge, from the side after it round to the side before it."""
    numbers, count = edge_run(piece, edge), len(piece.ring)
    if any((after - before) % count != 1 for before, after in itertools.pairwise(numbers)):
        fix = "close the dart on it first, or leave it unsewn"
        raise Trouble(f"`{edge}` is broken: nothing can be joined along it", fix)
    if len(numbers) == count:
        raise Trouble(f"`{edge}` is the whole outline: nothing is left when it is joined", "join along one edge of several")
    return [(numbers[-1] + k) % count for k in range(1, count - len(numbers) + 1)]


def _meeting(first: Piece, second: Piece, kept: tuple[list[int], list[int]]) -> frozenset[str]:
    """Names that edges of both pieces have which come to meet end to end."""
    corners = ((kept[0][-1], kept[1][0]), (kept[0][0], kept[1][-1]))
    return frozenset(name for i, k in corners for name in set(first.ring[i].names).intersection(second.ring[k].names))


def _must_face(first: Piece, second: Piece, kept: tuple[list[int], list[int]], meeting: frozenset[str]) -> None:
    """Trouble where names would meet if one piece were turned over: both were drafted the same way out."""
    crossed = ((kept[0][-1], kept[1][-1]), (kept[0][0], kept[1][0]))
    names = [name for i, k in crossed for name in first.ring[i].names if name in second.ring[k].names]
    if names and not meeting:
        fix = "turn one over first: `mirror`"
        raise Trouble(f"laid there, the ends of `{names[0]}` lie at opposite ends: both pieces face the same way", fix)


def _shared(first: Piece, second: Piece, by: str, meeting: frozenset[str]) -> list[str]:
    """Names of edges and darts in both pieces that do not meet. Of sketches, those are left out of which only cloth can tell."""
    lines = [{name for side in piece.lines for name in side.names} for piece in (first, second)]
    dropped = {name for i in edge_run(second, by) for name in second.ring[i].names}
    stay = {name for i, side in enumerate(second.ring) if i not in edge_run(second, by) for name in side.names}
    theirs = {*second.edge_names(), *second.dart_names()} - (dropped - stay)
    ours = (*first.dart_names(), *first.edge_names())
    allowed = meeting | (lines[0] & lines[1]) | first.uncertain | second.uncertain
    return [name for name in ours if name in theirs - allowed]


def _told_apart(shared: list[str], first: Piece, second: Piece, naming: str) -> Callable[[str], str]:
    """The new name of everything of the second piece: what both have gets `naming` before it. Trouble where that is taken."""
    heads = {name.partition(".")[0] for name in shared} | ({*first.points} & {*second.points})
    known = {*first.edge_names(), *first.dart_names(), *first.points, *second.edge_names(), *second.dart_names(), *second.points}
    for head in sorted(heads):
        if (new := f"{naming}_{head}") in known:
            raise Trouble(f"there is a `{new}` already", "write another word behind `naming`")
    return lambda name: f"{naming}_{name}" if name.partition(".")[0] in heads else name


def _must_not_clash(first: Piece, second: Piece, by: str, meeting: frozenset[str], called: tuple[str, str]) -> None:
    """Trouble for names in both."""
    shared = _shared(first, second, by, meeting)
    told = [name for name in dict.fromkeys(shared) if name.partition(".")[0] not in shared or "." not in name]
    if told:
        listed = ", ".join(f"`{name}`" for name in told)
        whose = called[1] if called[1] != called[0] else "other"
        fix = f"write `naming {whose}`: the second's are then `{whose}_{told[0]}` and so on"
        raise Trouble(f"both pieces have {listed}", fix)


def _laid(first: Piece, second: Piece, along: str, by: str) -> tuple[Motion, Reals]:
    """The motion that lays the second edge on the first, run the other way, middle on middle; how far apart (L,) they
    then lie at most."""
    ours = chain([first.ring[i].drawn for i in edge_run(first, along)])
    theirs = chain([second.ring[i].drawn for i in edge_run(second, by)])
    turn = _complex(ours.start - ours.end) / _complex(theirs.end - theirs.start)
    turn = turn / np.abs(turn)
    motion = Motion(turn, (_complex(ours.start + ours.end) - turn * _complex(theirs.start + theirs.end)) / 2.0)
    gaps = [norm(a - apply_points(motion, b)) for a, b in zip(_samples(ours), reversed(_samples(theirs)), strict=True)]
    return motion, np.stack(np.broadcast_arrays(*gaps), axis=1).max(axis=1)


def _complex(points: Reals) -> Turns:
    made: Turns = points[..., 0] + 1j * points[..., 1]
    return made


def _samples(path: Path) -> list[Reals]:
    total = length(path)
    return [point_at(path, total * (k / (SAMPLES - 1))) for k in range(SAMPLES)]


def _must_lie_together(along: str, by: str, apart: Reals, limit: Reals) -> None:
    off = apart > limit
    if off.any():
        fix = "only edges of one shape can be joined; allow more with `tolerance`"
        raise Trouble(f"`{by}` does not lie on `{along}` when laid there", fix, off, {"apart": apart, "allowed": limit})


def _points_must_agree(first: Piece, second: Piece, limit: Reals) -> None:
    for name, point in first.points.items():
        other = second.points.get(name)
        if point is None or other is None:
            continue
        apart = norm(point - other)
        if (apart > limit).any():
            fix = f"call one of them something else: `rename piece.{name} as …`"
            raise Trouble(f"both pieces have a point `{name}`, in two places", fix, apart > limit, {"apart": apart})


def laid(piece: Piece, motion: Motion) -> Piece:
    """A piece of cloth moved elsewhere on the paper, unchanged."""

    def sides(old: Sequence[Side]) -> tuple[Side, ...]:
        return tuple(moved(side, motion) for side in old)

    points = {name: None if p is None else apply_points(motion, p) for name, p in piece.points.items()}
    holes = tuple(Hole(hole.name, sides(hole.sides)) for hole in piece.holes)
    return replace(piece, ring=sides(piece.ring), holes=holes, lines=sides(piece.lines), points=MappingProxyType(points))


def _beside(first: Piece, second: Piece, along: str) -> Piece:
    """All that both pieces hold, with both rings one after the other: no outline yet."""
    darts = {dart.name: dart for dart in (*second.darts, *first.darts)}
    holes = {hole.name: hole for hole in (*second.holes, *first.holes)}
    edge = [first.ring[i] for i in edge_run(first, along)]
    line = tuple(replace(side, names=(along, *(name for name in side.names if name != along))) for side in edge)
    allowances = {**second.finish.allowances, **first.finish.allowances}
    return replace(
        first,
        ring=(*first.ring, *second.ring),
        darts=tuple(darts.values()),
        holes=tuple(holes.values()),
        lines=(*first.lines, *second.lines, *line),
        points=MappingProxyType({**second.points, **first.points}),
        notches=(*first.notches, *(replace(notch, side=notch.side + len(first.ring)) for notch in second.notches)),
        removed=MappingProxyType({**second.removed, **first.removed}),
        signs=MappingProxyType({**second.signs, **first.signs}),
        parts=MappingProxyType({**second.parts, **first.parts}),
        told=(*first.told, *second.told),
        uncertain=first.uncertain | second.uncertain,
        inside=False,  # strips made like facings and joined are none any more, as a flat collar
        covers=first.covers if first.covers == second.covers else None,
        finish=replace(first.finish, allowances=MappingProxyType(allowances)),
    )


def _part(side: Side, meeting: frozenset[str], whose: str, called: tuple[str, str]) -> Side:
    """The side of an edge that fuses, with a name for the part of it that is of one piece."""
    if not whose or called[0] == called[1]:
        return side
    parts = tuple(f"{name}.of_{whose}" for name in side.names[:1] if name in meeting and "." not in name)
    return replace(side, names=(*side.names, *parts))
