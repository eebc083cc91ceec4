"""What laps over where a garment closes: fronts that are buttoned within the levels of the body, wraps, and the ties that hold
them."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass

import numpy as np

from ..geometry.lanes import decide, dot, least, norm, unit
from ..geometry.length import length
from ..geometry.meet import line_path
from ..pattern.levels import levels_of
from ..pattern.piece import Piece, Reals, Side
from ..pattern.which_ends import Sewn, edge_named
from .near_edges import near_edges
from .seams import SewnSeam

WITHIN = 5.0
"""A row of buttons that lies so far (mm) within the edge at which a level of the body ends takes twice that from its girth
(ours)."""

LAPS = 15.0
"""What goes on by less than this (mm) beyond where a level of the body ends laps over nothing (ours)."""

SLENDER = 4.0
"""A tie is so many times as long as it is wide (ours)."""


@dataclass(frozen=True)
class ButtonedWithin:
    """A row of buttons or buttonholes that lies (L,) mm within an edge at which a level ends; NaN where it does not."""

    piece: str
    mark: str
    edge: str
    level: str
    inset: Reals


@dataclass(frozen=True)
class Wrap:
    """Fronts of a skirt that lap over each other with free edges, by their names: at which level by (L,) mm in all, the least of
    all levels; the band above them, how long (L,) mm it is, the ties at its ends, and how long (L,) mm these are in all. Without
    ties at both ends they are none."""

    edges: tuple[tuple[str, str], ...]
    level: str
    lap: Reals
    band: str = ""
    band_long: Reals | None = None
    ties: tuple[str, ...] = ()
    ties_long: Reals | None = None


def buttoned_within(sewn: Sewn) -> Iterator[ButtonedWithin]:
    """Rows on pieces that nothing goes on from at the edge where a level of the body ends, as a centre without a stand. Raises
    Disagreement."""
    for name, piece in sewn.pieces.items():
        if piece.inside or piece.covers is None:
            continue
        rows: dict[tuple[str, str], Reals] = {}
        for mark, edge, near in near_edges(piece):
            rows[mark, edge] = near
        for mark in dict.fromkeys(mark for mark, _ in rows):
            edges = {edge: near for (one, edge), near in rows.items() if one == mark}
            edge = list(edges)[least(list(edges.values()))]
            level = next((one for one in levels_of(piece) if _ends_at(piece, one, edge)), "")
            free = all(not sewn.to(name, side) or _faced(sewn, name, side) for side in piece.sides(edge))
            if level and free and (edges[edge] > WITHIN).any():
                row = mark.partition(".")[0]
                yield ButtonedWithin(name, row, edge, level, np.where(edges[edge] > WITHIN, edges[edge], np.nan))
                break


def _faced(sewn: Sewn, name: str, side: Side) -> bool:
    return all(owner in sewn.pieces and sewn.pieces[owner].inside for owner, _ in sewn.to(name, side))


def _ends_at(piece: Piece, level: str, edge: str) -> bool:
    """Whether a level ends at an edge of the outline."""
    ends = {end for sign in piece.signs.values() if sign.kind == "level" and sign.level == level for end in sign.ends}
    return any(ends.intersection(side.names) for side in piece.sides(edge))


# ---- wraps ---------------------------------------------------------------------------------------


def wraps(sewn: Sewn, seams: Sequence[SewnSeam]) -> Iterator[Wrap]:
    """The fronts of a skirt that lap over each other, if they do. Raises Disagreement."""
    fronts = {name: piece for name, piece in sewn.pieces.items() if piece.covers == "skirt_front" and not piece.inside}
    laps = {name: one for name, piece in fronts.items() if (one := _laps(sewn, name, piece))}
    levels = [level for level in next(iter(laps.values()), {}) if all(level in one for one in laps.values())]
    if not levels:
        return
    in_all = {level: _in_all(fronts, laps, level) for level in levels}
    level = levels[least([in_all[one] for one in levels])]
    edges = tuple(dict.fromkeys((name, edge) for name, one in laps.items() for edge, _ in one.values()))
    held = _held_by_ties(sewn, seams, laps)
    yield Wrap(edges, level, in_all[level], *held) if held else Wrap(edges, level, in_all[level])


def _in_all(fronts: Mapping[str, Piece], laps: Mapping[str, Mapping[str, tuple[str, Reals]]], level: str) -> Reals:
    """By how much (L,) mm the fronts lap at a level: both halves of a pair."""
    total = np.zeros(1)
    for name, one in laps.items():
        total = total + one[level][1] * (2.0 if any(cut.mirrored for cut in fronts[name].finish.cuts) else 1.0)
    return total


def _laps(sewn: Sewn, name: str, piece: Piece) -> dict[str, tuple[str, Reals]]:
    """By level the free edge that lies beyond its end and how far (L,) mm; nothing where one of them does not go on."""
    found: dict[str, tuple[str, Reals]] = {}
    for level in levels_of(piece):
        paths = [side.drawn for side in piece.lines if (sign := piece.sign_of(side)) is not None and sign.level == level]
        if paths:
            tips = paths[0].start, paths[-1].end
            far = [_beyond(piece, *tips), _beyond(piece, *tips[::-1])]
            beyond = [(side, mm) for side, mm in far if decide(mm > LAPS)]
            free = [(side.edge, mm) for side, mm in beyond if _is_free(sewn, name, piece, side)]
            if len(free) != 1:
                return {}
            found[level] = free[0]
    return found


def _beyond(piece: Piece, end: Reals, other: Reals) -> tuple[Side, Reals]:
    """The side of the outline that lies beyond an end of a level, and how far (L,) mm off. Raises Disagreement."""
    way, away = unit(end - other), []
    shut = piece.dart_sides()
    for i, side in enumerate(piece.ring):
        _, met, ok = line_path(end, way, side.drawn)
        off = dot(met - end, way)
        away.append(np.where(ok & (off > -1.0) & (i not in shut), off, np.inf))
    number = least(away)
    return piece.ring[number], away[number]


def _is_free(sewn: Sewn, name: str, piece: Piece, side: Side) -> bool:
    return piece.fold not in side.names and (not sewn.to(name, side) or _faced(sewn, name, side))


def _held_by_ties(
    sewn: Sewn, seams: Sequence[SewnSeam], fronts: Mapping[str, object]
) -> tuple[str, Reals, tuple[str, ...], Reals] | None:
    """The band sewn to the fronts, its length, the ties at both its ends, and how long these are in all."""
    for band, piece in sewn.pieces.items():
        sides = [side for side in piece.ring if any(owner in fronts for owner, _ in sewn.to(band, side))]
        if band in fronts or not sides:
            continue
        tied = [name for seam in seams if (name := _tie_of(sewn, seam, band)) is not None]
        if len(tied) > 1:
            long = sum((length(side.drawn) for side in sides), np.zeros(1))
            return band, long, tuple(dict.fromkeys(tied)), sum((_long(sewn.pieces[name]) for name in tied), np.zeros(1))
    return None


def _tie_of(sewn: Sewn, seam: SewnSeam, band: str) -> str | None:
    """The tie that a seam sews to a band, by an end of it; None where it sews another thing."""
    runs = [[edge_named(one) for one in run] for run in (seam.left, seam.right)]
    if any(len(run) != 1 for run in runs):
        return None
    for (owner, _), (other, edge) in ((runs[0][0], runs[1][0]), (runs[1][0], runs[0][0])):
        piece = sewn.pieces.get(other)
        if owner == band and other != band and piece is not None and piece.covers is None and piece.run(edge):
            end = sum((length(side.drawn) for side in piece.sides(edge)), np.zeros(1))
            return other if decide(_long(piece) > SLENDER * end) else None
    return None


def _long(piece: Piece) -> Reals:
    """How long (L,) mm a strip is: its longest side, from end to end."""
    ends = [norm(side.drawn.end - side.drawn.start) for side in piece.ring]
    return np.asarray(np.max(np.stack(np.broadcast_arrays(*ends)), axis=0))
