"""A side of a seam laid out: the edges it runs along, in which sense each; its joints, darts and notches, its corners.

Nothing is moved for this: a place on a run is an arc length from its start.
"""

from __future__ import annotations

import itertools
from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass

import numpy as np

from ..geometry.lanes import cross, decide, dot
from ..geometry.length import length
from ..geometry.path import end_direction, start_direction
from ..geometry.tolerances import FLAT
from .edges import edge_length
from .ends import plain
from .piece import Notch, Piece, Reals, Side
from .ring import edge_run

CORNER = np.radians(20.0)
"""An edge that turns by more than this has a corner that is seen without a notch."""


Place = tuple[str, int]
"""A corner: what its piece is called, and the ring number of the side that begins there."""


@dataclass(frozen=True)
class SeamEdge:
    """An edge of the ring that takes part in a seam, its piece, and what that is called ("" where nobody says)."""

    piece: Piece
    edge: str
    owner: str = ""

    def sides(self) -> list[Side]:
        """The sides of the ring it goes along, in the order of that."""
        return [self.piece.ring[i % len(self.piece.ring)] for i in edge_run(self.piece, self.edge)]


def climbs(run: Iterable[tuple[Side, bool]]) -> bool:
    """Whether a run of sides, each travelled as it is drawn or against it, ends nearer to the wearer's head than it begins.
    Raises Disagreement."""
    risen = np.zeros(1)
    for side, forward in run:
        risen = risen + (side.drawn.end - side.drawn.start)[:, 1] * (1.0 if forward else -1.0)
    return decide(risen > 0.0)


@dataclass(frozen=True)
class Corner:
    """A corner of a piece at which a run ends: the ring number of the side that begins there, the run's own side and the side
    that stands beside it there."""

    owner: str
    piece: Piece
    number: int
    own: Side
    beside: Side

    @property
    def place(self) -> Place:
        return self.owner, self.number

    @property
    def is_on_fold(self) -> bool:
        return self.piece.fold is not None and self.piece.fold in self.beside.names


@dataclass(frozen=True)
class SeamSide:
    """Stretches in order, each travelled as its ring runs (`forward`) or against it."""

    stretches: tuple[SeamEdge, ...]
    forward: tuple[bool, ...]

    def lengths(self) -> list[Reals]:
        """Sewn length (L,) mm of each stretch."""
        return [edge_length(one.piece, one.edge) for one in self.stretches]

    def corner(self, end: int) -> Corner:
        """The corner at its start (0) or end (1)."""
        stretch, forward = self.stretches[-end], self.forward[-end]
        ring, numbers = stretch.piece.ring, edge_run(stretch.piece, stretch.edge)
        if forward == bool(end):
            number = (numbers[-1] + 1) % len(ring)
            return Corner(stretch.owner, stretch.piece, number, ring[numbers[-1] % len(ring)], ring[number])
        number = numbers[0] % len(ring)
        return Corner(stretch.owner, stretch.piece, number, ring[number], ring[(number - 1) % len(ring)])

    def total(self) -> Reals:
        """Sewn length (L,) mm of all."""
        return sum(self.lengths(), start=np.zeros(1))

    def joints(self) -> list[Reals]:
        """Where (L,) mm from the start one stretch goes over into the next, or turns a corner, as at the point of a V neck."""
        return [*list(itertools.accumulate(self.lengths()))[:-1], *self._between(_is_corner)]

    def unseen(self) -> tuple[list[Reals], tuple[bool, bool]]:
        """The joints, (L,) mm from the start, and which ends, at which nothing is seen: the outline of the piece runs on there
        without a corner, off no fold, and no notch is stated."""
        places, joints = list(itertools.accumulate(self.lengths()))[:-1], []
        for k, place in enumerate(places):
            one, two = (SeamSide(self.stretches[j : j + 1], self.forward[j : j + 1]) for j in (k, k + 1))
            if one.corner(1).place == two.corner(0).place and not _is_seen(one, 1):
                joints.append(place)
        return joints, (not _is_seen(self, 0), not _is_seen(self, 1))

    def darts(self) -> list[Reals]:
        """Where (L,) mm from the start darts are sewn."""
        return self._between(lambda piece, i: piece.ring[(i + 1) % len(piece.ring)].edge in _legs(piece))

    def shut(self) -> list[Reals]:
        """Where (L,) mm from the start darts are sewn or pleats lie folded."""
        return self._between(lambda piece, i: (i + 1) % len(piece.ring) in piece.dart_sides())

    def _between(self, wanted: Callable[[Piece, int], bool]) -> list[Reals]:
        """Where (L,) mm from the start a side of a stretch ends, of those sides, by ring number, that are wanted."""
        found: list[Reals] = []
        before: Reals = np.zeros(1)
        for stretch, forward, total in zip(self.stretches, self.forward, self.lengths(), strict=True):
            along: Reals = np.zeros(1)
            for i in edge_run(stretch.piece, stretch.edge)[:-1]:
                along = along + length(stretch.piece.ring[i % len(stretch.piece.ring)].drawn)
                if wanted(stretch.piece, i % len(stretch.piece.ring)):
                    found.append(before + (along if forward else total - along))
            before = before + total
        return found


