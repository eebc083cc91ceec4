"""Collars: whether the layer beneath is smaller than the one it is turned with, and whether the outer edge is as long as what the
collar should lie on."""

from __future__ import annotations

import itertools
from collections.abc import Collection, Iterator, Sequence
from dataclasses import dataclass, replace

import numpy as np
from numpy.typing import NDArray

from ..geometry.lanes import join
from ..geometry.length import length
from ..geometry.path import flatten_fixed, ring_area
from ..geometry.tolerances import SEW
from ..pattern.covers import HALVES
from ..pattern.ends import body_side
from ..pattern.laid import SeamEdge, SeamSide
from ..pattern.piece import Piece, Reals
from ..pattern.which_ends import Sewn, edge_named, is_centre
from .running_on import angle_of
from .seams import SewnSeam, laid_sides

TURN = 0.5
"""Where one layer is smaller by less than this (mm) along the seam at which they are turned, that seam rolls to the outside
(ours; 1 to 3 mm by how thick the cloth is: common practice, no source)."""

FALLS = 8.0
"""A collar whose outer edge is longer (mm) than that at which it is sewn on falls over; others stand, as a band (ours)."""

STANDS = 40.0
"""A collar that falls over stands no higher (mm) than this at the neck (common practice, no source: 3 to 3.5 cm)."""

ROUND = 0.8
"""An edge that turns by less than this (radians) from one end to the other goes round no neck (ours)."""

ALIKE = 0.1
"""Both sides of a seam are counted alike, both as halves or both whole, where they differ by no more than this share."""

PER_CURVE = 32


@dataclass(frozen=True)
class AsLarge:
    """Two pieces that are turned out of a seam and then fall over, hardly one smaller than the other: by how much (L,) mm along
    the seam, NaN where that is enough."""

    seam: str
    pieces: tuple[str, str]
    smaller: Reals


@dataclass(frozen=True)
class Standing:
    """A collar that stands where it should lie: how high (L,) mm, NaN where it does not; how long (L,) mm its outer edge is, and
    the place of the garment that it would lie on."""

    seam: str
    piece: str
    edge: str
    high: Reals
    outer: Reals
    place: Reals


@dataclass(frozen=True)
class _Strip:
    """A piece as a strip (L,) mm, of a half on the fold that half: how long it is where it is sewn on and at its outer edge,
    without its ends, and how deep. As of a part of a ring, its area is its depth by the mean of both."""

    sewn_on: Reals
    outer: Reals
    deep: Reals


def _strip(piece: Piece, held: Collection[int]) -> _Strip:
    """A piece that is sewn on by the sides with these numbers."""
    sewn_on, rest = np.zeros(1), np.zeros(1)
    for i, side in enumerate(piece.ring):
        if i in held:
            sewn_on = sewn_on + length(side.drawn)
        elif piece.fold not in side.names:
            rest = rest + length(side.drawn)
    ends = 1.0 if piece.fold is not None else 2.0
    area, both = np.abs(ring_area([side.drawn for side in piece.ring])), sewn_on + rest
    deep = (both - np.sqrt(np.maximum(both**2 - 8.0 * ends * area, 0.0))) / (2.0 * ends)
    return _Strip(sewn_on, rest - ends * deep, deep)


# ---- the layer beneath ---------------------------------------------------------------------------


def as_large(sewn: Sewn, seams: Sequence[SewnSeam]) -> Iterator[AsLarge]:
    """Pieces sewn to each other all round but where both are sewn on, one of which should be smaller."""
    for (one, other), (name, ours, theirs) in _turned_out(sewn, seams).items():
        pieces = sewn.pieces[one], sewn.pieces[other]
        held = [_others(piece, edges) for piece, edges in zip(pieces, (ours, theirs), strict=True)]
        if not (all(held) and _held_alike(sewn, (one, other), held)):
            continue
        strip = _strip(pieces[0], held[0])
        areas = [np.abs(ring_area([side.drawn for side in piece.ring])) * _often(piece) for piece in pieces]
        long = _often(pieces[0]) * (strip.outer + strip.deep)
        smaller = np.abs(areas[0] - areas[1]) / np.maximum(long, SEW)
        told = (smaller < TURN) & (strip.outer - strip.sewn_on > FALLS)
        if told.any():
            yield AsLarge(name, (one, other), np.where(told, smaller, np.nan))


def _turned_out(sewn: Sewn, seams: Sequence[SewnSeam]) -> dict[tuple[str, str], tuple[str, set[str], set[str]]]:
    """By two pieces that are sewn to each other: their first seam, and the edges of both in all of these."""
    found: dict[tuple[str, str], tuple[str, set[str], set[str]]] = {}
    for seam in seams:
        left, right = ([edge_named(one) for one in run] for run in (seam.left, seam.right))
        owners = [{owner for owner, _ in run} for run in (left, right)]
        if len(owners[0]) == len(owners[1]) == 1 and owners[0] != owners[1] and owners[0] | owners[1] <= sewn.pieces.keys():
            (one,), (other,) = owners
            names = {edge for _, edge in left}, {edge for _, edge in right}
            if one > other:
                one, other, names = other, one, names[::-1]
            _, ours, theirs = found.setdefault((one, other), (seam.name, set(), set()))
            ours |= names[0]
            theirs |= names[1]
    return found


