"""Unfolding a half piece across its fold, and mirroring a piece."""

from __future__ import annotations

import itertools
from collections.abc import Callable, Mapping, Sequence
from dataclasses import replace
from types import MappingProxyType

import numpy as np

from ..geometry.lanes import cross, unit
from ..geometry.length import length
from ..geometry.motion import mirror_path, mirror_points
from ..geometry.path import reverse
from .edges import OFF, renamed
from .ends import SIDES
from .piece import Dart, Finish, Hole, Notch, Piece, Reals, Side, Trouble, Worn
from .ring import edge_run, end_of, record, start_of, welded

Axis = tuple[Reals, Reals]


def mirror(piece: Piece) -> Piece:
    """The piece for the other side of the body, across its fold, else across x = 0; `left_` and `right_` swap."""
    axis = None
    if not piece.is_sketch:
        axis = (np.array([[0.0, 0.0]]), np.array([[0.0, 1.0]])) if piece.fold is None else _axis(piece, piece.fold)
    worn: Worn | None = None if piece.worn is None else _other(piece.worn)
    return renamed(replace(_mirrored(piece, axis), worn=worn, removed=_swapped_keys(piece.removed)), _swapped)


def _swapped(name: str) -> str:
    for mine, other in (SIDES, SIDES[::-1]):
        if name.startswith(mine):
            return other + name[len(mine) :]
    return name


def _swapped_keys(removed: Mapping[str, str]) -> Mapping[str, str]:
    return MappingProxyType({_swapped(name): why for name, why in removed.items()})


def _other(worn: Worn) -> Worn:
    return "right" if worn == "left" else "left"


def _axis(piece: Piece, edge: str) -> Axis | None:
    """Two points (L, 2) of the fold. Trouble when it is not one straight line."""
    numbers, count = edge_run(piece, edge), len(piece.ring)
    if any((after - before) % count != 1 for before, after in itertools.pairwise(numbers)):
        raise Trouble(f"`{edge}` is broken by other edges: nothing unfolds across it", "unfold first, or across a whole edge")
    p, q = start_of(piece.ring[numbers[0]]), end_of(piece.ring[numbers[-1]])
    if p is None or q is None:
        return None
    way = unit(q - p)
    for i in numbers:
        controls = piece.ring[i].drawn.controls
        off = np.abs(cross(way[:, None, None], controls - p[:, None, None])).max(axis=(1, 2))
        bent = ~(off <= OFF)
        if bent.any():
            fix = "draw it as a line, or unfold across a straight edge"
            raise Trouble(f"`{edge}` is not straight: nothing unfolds across it", fix, bent, {"off the straight": off})
    return p, q


def _mirrored_side(side: Side, axis: Axis | None) -> Side:
    """The side mirrored, travelled the other way."""
    if axis is None or side.path is None:
        return side
    return replace(side, path=reverse(mirror_path(*axis, side.path)), turn=np.conj(side.turn))


def _from_other_end(side: Side, at: Reals) -> Reals:
    return at if side.path is None else length(side.path) - at


def _mirrored_point(point: Reals | None, axis: Axis | None) -> Reals | None:
    return None if point is None or axis is None else mirror_points(*axis, point)


def _mirrored(piece: Piece, axis: Axis | None) -> Piece:
    """The piece mirrored, all its names kept."""
    count = len(piece.ring)
    notches = tuple(
        replace(one, side=count - 1 - one.side, at=_from_other_end(piece.ring[one.side], one.at)) for one in piece.notches
    )
    holes = [Hole(h.name, tuple(_mirrored_side(side, axis) for side in reversed(h.sides))) for h in piece.holes]
    points = {name: _mirrored_point(point, axis) for name, point in piece.points.items()}
    levels = [side for side in piece.lines if piece.has_sign(side, "level")]
    others = [side for side in piece.lines if not piece.has_sign(side, "level")]
    grain = piece.finish.grain
    if grain is not None and axis is not None:
        way = unit(axis[1] - axis[0])
        grain = (way[:, 0] + 1j * way[:, 1]) ** 2 * np.conj(grain)
    aligned = piece.finish.aligned
    if aligned is not None and axis is not None:
        way = unit(axis[1] - axis[0])
        turned = None if aligned.way is None else (way[:, 0] + 1j * way[:, 1]) ** 2 * np.conj(aligned.way)
        aligned = replace(aligned, at=mirror_points(*axis, aligned.at), way=turned)
    return replace(
        piece,
        ring=tuple(_mirrored_side(side, axis) for side in reversed(piece.ring)),
        darts=tuple(Dart(d.name, d.edge, d.second, d.first, not d.inner_first) for d in piece.darts),
        holes=tuple(holes),
        lines=tuple(_mirrored_side(side, axis) for side in (*others, *reversed(levels))),  # parts follow on as before
        points=MappingProxyType(points),
        notches=notches,
        finish=replace(piece.finish, grain=grain, aligned=aligned),
    )


