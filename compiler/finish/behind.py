"""What lies behind the garment, facings and linings: whether they are deep enough for the allowances they cover and as long as
the edge they face, and whether a sleeve is sewn to them that should be sewn to the cloth before them."""

from __future__ import annotations

from collections.abc import Container, Iterator, Mapping, Sequence
from dataclasses import dataclass

import numpy as np
import shapely
from numpy.typing import NDArray

from ..geometry.tolerances import SEW
from ..pattern.flat import flat_line
from ..pattern.laid import CORNER, Corner, SeamSide, turn_behind
from ..pattern.piece import Piece, Reals, Side
from ..pattern.ring import edge_run
from ..pattern.which_ends import Sewn, edge_named
from .seams import SewnSeam, laid_sides
from .stated import HEMS, allowance_of, corner_at

BEYOND = 3.0
"""A facing that reaches less than this (mm) beyond the allowance it covers rolls out (ours)."""


@dataclass(frozen=True)
class Narrow:
    """A piece inside that is narrower, (L,) mm, than the allowance (L,) mm of its edge, or hardly wider; NaN where it is not."""

    piece: str
    edge: str
    wide: Reals
    allowance: Reals


@dataclass(frozen=True)
class Short:
    """A piece inside that ends with the edge it faces, where the piece before it runs on, on bodies (L,), without a corner into
    an edge that nothing is sewn to."""

    piece: str
    faced: str
    beyond: str
    seam: str
    where: NDArray[np.bool_]


@dataclass(frozen=True)
class SewnBehind:
    """A piece that is sewn to pieces behind the garment alone, and those before them that it should be sewn to."""

    piece: str
    seam: str
    behind: tuple[str, ...]
    before: tuple[str, ...]


def narrow(sewn: Sewn) -> Iterator[Narrow]:
    """Pieces inside whose sewn edges lie nearer to their other side than the seam is allowed, or hardly farther."""
    pieces = sewn.pieces
    for (owner, edge), others in sewn.partners.items():
        piece = pieces.get(owner)
        if piece is None or not piece.inside or not piece.run(edge):
            continue
        theirs = [(pieces[name], one) for name, one in others if name in pieces]
        widths = [_allowed(*one) for one in [(piece, edge), *theirs]]
        allowed, wide = np.max(np.stack(np.broadcast_arrays(*widths)), axis=0), _across(piece, edge)
        tight = wide < allowed + BEYOND - SEW
        if tight.any():
            yield Narrow(owner, edge, *(np.where(tight, one, np.nan) for one in (wide, allowed)))


def short(sewn: Sewn, seams: Sequence[SewnSeam], finished: Container[str]) -> Iterator[Short]:
    """Facings that stop where the edge they face runs on, as what is sewn to nothing, is no hem, and is not among the edges
    (`piece.edge`) that are `finished` otherwise; where it is left open how the sides of a seam lie, those that do in every way.
    Raises Disagreement."""
    for seam in seams:
        ways = [list(_short(seam.name, sides, sewn, finished)) for sides in laid_sides(seam, sewn)]
        names = [{(one.faced, one.beyond) for one in way} for way in ways]
        for one in ways[0] if ways else ():
            if all((one.faced, one.beyond) in way for way in names):
                yield one


def _short(seam: str, sides: Sequence[SeamSide], sewn: Sewn, finished: Container[str]) -> Iterator[Short]:
    """Those of a seam whose sides lie together so."""
    for end in (0, 1):
        inner, outer = sorted((side.corner(end) for side in sides), key=lambda one: not one.piece.inside)
        if not inner.piece.inside or outer.piece.inside or _is_done(outer, sewn, finished):
            continue
        smooth = turn_behind(outer.piece, (outer.number - 1) % len(outer.piece.ring)) <= CORNER
        if smooth.any():
            yield Short(inner.owner, f"{outer.owner}.{outer.own.edge}", outer.beside.edge, seam, smooth)


def _is_done(outer: Corner, sewn: Sewn, finished: Container[str]) -> bool:
    """Whether what stands beside an end of a faced edge has no raw edge: a fold, a dart, a seam, a hem, or finished otherwise."""
    piece, beside = outer.piece, outer.beside
    shut = outer.is_on_fold or not piece.dart_sides().isdisjoint({outer.number, (outer.number - 1) % len(piece.ring)})
    hemmed = corner_at(piece, beside, outer.own) in HEMS or any(f"{outer.owner}.{name}" in finished for name in beside.names)
    return shut or hemmed or bool(sewn.to(outer.owner, beside))


def sewn_behind(pieces: Mapping[str, Piece], seams: Sequence[SewnSeam]) -> Iterator[SewnBehind]:
    """Pieces of the garment all of whose seams to other pieces go to its facings or its lining, as a sleeve set into the armhole
    of the lining."""
    met: dict[str, dict[str, str]] = {}
    for seam in seams:
        left, right = ({edge_named(one)[0] for one in side} & pieces.keys() for side in (seam.left, seam.right))
        for ours, theirs in ((left, right), (right, left)):
            for name in ours:
                met.setdefault(name, {}).update(dict.fromkeys(theirs - {name}, seam.name))
    for name, others in met.items():
        own = pieces[name].covers  # what covers the same is its own lining
        behind = {one: _before(pieces, name, one) for one in others if own is None or pieces[one].covers != own}
        if behind and not pieces[name].inside and all(behind.values()):
            before = tuple(dict.fromkeys(one for those in behind.values() for one in those))
            yield SewnBehind(name, others[next(iter(behind))], tuple(behind), before)


def _before(pieces: Mapping[str, Piece], name: str, other: str) -> list[str]:
    """The pieces in the cloth of a piece that lie before another one, which is in another cloth or inside."""
    cloths = {cut.cloth for cut in pieces[name].finish.cuts}
    it = pieces[other]
    if it.covers is None or not (it.inside or cloths.isdisjoint(cut.cloth for cut in it.finish.cuts)):
        return []
    return [
        one
        for one, piece in pieces.items()
        if one not in (name, other) and piece.covers == it.covers and not piece.inside
        if not cloths.isdisjoint(cut.cloth for cut in piece.finish.cuts)
    ]


def _allowed(piece: Piece, edge: str) -> Reals:
    widths = [allowance_of(piece, piece.ring[i]).width for i in piece.run(edge)] or [np.zeros(1)]
    return np.asarray(np.max(np.stack(np.broadcast_arrays(*widths)), axis=0))


def _across(piece: Piece, edge: str) -> Reals:
    """How near (L,) mm an edge, with the rest of one that it is a part of, comes to the edges that do not stand beside it;
    infinite where there are none."""
    count = len(piece.ring)
    names = {name for i in edge_run(piece, edge) for name in piece.ring[i % count].names}
    own = {i for i, side in enumerate(piece.ring) if not names.isdisjoint(side.names)}
    beside = {(i + step) % count for i in own for step in (-1, 1)}
    met = {name for i in beside for name in piece.ring[i].names}
    others = [i for i in range(count) if i not in own and met.isdisjoint(piece.ring[i].names)]
    ours, theirs = ([_drawn(piece.ring[i]) for i in those] for those in (own, others))
    found = [shapely.distance(a, b) for a in ours for b in theirs] or [np.full(1, np.inf)]
    return np.asarray(np.min(np.stack(np.broadcast_arrays(*found)), axis=0))


def _drawn(side: Side) -> NDArray[np.object_]:
    return np.atleast_1d(flat_line(side.drawn))
