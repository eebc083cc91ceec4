"""Where an edge comes to a point that should run on: at the fold of its piece, once that is opened, or at a pair's own seam.

An edge runs on there that leaves fold or seam at a right angle. Edges that are sewn to each other over one fold may make a point
together that is meant, as of a pointed yoke; then the fold must run on over their seam.
"""

from __future__ import annotations

import itertools
from collections.abc import Iterator, Sequence
from dataclasses import dataclass

import numpy as np

from ..pattern import truing
from ..pattern.ends import plain
from ..pattern.laid import Corner, Place
from ..pattern.piece import Piece, Reals, Side
from ..pattern.ring import edge_run
from ..pattern.truing import angle_at
from ..pattern.which_ends import Name, Sewn
from .running_on import LEAST
from .seams import SewnSeam, laid_sides

MEANT = 60.0
"""A curve that comes to a point of more degrees than this is meant to, as a sweetheart neck (ours)."""

MEANT_STRAIGHT = 20.0
"""A straight line that slopes by half as many degrees makes a point that is meant, as of a yoke, a flap or a V neck (ours)."""


@dataclass(frozen=True)
class Point:
    """The edges that come to a point at `at`, a fold or a seam, by how many degrees (L,): positive where the cloth makes a peak,
    negative where it makes a V, 0 where they run on."""

    edges: tuple[str, ...]
    at: str
    is_seam: bool
    degrees: Reals


@dataclass(frozen=True)
class Parted:
    """A seam over which the fold of two pieces does not run on, and by how many degrees (L,); 0 where it does."""

    seam: str
    pieces: tuple[str, str]
    degrees: Reals


@dataclass(frozen=True)
class _End:
    """An edge that ends at the fold of its piece, at which corner, and by how many degrees (L,) it comes to a point there."""

    owner: str
    edge: str
    number: int
    side: Side
    at: str
    degrees: Reals

    @property
    def name(self) -> str:
        return f"{self.owner}.{self.edge}"

    @property
    def place(self) -> Place:
        return self.owner, self.number


def points(sewn: Sewn, seams: Sequence[SewnSeam]) -> Iterator[Point]:
    """The points at folds, those of edges that are sewn to each other there as one. Raises Disagreement."""
    ends = [one for owner, piece in sewn.pieces.items() for one in _ends(owner, piece)]
    told = set[Place]()
    for one in ends:
        if one.place not in told:
            group = (one, *_across(sewn, one, ends))
            told.update(each.place for each in group)
            sizes = np.stack(np.broadcast_arrays(*(each.degrees for each in group)))
            widest = np.take_along_axis(sizes, np.abs(sizes).argmax(axis=0)[None], axis=0)[0]
            yield Point(tuple(each.name for each in group), one.at, False, _told(widest, [each.side for each in group]))
    yield from _at_own_seams(seams, sewn)


def parted(sewn: Sewn, seams: Sequence[SewnSeam]) -> Iterator[Parted]:
    """The seams over which a fold breaks though each edge makes a point that may be meant, or none. Raises Disagreement."""
    for seam in seams:
        ways = laid_sides(seam, sewn) if seam.how != "gathers" else []
        for one, other in ways if len(ways) == 1 else ():
            for corners in ((one.corner(end), other.corner(end)) for end in (0, 1)):
                owners = corners[0].owner, corners[1].owner
                if owners[0] == owners[1] or not all(each.is_on_fold and not each.piece.inside for each in corners):
                    continue
                angles = [_angle(each) for each in corners]
                off, laid_on = np.abs(180.0 - angles[0] - angles[1]), np.abs(angles[0] - angles[1]) < LEAST
                known = [_told(180.0 - 2.0 * angle, [each.own]) for angle, each in zip(angles, corners, strict=True)]
                told = (off > LEAST) & ~laid_on & (known[0] == 0.0) & (known[1] == 0.0)
                yield Parted(seam.name, owners, np.where(told, off, 0.0))


def _ends(owner: str, piece: Piece) -> Iterator[_End]:
    """The edges of a piece that cross its fold, or where it was before the piece was unfolded."""
    if piece.inside:
        return
    shut, count = piece.dart_sides(), len(piece.ring)
    if piece.fold is not None and piece.run(piece.fold):
        run = edge_run(piece, piece.fold)
        for corner, beside in (((run[0] - 1) % count, (run[0] - 1) % count), (run[-1], (run[-1] + 1) % count)):
            side = piece.ring[beside]
            if beside not in shut:
                yield _End(owner, side.edge, (corner + 1) % count, side, piece.fold, 180.0 - 2.0 * _at(piece, corner))
    elif piece.was_fold is not None:
        for i, (one, other) in enumerate(itertools.pairwise((*piece.ring, piece.ring[0]))):
            halves = one.names[-1], other.names[-1]
            is_one = one.edge == other.edge and halves[0] != halves[1] and plain(halves[0]) == plain(halves[1])
            if is_one and not shut & {i, (i + 1) % count}:
                yield _End(owner, one.edge, (i + 1) % count, one, piece.was_fold, 180.0 - _at(piece, i))


def _at_own_seams(seams: Sequence[SewnSeam], sewn: Sewn) -> Iterator[Point]:
    """The points of pairs at seams that sew an edge to itself, of edges that nothing is sewn to but what lies inside."""
    for seam in (seam for seam in seams if seam.left == seam.right and len(seam.left) == 1):
        for one, _ in laid_sides(seam, sewn)[:1]:
            for corner in (one.corner(0), one.corner(1)):
                partners = sewn.to(corner.owner, corner.beside)
                if not corner.piece.inside and all(sewn.pieces[name].inside for name, _ in partners if name in sewn.pieces):
                    name = f"{corner.owner}.{corner.beside.edge}"
                    yield Point((name,), seam.name, True, _told(180.0 - 2.0 * _angle(corner), [corner.beside]))


def _across(sewn: Sewn, one: _End, ends: Sequence[_End]) -> list[_End]:
    """The ends that an end is sewn to over the fold; where edges meet the fold at both ends, those that seams bring there."""
    names = set(_partners(sewn, one)) - {(one.owner, one.edge)}
    found = sorted((each for each in ends if (each.owner, each.edge) in names), key=lambda each: (each.owner, each.edge))
    if len({each.name for each in found}) == len(found) and sum(each.name == one.name for each in ends) == 1:
        return found
    here = sewn.corners.get(one.place, one.place)
    return [each for each in found if sewn.corners.get(each.place, each.place) == here]


def _partners(sewn: Sewn, end: _End) -> Iterator[Name]:
    """The edges over the fold of another piece, by their plain names, that an edge is sewn to."""
    for owner, edge in sewn.to(end.owner, end.side):
        piece = sewn.pieces.get(owner)
        if piece is not None and piece.run(edge):
            yield owner, piece.ring[piece.run(edge)[0]].edge


def _at(piece: Piece, i: int) -> Reals:
    """Angle (L,) of the cloth behind side `i`, degrees."""
    return np.degrees(angle_at(piece, truing.Corner(i, (i + 1) % len(piece.ring), "end")))


def _angle(corner: Corner) -> Reals:
    return _at(corner.piece, (corner.number - 1) % len(corner.piece.ring))


def _told(degrees: Reals, sides: Sequence[Side]) -> Reals:
    """The points that are worth a word, as they are; 0 for the others."""
    straight = np.all([np.all(side.drawn.straight) for side in sides])
    size = np.abs(degrees)
    return np.where((size > LEAST) & (size < (MEANT_STRAIGHT if straight else MEANT)), degrees, 0.0)