def _others(piece: Piece, edges: Collection[str]) -> set[int]:
    """The numbers of the sides that are neither such edges nor the fold, where they follow each other; none where they do not."""
    count = len(piece.ring)
    found = {i for i, side in enumerate(piece.ring) if not {*edges, piece.fold}.intersection(side.names)}
    return found if sum((i + 1) % count not in found for i in found) == 1 else set()


def _held_alike(sewn: Sewn, names: tuple[str, str], held: Sequence[Collection[int]]) -> bool:
    """Whether both are sewn on to the same, or to each other there, all of them: unlike the halves of a pocket."""
    to = [
        [sewn.to(name, sewn.pieces[name].ring[i]) for i in sorted(sides)] for name, sides in zip(names, held, strict=True)
    ]
    met = [frozenset().union(*rows) for rows in to]
    return all(row for rows in to for row in rows) and (bool(met[0] & met[1]) or any(owner == names[1] for owner, _ in met[0]))


def _often(piece: Piece) -> float:
    return 1.0 if piece.fold is None else 2.0


# ---- the outer edge ------------------------------------------------------------------------------


def standing(sewn: Sewn, seams: Sequence[SewnSeam]) -> Iterator[Standing]:
    """Collars sewn to the necks of fronts and backs whose outer edge falls over and is much shorter than the place they would
    lie on if front and back are laid together at the shoulder. Of a neck of length `n` that turns by an angle, the line `r` off
    it is longer by `r` times that angle; a collar lies on the one that is as long as its outer edge, and stands by half of what
    it is deeper. Raises Disagreement."""
    told: dict[str, NDArray[np.bool_]] = {}
    for seam in seams:
        for sides in (laid_sides(seam, sewn) if seam.how != "gathers" else [])[:1]:
            for collar, neck in (sides, sides[::-1]):
                owners = {one.owner for one in collar.stretches}
                if len(owners) == 1 and _is_collar(collar.stretches[0].piece) and _is_neck(neck, sewn):
                    for one in _standing(seam, collar, neck):
                        layers = {owner for side in sewn.pieces[one.piece].ring for owner, _ in sewn.to(one.piece, side)}
                        known = [told[layer] for layer in layers if layer in told]
                        high = np.where(np.logical_or.reduce([np.zeros(1, dtype=bool), *known]), np.nan, one.high)
                        told[one.piece] = ~np.isnan(high)
                        yield replace(one, high=high)


def _standing(seam: SewnSeam, collar: SeamSide, neck: SeamSide) -> Iterator[Standing]:
    piece = collar.stretches[0].piece
    names = {one.edge for one in collar.stretches}
    held = {i for i, side in enumerate(piece.ring) if names.intersection(side.names)}
    strip, turned = _strip(piece, held), _turned_round(neck)
    long = neck.total()
    lies = (strip.outer - strip.sewn_on) / np.maximum(turned, ROUND)
    high = (strip.deep - lies) / 2.0
    alike = np.abs(long - strip.sewn_on) <= ALIKE * long
    told = alike & (turned > ROUND) & (strip.outer - strip.sewn_on > FALLS) & (high > STANDS)
    if told.any():
        high, outer, place = (np.where(told, mm, np.nan) for mm in (high, strip.outer, long + turned * strip.deep))
        yield Standing(seam.name, collar.stretches[0].owner, collar.stretches[0].edge, high, outer, place)


def _is_collar(piece: Piece) -> bool:
    """Whether a piece covers no part of the body, lies outside, and is whole over its own centre."""
    return piece.covers is None and not piece.inside and (piece.fold is not None or piece.was_fold is not None)


def _is_neck(run: SeamSide, sewn: Sewn) -> bool:
    """Whether a run goes along a front and a back of the bodice, and comes to the centre of one."""
    parts = [one.piece.covers for one in run.stretches]
    if not all(part is not None and part.startswith("bodice") for part in parts):
        return False
    both = {HALVES[part] for part in parts if part is not None} == {"front", "back"}
    at_centre = any(is_centre(SeamSide((one,), (True,)).corner(end), sewn) for one in run.stretches for end in (0, 1))
    return both and (at_centre or any(len({body_side(side) for side in one.sides()}) > 1 for one in run.stretches))


def _turned_round(neck: SeamSide) -> Reals:
    """By what angle (L,) a run turns that goes round a neck, its pieces laid together at what they are sewn to each other by."""
    turned = sum((_turned(one) for one in neck.stretches), np.zeros(1))
    alone = [SeamSide((one,), (forward,)) for one, forward in zip(neck.stretches, neck.forward, strict=True)]
    for one, other in itertools.pairwise(alone):
        here, there = one.corner(1), other.corner(0)
        runs_on = here.place == there.place and not here.is_on_fold
        turned = turned + np.radians(angle_of(here) + (0.0 if runs_on else angle_of(there)) - 180.0)
    return np.asarray(turned)


def _turned(one: SeamEdge) -> Reals:
    """By what angle (L,) an edge turns from its one end to the other, radians: more than nothing where it is hollow."""
    rows = [flatten_fixed(side.drawn, PER_CURVE) for side in one.sides()]
    points = join([rows[0], *(row[:, 1:] for row in rows[1:])], 1)
    ways = (steps := np.diff(points, axis=1))[..., 0] + 1j * steps[..., 1]
    return np.asarray(-np.angle(ways[:, 1:] * np.conj(ways[:, :-1])).sum(axis=1))
