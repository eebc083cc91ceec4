"""Which ends of the two sides of a seam meet, and what stands beside them there, panel by panel."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass

from ..pattern.laid import SeamEdge, SeamSide, turns
from ..pattern.piece import Piece
from ..pattern.which_ends import Sewn, laid_together
from .panels import Atom, Layer, Pieces
from .said import SeamSaid
from .sewn import SewnOnce, Stretch

Way = tuple[SeamSide, SeamSide]
"""The two sides of a seam, laid start to start."""


@dataclass(frozen=True)
class _Run:
    """A run of edges, as those who lay seams together take it."""

    left: tuple[str, ...]
    right: tuple[str, ...]


@dataclass(frozen=True)
class Meeting:
    """An end at which the two sides of a seam meet: the sides of the rings that end there on both, and those that stand beside
    them; None where that is the other half of a folded piece, or there are several ways to lay the seam."""

    seam: SewnOnce
    own: tuple[Atom, Atom]
    beside: tuple[Atom | None, Atom | None]

    def runs_straight(self, pieces: Pieces) -> bool:
        """Whether on either side what stands beside goes on without a corner, as far as cloth tells."""
        return any(_goes_on(pieces, a, b) for a, b in zip(self.own, self.beside, strict=True) if b is not None)


def _goes_on(pieces: Pieces, one: Atom, two: Atom) -> bool:
    cloth = pieces[one.piece].said.piece
    first = next((a.side for a, b in ((one, two), (two, one)) if (a.side + 1) % len(cloth.ring) == b.side), None)
    return first is not None and not cloth.is_sketch and not turns(cloth, first)


def ways_of(pieces: Mapping[str, Piece], seams: Sequence[SeamSaid]) -> dict[str, list[Way]]:
    """By seam the ways to lay it for which the evidence is equal; on sketches, where lengths tell nothing, there may be several.
    None for a seam of an edge inside a piece."""
    rows = [_Run(*(tuple(f"{owner}.{edge}" for owner, edge in run) for run in (seam.left, seam.right))) for seam in seams]
    known = Sewn(pieces, rows)
    found: dict[str, list[Way]] = {}
    for seam in seams:
        if all(pieces[owner].run(edge) for owner, edge in seam.edges):
            left, right = ([SeamEdge(pieces[owner], edge, owner) for owner, edge in run] for run in (seam.left, seam.right))
            found[seam.name] = laid_together(left, right, known)
    return found


def meetings(pieces: Pieces, sewn: Sequence[SewnOnce], ways: Mapping[str, list[Way]]) -> Iterator[Meeting]:
    """The ends of all seams whose way is known, each cloth of the one side with each of the other."""
    for seam in sewn:
        known = ways.get(seam.name, [])
        if len(known) != 1 or not (seam.left and seam.right):
            continue
        sides = [(run, as_sewn(pieces, run, side)) for run, side in zip((seam.left, seam.right), known[0], strict=True)]
        for end in (0, 1):
            found = [list(_at(pieces, run, side, end)) for run, side in sides]
            for mine in found[0]:
                for its in found[1]:
                    yield Meeting(seam, (mine[0], its[0]), (mine[1], its[1]))


def joints(pieces: Pieces, sewn: Sequence[SewnOnce], ways: Mapping[str, Way]) -> Iterator[tuple[SewnOnce, Atom, Atom]]:
    """Where a run goes over from one edge to the next: the sides that stand beside both there."""
    for seam in sewn:
        for run, side in zip((seam.left, seam.right), ways.get(seam.name, ()), strict=False):
            if len(run) != len(side.stretches):
                continue
            side = as_sewn(pieces, run, side)
            each = [SeamSide(side.stretches[k : k + 1], side.forward[k : k + 1]) for k in range(len(run))]
            for k in range(len(run) - 1):
                here = [beside for _, beside in _at(pieces, run[k : k + 1], each[k], 1)]
                there = [beside for _, beside in _at(pieces, run[k + 1 : k + 2], each[k + 1], 0)]
                yield from ((seam, a, b) for a in here for b in there if a is not None and b is not None)


def met_within(pieces: Pieces, sewn: Sequence[SewnOnce], ways: Mapping[str, Way]) -> Iterator[Meeting]:
    """Where both sides of a seam go over from one edge to the next, as meetings of what ends and begins there."""
    for seam in sewn:
        way = ways.get(seam.name)
        if way is None or not len(seam.left) == len(seam.right) == len(way[0].stretches) == len(way[1].stretches):
            continue
        sides = [(run, as_sewn(pieces, run, side)) for run, side in zip((seam.left, seam.right), way, strict=True)]
        for k in range(len(seam.left)):
            each = [(run[k : k + 1], SeamSide(side.stretches[k : k + 1], side.forward[k : k + 1])) for run, side in sides]
            for end in (0, 1) if len(seam.left) > 1 else ():
                mine, its = (list(_at(pieces, run, side, end)) for run, side in each)
                yield from (Meeting(seam, (a, b), (c, d)) for a, c in mine for b, d in its)


def as_sewn(pieces: Pieces, run: Sequence[Stretch], side: SeamSide) -> SeamSide:
    """A side as it is laid on the edges that are sewn: where one is that of the other half of a whole piece, it runs the other
    way round than the one that is written."""
    if len(run) != len(side.stretches):
        return side
    twins = [stretch.edge != (one.owner, one.edge) for stretch, one in zip(run, side.stretches, strict=True)]
    edges = (SeamEdge(pieces[owner].said.piece, edge, owner) for owner, edge in (stretch.edge for stretch in run))
    return SeamSide(tuple(edges), tuple(forward != twin for forward, twin in zip(side.forward, twins, strict=True)))


def _at(pieces: Pieces, run: Sequence[Stretch], side: SeamSide, end: int) -> Iterator[tuple[Atom, Atom | None]]:
    """At an end of a run the side of the ring that ends there, on each of its cloths, and the one that stands beside it."""
    corner, stretch = side.corner(end), run[-end]
    count = len(corner.piece.ring)
    own, beside = corner.number, (corner.number - 1) % count
    if side.forward[-end] == bool(end):
        own, beside = beside, own
    name = corner.owner
    for layer in stretch.layers:
        yield Atom(name, layer.panel, layer.copy, own), _atom(pieces, name, layer, beside)


def _atom(pieces: Pieces, name: str, layer: Layer, number: int) -> Atom | None:
    return Atom(name, layer.panel, layer.copy, number) if number in pieces[name].sides else None
