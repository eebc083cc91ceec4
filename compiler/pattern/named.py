"""Places and parts of edges that have a name of their own, and go with the cloth they lie on.

A place is a notch with a name, and a point of that name where it lies. A part is an edge: the sides between its two places answer
to its name behind that of the whole, so that all that knows edges knows parts.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from types import MappingProxyType
from typing import Literal

import numpy as np

from ..geometry.lanes import agree
from ..geometry.length import length, nearest
from ..geometry.tolerances import COINCIDE
from .edges import OFF, edge_from
from .piece import Notch, Piece, Reals, Sign, Trouble, Why
from .ring import End, RingPart, edge_run, edge_total, place_on, rebuilt, runs_of, split_ring, with_places

How = Literal["end", "at", "share", "point"]


@dataclass(frozen=True)
class PartEnd:
    """Where a part of an edge ends: at an `end` of it, by what it meets there; so far (L,) mm, or such a share (L,), from that
    end; or at a point (L, 2) on it. `value` is None in a sketch, and where it is an end."""

    how: How
    end: str = ""
    value: Reals | None = None


def is_place(piece: Piece, name: str) -> bool:
    """Whether a name is that of a notch."""
    return name in piece.signs and piece.signs[name].kind == "notch"


def parts_in(piece: Piece) -> tuple[str, ...]:
    """The names of its parts."""
    return tuple(name for name, sign in piece.signs.items() if sign.kind == "part")


def must_be_new(piece: Piece, name: str) -> None:
    """Trouble where a piece has something of a name."""
    if name in (*piece.edge_names(), *piece.dart_names(), *piece.points):
        raise Trouble(f"there is a `{name}` already", "choose another name")


def notched(
    piece: Piece, edge: str, along: Reals, end: End, strokes: int, seam: str = "", why: Why | None = None
) -> Piece:
    """The piece with a notch at `along` (L,) mm from an end of an edge. Lanes that put it on another side are split."""
    place = place_on(piece, edge, along, end)
    made = Notch(place.side, place.at, strokes, seam, stated=not seam, why=why)
    return replace(piece, notches=(*piece.notches, made))


def with_place(piece: Piece, notch: Notch) -> Piece:
    """The piece with a notch, whose place has a name. Trouble where the name is taken."""
    must_be_new(piece, notch.name)
    return with_places(replace(piece, notches=(*piece.notches, notch)))


def with_part(piece: Piece, edge: str, name: str, first: PartEnd, last: PartEnd) -> Piece:
    """The piece with the part of an edge between two places, either way round, as an edge that is called `name` too."""
    must_be_new(piece, name)
    if not piece.run(edge) and any(edge in side.names for side in piece.lines):
        raise Trouble(f"`{edge}` lies inside the piece: a part that is sewn is one of the outline", "name an edge of the outline")
    runs = _sketched(piece, edge, name, first, last) if piece.is_sketch else _cut(piece, edge, name, first, last)
    return rebuilt(piece, runs, signs=MappingProxyType({**piece.signs, name: Sign("part")}))


def _cut(piece: Piece, edge: str, name: str, first: PartEnd, last: PartEnd) -> list[RingPart]:
    """The ring cut at both places, what lies between them called `name` too."""
    one, other = (along(piece, edge, place) for place in (first, last))
    none = np.abs(other - one) <= COINCIDE
    if none.any():
        raise Trouble("the part ends where it starts", "name two places of the edge", none)
    low, high = (other, one) if agree((one > other).astype(np.int64)) else (one, other)
    runs, (start, stop) = split_ring(piece, [place_on(piece, edge, at, "start") for at in (low, high)])
    inside = [(start + k) % len(runs) for k in range((stop - start) % len(runs) or len(runs))]
    for k in (k for k in inside if edge in runs[k].side.names):
        runs[k] = _called(runs[k], name)
    return runs


def _called(run: RingPart, name: str) -> RingPart:
    return replace(run, side=replace(run.side, names=(*run.side.names, name)))


def _sketched(piece: Piece, edge: str, name: str, first: PartEnd, last: PartEnd) -> list[RingPart]:
    """As `_cut`, as far as it is known without a body: an edge of several sides is the part's but for its ends."""
    ends = [edge_from(piece, edge, place.end) if place.how == "end" else None for place in (first, last)]
    if ends[0] is not None and ends[0] == ends[1]:
        raise Trouble("the part ends where it starts", "name two places of the edge")
    numbers = edge_run(piece, edge)
    runs: list[RingPart] = []
    for run in runs_of(piece):
        if run.source not in numbers:
            runs.append(run)
            continue
        before = [] if run.source != numbers[0] or "start" in ends else [run]
        behind = [] if run.source != numbers[-1] or "end" in ends else [run]
        runs += [*before, _called(run, name), *behind]
    return runs


def along(piece: Piece, edge: str, place: PartEnd) -> Reals:
    """How far (L,) mm from its start, as travelled, a place lies on an edge, darts closed."""
    if place.how == "point":
        assert place.value is not None
        return _nearest(piece, edge, place.value)
    total = edge_total(piece, edge)
    far = np.zeros(1) if place.value is None else place.value * total if place.how == "share" else place.value
    off = (far < -COINCIDE) | (far > total + COINCIDE)
    if off.any():
        figures = {"asked": far, f"length of {edge}": total}
        raise Trouble(f"`{edge}` is shorter than that", "measure less along it", np.asarray(off), figures)
    end: End = edge_from(piece, edge, place.end)
    return np.clip(far if end == "start" else total - far, 0.0, total)


def _nearest(piece: Piece, edge: str, point: Reals) -> Reals:
    """How far (L,) mm along an edge a point on it lies. Trouble where it lies on none of its sides."""
    found, before = [], np.zeros(1)
    for i in edge_run(piece, edge):
        at, away = nearest(piece.ring[i].drawn, point)
        found.append((away, before + at))
        before = before + length(piece.ring[i].drawn)
    away, at = (np.stack(np.broadcast_arrays(*rows), axis=1) for rows in zip(*found, strict=True))
    off = away.min(axis=1) > OFF
    if off.any():
        fix = "name a place of this edge, or a point that was found on it"
        raise Trouble(f"the place does not lie on `{edge}`", fix, off, {"apart": away.min(axis=1)})
    best = np.argmin(np.round(away, 6), axis=1)
    return np.asarray(np.take_along_axis(at, best[:, None], axis=1)[:, 0])