def _is_corner(piece: Piece, i: int) -> bool:
    """Whether the outline turns a corner behind a side, and runs on with the same edge."""
    return piece.ring[i].edge == piece.ring[(i + 1) % len(piece.ring)].edge and turns(piece, i)


def turns(piece: Piece, i: int) -> bool:
    """Whether the outline turns a corner behind a side."""
    return decide(turn_behind(piece, i) > CORNER)


def turn_behind(piece: Piece, i: int) -> Reals:
    """By how much (L,) the outline turns behind a side, radians, either way."""
    arriving, leaving = end_direction(piece.ring[i].drawn), start_direction(piece.ring[(i + 1) % len(piece.ring)].drawn)
    return np.asarray(np.abs(np.arctan2(cross(arriving, leaving), dot(arriving, leaving))))


def _is_seen(laid: SeamSide, end: int) -> bool:
    """Whether a run ends, at its start (0) or end (1), at a corner of its piece, at the fold or at a stated notch."""
    piece, after = laid.stretches[-end].piece, laid.corner(end).number
    before = (after - 1) % len(piece.ring)
    long = length(piece.ring[before].drawn)
    marked = any(
        one.stated and decide(spot <= FLAT)
        for one in piece.notches
        for spot in ([one.at] if one.side == after else [long - one.at] if one.side == before else [])
    )
    return marked or turns(piece, before) or any(piece.fold in piece.ring[i].names for i in (before, after))


def _legs(piece: Piece) -> set[str]:
    return {leg for dart in piece.darts for leg in dart.leg_names}


def notches_on(laid: SeamSide, seam: str = "") -> list[tuple[Reals, int]]:
    """The notches of a run, (L,) mm from its start, with their strokes: those of the seam, and those stated in sentences."""
    return [(at, notch.strokes) for at, notch in standing(laid, seam)]


def standing(laid: SeamSide, seam: str = "") -> list[tuple[Reals, Notch]]:
    """The notches themselves; one with a name that lies at an end of the run, as of a part between two such, is that end."""
    whole = laid.total()
    return [
        (at, notch)
        for at, notch in _all_standing(laid, seam)
        if not (notch.name and decide((at <= FLAT) | (at >= whole - FLAT)))
    ]


def _all_standing(laid: SeamSide, seam: str) -> list[tuple[Reals, Notch]]:
    found: list[tuple[Reals, Notch]] = []
    before: Reals = np.zeros(1)
    for stretch, forward, total in zip(laid.stretches, laid.forward, laid.lengths(), strict=True):
        along: Reals = np.zeros(1)
        for i in edge_run(stretch.piece, stretch.edge):
            for notch in stretch.piece.notches:
                if notch.side == i and (notch.stated or (notch.seam and notch.seam == seam)):
                    at = along + notch.at
                    found.append((before + (at if forward else total - at), notch))
            along = along + length(stretch.piece.ring[i].drawn)
        before = before + total
    return found


def alike(ours: Sequence[str], theirs: Sequence[str]) -> list[tuple[int, int]]:
    """Which names of the two sides of a seam are one: the same, or the same but for the side of the body before them."""
    found = []
    for k, name in ((k, name) for k, name in enumerate(ours) if name):
        same = [j for j, other in enumerate(theirs) if other == name]
        bare = [[i for i, one in enumerate(names) if plain(one) == plain(name)] for names in (ours, theirs)]
        if len(same) == 1:
            found.append((k, same[0]))
        elif [len(one) for one in bare] == [1, 1]:
            found.append((k, bare[1][0]))
    return found
