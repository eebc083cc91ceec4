"""The outline: edges stated in any order and direction become one closed ring."""

from __future__ import annotations

from collections.abc import Hashable, Mapping, Sequence
from dataclasses import replace
from types import MappingProxyType

import numpy as np

from ..geometry.lanes import agree, norm
from ..geometry.path import Path, reverse, ring_area
from ..geometry.tolerances import COINCIDE
from .piece import Dart, Piece, Reals, Side, Trouble, Worn, leg_names
from .ring import record, with_ends

Edge = tuple[str, Path | None, Hashable, Hashable]


def outline(
    edges: Sequence[Edge],
    *,
    legs: Sequence[tuple[str, str]] = (),
    fold: str | None = None,
    worn: Worn | None = None,
    points: Mapping[str, Reals | None] | None = None,
) -> Piece:
    """The piece that edges (name, path, key of its start, key of its end) enclose, counter-clockwise.

    Keys tell which ends are one point; nothing else depends on order or direction. `legs` lists darts drafted as two
    edges `NAME.inner_leg` and `NAME.outer_leg` that meet at the apex, as (NAME, edge they stand on).
    Trouble when the edges do not make one ring, when `fold` is none of them, or (with lanes) when ends do not meet.
    Raises Disagreement when lanes run round in different senses.
    """
    if not edges:
        raise Trouble("no edge is drawn in these braces", "draw its outline, or say with `=` what the piece is made from")
    ring = [_travelled(edges[number], forward) for number, forward in ring_order(edges)]
    if all(side.path is not None for side in ring):
        _must_meet(ring)
        # Corners are shared to the bit: a rounding apart, they would read as an outline that crosses itself.
        ring = [with_ends(side, start=before.drawn.end) for before, side in zip((ring[-1], *ring[:-1]), ring, strict=True)]
        area = ring_area([side.drawn for side in ring])
        if agree((area < 0.0).astype(np.int64)):
            ring = [replace(side, path=reverse(side.drawn)) for side in (ring[0], *reversed(ring[1:]))]
    piece = Piece(tuple(ring), points=MappingProxyType(dict(points or {})), worn=worn, fold=fold)
    if fold is not None and not piece.run(fold):
        raise Trouble(f"the fold `{fold}` is no edge of the outline", "fold along one of the edges drawn")
    return record(replace(piece, darts=tuple(_drafted(piece, name, edge) for name, edge in legs)), {})


def ring_order(edges: Sequence[Edge]) -> list[tuple[int, bool]]:
    """Numbers of the edges in travelling order from the first, with whether each is travelled as stated."""
    ends: dict[Hashable, list[int]] = {}
    for number, (_, _, start, end) in enumerate(edges):
        ends.setdefault(start, []).append(number)
        ends.setdefault(end, []).append(number)
    for key, numbers in ends.items():
        if len(numbers) != 2:
            raise _not_closed(key, [edges[number][0] for number in numbers])
    order, here, number, forward = [(0, True)], edges[0][3], 0, True
    while here != edges[0][2]:
        first, second = ends[here]
        number = second if first == number else first
        forward = edges[number][2] == here
        order.append((number, forward))
        here = edges[number][3 if forward else 2]
    if len(order) != len(edges):
        used = {number for number, _ in order}
        others = ", ".join(f"`{edge[0]}`" for number, edge in enumerate(edges) if number not in used)
        raise Trouble(f"the outline falls into separate rings: {others} do not join the others", "draw one ring, end to end")
    return order


def _not_closed(point: Hashable, names: Sequence[str]) -> Trouble:
    listed = " and ".join(f"`{name}`" for name in names)
    if len(names) == 1:
        return Trouble(
            f"the outline is open at `{point}`: only {listed} ends there", "say which edge goes on from there"
        )
    return Trouble(
        f"{len(names)} ends meet at `{point}` ({listed}), where two should", "let each edge start where another ends"
    )


def _travelled(edge: Edge, forward: bool) -> Side:
    name, path, _, _ = edge
    return Side((name,), path if path is None or forward else reverse(path))


def _must_meet(ring: Sequence[Side]) -> None:
    for before, after in zip(ring, (*ring[1:], ring[0]), strict=True):
        away = norm(before.drawn.end - after.drawn.start)
        apart = ~(away <= 10.0 * COINCIDE)
        if apart.any():
            message = f"`{before.edge}` and `{after.edge}` do not meet"
            raise Trouble(message, "let both end at the same point", apart, {"apart": away})


def _drafted(piece: Piece, name: str, edge: str) -> Dart:
    """The dart of two drafted legs."""
    inner, outer, *_ = leg_names(name)
    names = [side.edge for side in piece.ring]
    for leg in (inner, outer):
        if leg not in names:
            raise Trouble(f"the dart `{name}` has no leg `{leg}`", "draw both of its legs")
    step = (names.index(outer) - names.index(inner)) % len(names)
    if step not in (1, len(names) - 1):
        raise Trouble(f"the legs of `{name}` do not meet at an apex", "let one end where the other begins")
    dart = Dart.named(name, edge, step == 1)
    before = piece.ring[names.index(dart.first) - 1]
    after = piece.ring[(names.index(dart.second) + 1) % len(names)]
    if edge not in (*before.names, *after.names):
        raise Trouble(f"the dart `{name}` does not stand on `{edge}`", "let its legs end on that edge")
    return dart
