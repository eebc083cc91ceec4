"""Where an edge breaks that should run on: over a seam from one piece into the other, or over a dart, once these are sewn.

Nothing is laid together for this: the angles of the cloth on both sides of a seam are together half a turn where the edges beside
it run on. Only edges that are finished alike are held to that, both sewn on to others or both not, and no piece that lies
inside to one that does not: there the one is folded back on the other.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from ..pattern import truing
from ..pattern.darts import is_open_below
from ..pattern.laid import Corner
from ..pattern.piece import Piece, Reals
from ..pattern.truing import angle_at, kink_over_dart
from ..pattern.which_ends import Sewn
from .seams import SewnSeam, laid_sides

LEAST, MOST = 5.0, 40.0
"""A break of fewer degrees is trued by hand, one of more is a point that is meant, as of a V neck (ours; no edge of the bundled
styles that runs on breaks by more than 5)."""

ROUND = 90.0
"""Nor is a point meant between two curves at the rim of a garment, which nothing is sewn to but what lies inside, as two round
necklines over the shoulder, or that are sewn to one edge, as these to a hood: there more is told."""

STRAIGHT = 170.0
"""Where the cloth has a wider angle (degrees) a seam ends within an edge, as above a slit."""


@dataclass(frozen=True)
class Break:
    """An edge that breaks: over what, a seam or the dart of a piece; the edges as `piece.edge`; by how many degrees (L,), 0 where
    it does not."""

    over: str
    edges: tuple[str, ...]
    degrees: Reals


def over_seams(sewn: Sewn, seams: Sequence[SewnSeam]) -> Iterator[Break]:
    """The breaks over seams. Raises Disagreement."""
    for seam in seams:
        ways = laid_sides(seam, sewn)
        for left, right in ways if len(ways) == 1 else ():
            for corners in ((left.corner(end), right.corner(end)) for end in (0, 1)):
                if should_run_on(*corners, sewn):
                    angles = [angle_of(corner) for corner in corners]
                    ends = seam_ends(*corners)
                    edges = tuple(f"{corner.owner}.{corner.beside.edge}" for corner in corners)
                    most = ROUND if _are_round(*corners, sewn) else MOST
                    yield Break(seam.name, edges, _told(np.where(ends, 180.0 - angles[0] - angles[1], 0.0), most))


def over_darts(owner: str, piece: Piece) -> Iterator[Break]:
    """The breaks of the edges of a piece over its darts."""
    for dart in piece.darts:
        if not is_open_below(piece, dart):
            yield Break(dart.name, (f"{owner}.{dart.edge}",), _told(np.degrees(kink_over_dart(piece, dart.edge, dart.name))))


def should_run_on(one: Corner, other: Corner, sewn: Sewn) -> bool:
    """Whether the edges beside both ends of a seam should run on over it."""
    if one.piece.inside != other.piece.inside or (one.owner, one.beside.edge) == (other.owner, other.beside.edge):
        return False
    if any(corner.is_on_fold or corner.number in _behind_darts(corner.piece) for corner in (one, other)):
        return False
    on, beyond = (bool(sewn.to(corner.owner, corner.beside)) for corner in (one, other))
    if on != beyond or (on and _lie_on_each_other(one, other, sewn)):
        return False
    return on or not one.piece.inside  # the inner edge of a facing is seen by nobody


def _lie_on_each_other(one: Corner, other: Corner, sewn: Sewn) -> bool:
    """Whether the edges beside the ends of a seam are sewn to one edge, each in a seam of its own, as those of two layers are."""
    if sewn.to(one.owner, one.beside).isdisjoint(sewn.to(other.owner, other.beside)):
        return False
    both = [{f"{corner.owner}.{name}" for name in corner.beside.names} for corner in (one, other)]
    return not any(all(edges.intersection(side) for edges in both) for seam in sewn.seams for side in (seam.left, seam.right))


def seam_ends(one: Corner, other: Corner) -> NDArray[np.bool_]:
    """Where (L,) a seam ends with its edges, and not within them as above a slit."""
    return np.asarray(np.maximum(angle_of(one), angle_of(other)) < STRAIGHT)


def _are_round(one: Corner, other: Corner, sewn: Sewn) -> bool:
    """Whether curves stand beside the ends of a seam that are a rim, or are sewn to one edge, which has no point there."""
    if all(one.beside.drawn.straight) or all(other.beside.drawn.straight):
        return False
    ours, theirs = (set(sewn.to(corner.owner, corner.beside)) for corner in (one, other))
    return bool(ours & theirs) or (_is_rim(one, sewn) and _is_rim(other, sewn))


def _is_rim(corner: Corner, sewn: Sewn) -> bool:
    """Whether nothing is sewn to what stands beside an end of a seam but what lies inside."""
    partners = {owner for owner, _ in sewn.to(corner.owner, corner.beside)}
    return all(sewn.pieces[one].inside for one in partners if one in sewn.pieces)


def _behind_darts(piece: Piece) -> set[int]:
    """Ring numbers of the sides that begin where a dart begins or ends."""
    return {(i + step) % len(piece.ring) for i in piece.dart_sides() for step in (0, 1)}


def angle_of(corner: Corner) -> Reals:
    """Angle (L,) of the cloth at a corner, degrees."""
    before = (corner.number - 1) % len(corner.piece.ring)
    return np.degrees(angle_at(corner.piece, truing.Corner(before, corner.number, "end")))


def _told(degrees: Reals, most: float = MOST) -> Reals:
    """The breaks that are worth a word, as they are; 0 for the others."""
    size = np.abs(degrees)
    return np.where((size > LEAST) & (size < most), size, 0.0)