def unfold(piece: Piece, edge: str) -> Piece:
    """The whole piece of a half, across `edge`, which becomes an inner line.

    Edges that touch it keep their name, with halves `left_NAME` and `right_NAME`; all other names exist only so. The
    half drafted is the one `worn`. Trouble when that is not said, or the edge is not one straight line.
    """
    if piece.worn is None:
        raise Trouble(
            "which half of the wearer the piece covers is not said: it cannot be unfolded",
            "write `worn left` or `worn right` in the braces of the half; a band, which has no wearer's side, is doubled on the "
            f"fold: name it with `fold {edge}`, and `cut 1 on fold`",
        )
    numbers, count = edge_run(piece, edge), len(piece.ring)
    axis = _axis(piece, edge)
    rest = [(numbers[-1] + k) % count for k in range(1, count - len(numbers) + 1)]
    if not rest:
        raise Trouble(f"`{edge}` is the whole outline", "unfold across one straight edge of several")
    ends = (*piece.ring[rest[0]].names, *piece.ring[rest[-1]].names)
    touching = {name for name in ends if "." not in name}  # which part of a slashed edge lies there no sketch knows
    half = replace(
        piece,
        ring=tuple(piece.ring[i] for i in rest),
        notches=_kept_notches(piece.notches, rest),
        fold=None,
        finish=_uncut(piece, numbers, rest),
    )
    mine = _sided(half, piece.worn, touching)
    other = _sided(_mirrored(half, axis), _other(piece.worn), touching)
    folds = tuple(
        replace(side, names=(edge, *(n for n in side.names if n != edge))) for side in (piece.ring[i] for i in numbers)
    )
    shifted = (replace(notch, side=notch.side + len(rest)) for notch in other.notches)
    made = replace(
        mine,
        ring=welded((*mine.ring, *other.ring)),
        darts=(*mine.darts, *other.darts),
        holes=(*mine.holes, *other.holes),
        lines=(*mine.lines, *other.lines, *folds),
        points=MappingProxyType({**mine.points, **other.points}),
        signs=MappingProxyType({**mine.signs, **other.signs}),
        parts=MappingProxyType({**mine.parts, **other.parts}),
        notches=(*mine.notches, *shifted),
        worn=None,
        was_fold=edge,
        removed=MappingProxyType({f"{to}{n}": why for n, why in piece.removed.items() for to in ("", "left_", "right_")}),
        uncertain=mine.uncertain | other.uncertain,
        finish=mine.finish.joined(other.finish),
    )
    names = (*half.edge_names(), *half.dart_names(), *half.points)
    return record(made, {n: f"there are two of them now: `left_{n}` and `right_{n}`" for n in names})


def _uncut(piece: Piece, numbers: Sequence[int], rest: Sequence[int]) -> Finish:
    """What is stated for cutting, without what was stated for edges that lie on the fold alone: nothing is cut there now."""
    left = {name for i in rest for name in piece.ring[i].names}
    folded = {name for i in numbers for name in piece.ring[i].names} - left
    finish = piece.finish
    return replace(
        finish,
        allowances=MappingProxyType({name: one for name, one in finish.allowances.items() if name not in folded}),
        corners=MappingProxyType({ends: one for ends, one in finish.corners.items() if not folded.intersection(ends)}),
        laid=MappingProxyType({ends: one for ends, one in finish.laid.items() if not folded.intersection(ends)}),
    )


def _kept_notches(notches: Sequence[Notch], rest: Sequence[int]) -> tuple[Notch, ...]:
    return tuple(replace(notch, side=rest.index(notch.side)) for notch in notches if notch.side in rest)


def _sided(piece: Piece, worn: Worn, touching: set[str]) -> Piece:
    """The half with its names for a side of the body; edges in `touching` keep the plain name before it."""
    prefix: Callable[[str], str] = f"{worn}_{{}}".format
    made = renamed(piece, prefix)
    ring = tuple(
        replace(
            side,
            names=(*(n for n in old.names if n in touching), *side.names),
            folded=(*(n for n in old.folded if n in touching), *side.folded),
        )
        for old, side in zip(piece.ring, made.ring, strict=True)
    )
    return replace(made, ring=ring, finish=piece.finish.called(lambda name: name if name in touching else prefix(name)))
