"""Which ends of the two sides of a seam meet: told by what stands beside them and how the pieces are worn, by no word of a name.

Evidence at both ends is added up: one corner or one edge beside both; edges beside them that are sewn to each other, or on to
pieces that are joined there; the centre with the centre, left with left; levels of the body that end on both; notches of one
name.
Where that leaves several ways, these tell, one after the other:
- of edges that are not level the upper ends meet, since up is toward the head on every piece;
- the right side of the cloth: sewn right sides together, two edges run against each other, or the same way where one of the
  pieces is turned over or lies inside;
- stated notches and joints that fall together;
- corners that other seams bring together.

Of sketches only what their names and order tell is looked at, so that several ways may be left.
"""

from __future__ import annotations

import itertools
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, field
from functools import cached_property, partial
from types import MappingProxyType
from typing import Protocol

import numpy as np

from ..geometry.lanes import decide
from ..geometry.tolerances import SEW
from .ends import body_side, level_ends
from .laid import Corner, Place, SeamEdge, SeamSide, alike, notches_on, standing
from .piece import Piece, Reals, Side, Worn
from .ring import edge_run

MOST_WAYS = 16
"""Of a run whose edges may be travelled in more ways than these nothing tells how it lies."""

# How much a piece of evidence counts (ours, tried on all bundled styles): what is one place outweighs all else.
ONE_CORNER = 100
ONE_EDGE = 12
ONE_SEAM = 3
JOINED = 2
ONE_ALONE = -2
CENTRE = 2
FOLD = 3
OTHER_SIDE = -3
LEVELS = 1
NAMED = 6

LEVEL = np.tan(np.radians(10.0))
"""An edge less steep than this is level (ours): shoulders are steeper, waists and hems less steep on nearly every body, so that
few part by it."""

Name = tuple[str, str]
"""An edge: what its piece is called, and its own name there."""


class Sides(Protocol):
    """What is sewn to what, each edge as `piece.edge`."""

    @property
    def left(self) -> tuple[str, ...]: ...

    @property
    def right(self) -> tuple[str, ...]: ...


@dataclass(frozen=True)
class Sewn:
    """The pieces of a style and its seams, as these tell of each other."""

    pieces: Mapping[str, Piece] = field(default_factory=lambda: MappingProxyType({}))
    seams: Sequence[Sides] = ()

    @cached_property
    def partners(self) -> Mapping[Name, frozenset[Name]]:
        """By each edge those it is sewn to."""
        found: dict[Name, set[Name]] = {}
        for seam in self.seams:
            left, right = ([edge_named(one) for one in names] for names in (seam.left, seam.right))
            for a, b in itertools.product(left, right):
                found.setdefault(a, set()).add(b)
                found.setdefault(b, set()).add(a)
        return {name: frozenset(others) for name, others in found.items()}

    def to(self, owner: str, side: Side) -> frozenset[Name]:
        """The edges a side is sewn to."""
        return frozenset().union(*(self.partners.get((owner, name), ()) for name in side.names))

    def stretches(self, seam: Sides) -> tuple[list[SeamEdge], list[SeamEdge]] | None:
        """The edges of the two sides of a seam; None where one lies inside its piece, or on a piece that is not cut."""
        left, right = ([edge_named(one) for one in names] for names in (seam.left, seam.right))
        if not all(owner in self.pieces and self.pieces[owner].run(edge) for owner, edge in (*left, *right)):
            return None
        a, b = ([SeamEdge(self.pieces[owner], edge, owner) for owner, edge in names] for names in (left, right))
        return a, b

    @cached_property
    def corners(self) -> Mapping[Place, Place]:
        """Of each corner that seams bring to others, one that stands for all of these. Raises Disagreement."""
        found: dict[Place, Place] = {}

        def stands_for(place: Place) -> Place:
            while found.get(place, place) != place:
                place = found[place]
            return place

        for sides in filter(None, map(self.stretches, self.seams)):
            ways = self.by_themselves(*sides)
            for a, b in ways if len(ways) == 1 else ():
                for end in (0, 1):
                    found[stands_for(a.corner(end).place)] = stands_for(b.corner(end).place)
        return {place: stands_for(place) for place in found}

    def joined(self, one: Name, other: Name) -> bool:
        """Whether edges that stand beside two edges are sewn to each other."""
        ours, theirs = self._beside.get(one, ()), self._beside.get(other, frozenset())
        return any(self.partners.get(name, frozenset()) & theirs for name in ours)

    def by_themselves(self, left: Sequence[SeamEdge], right: Sequence[SeamEdge]) -> list[tuple[SeamSide, SeamSide]]:
        """The ways to lay two sides of a seam together, whichever way the other seams are laid: worked out once for edges of
        these pieces, since the other seams ask for them too."""
        if not all(self.pieces.get(one.owner) is one.piece for one in (*left, *right)):
            return _by_themselves(left, right, self)
        key = tuple(tuple((one.owner, one.edge) for one in run) for run in (left, right))
        if key not in self._laid:
            self._laid[key] = _by_themselves(left, right, self)
        return self._laid[key]

    @cached_property
    def _laid(self) -> dict[tuple[tuple[Name, ...], ...], list[tuple[SeamSide, SeamSide]]]:
        return {}

    @cached_property
    def _beside(self) -> Mapping[Name, frozenset[Name]]:
        """By each edge that is sewn those that stand beside it."""
        found: dict[Name, frozenset[Name]] = {}
        for owner, edge in self.partners:
            piece = self.pieces.get(owner)
            if piece is not None and piece.run(edge):
                numbers, count = edge_run(piece, edge), len(piece.ring)
                sides = (piece.ring[i % count] for i in (numbers[0] - 1, numbers[-1] + 1))
                found[owner, edge] = frozenset((owner, name) for side in sides for name in side.names)
        return found


NOTHING_SEWN = Sewn()

Score = Callable[[SeamSide, SeamSide], int]
"""How much speaks for laying two sides together so."""


def edge_named(name: str) -> Name:
    """An edge written `piece.edge`."""
    owner, _, edge = name.partition(".")
    return owner, edge


def laid_together(
    left: Sequence[SeamEdge], right: Sequence[SeamEdge], sewn: Sewn = NOTHING_SEWN
) -> list[tuple[SeamSide, SeamSide]]:
    """The ways to lay two sides of a seam start to start for which the evidence is equal; one where it tells, several or none
    where it does not. Raises Disagreement.

    Runs are taken in the order they are written in, so of two runs the first edges go together.
    """
    return _told_by(sewn.by_themselves(left, right), partial(_at_one_place, sewn))


def _by_themselves(left: Sequence[SeamEdge], right: Sequence[SeamEdge], sewn: Sewn) -> list[tuple[SeamSide, SeamSide]]:
    """The ways to lay two sides of a seam together, whichever way the other seams are laid."""
    ways = [SeamSide(tuple(left), forward) for forward in _ways(left, sewn)]
    others = [SeamSide(tuple(right), forward) for forward in _ways(right, sewn)]
    if len(left) == 1 and len(right) == 1:  # turning both round changes nothing
        ways = ways[:1]
    pairs = list(itertools.product(ways, others))
    if [(one.owner, one.edge) for one in left] == [(one.owner, one.edge) for one in right]:  # it meets itself, layer on layer
        return [(a, b) for a, b in pairs if a.forward == b.forward][:1]
    return _told_by(pairs, partial(_evidence, sewn), _same_way_up, _right_sides_together, _falling_together)


def _told_by(pairs: list[tuple[SeamSide, SeamSide]], *told: Score) -> list[tuple[SeamSide, SeamSide]]:
    """The pairs with the highest score; of several of these those that the next score tells, and so on."""
    for score in told:
        if len(pairs) > 1:
            scores = [score(a, b) for a, b in pairs]
            pairs = [pair for pair, found in zip(pairs, scores, strict=True) if found == max(scores)]
    return pairs


def _sketched(*sides: SeamSide) -> bool:
    """Whether only names are known, and no length tells anything."""
    return any(stretch.piece.is_sketch for side in sides for stretch in side.stretches)


def _at_one_place(sewn: Sewn, left: SeamSide, right: SeamSide) -> int:
    """At how many of their ends other seams bring two sides together."""
    places = ([side.corner(end).place for end in (0, 1)] for side in (left, right))
    return sum(sewn.corners.get(a, a) == sewn.corners.get(b, b) for a, b in zip(*places, strict=True))


# ---- how a run goes on from edge to edge ---------------------------------------------------------


def _ways(run: Sequence[SeamEdge], sewn: Sewn) -> list[tuple[bool, ...]]:
    """The senses the edges of a run may be travelled in so that each starts where the one before ends, either sense where nothing
    tells; none where there are too many."""
    ways: list[tuple[bool, ...]] = [()]
    for k in range(len(run)):
        grown = [(*way, sense) for way in ways for sense in (True, False)]
        joined = [way for way in grown if k == 0 or _meet(SeamSide(tuple(run[: k + 1]), way), k - 1, sewn)]
        ways = joined or grown
        if len(ways) > MOST_WAYS:
            return []
    return ways


def _meet(laid: SeamSide, k: int, sewn: Sewn) -> bool:
    """Whether stretch k ends where the next starts: at one corner, that of the fold for two halves of one edge, or at the
    two ends of a seam between their pieces."""
    one = SeamSide(laid.stretches[k : k + 1], laid.forward[k : k + 1])
    two = SeamSide(laid.stretches[k + 1 :], laid.forward[k + 1 :])
    here, there = one.corner(1), two.corner(0)
    if here.place == there.place:
        fold = here.piece.fold
        halves = laid.stretches[k].edge == laid.stretches[k + 1].edge
        return not halves or fold is None or fold in here.beside.names or fold not in one.corner(0).beside.names
    return _in_one_seam(here, there, sewn)


def _in_one_seam(one: Corner, other: Corner, sewn: Sewn) -> bool:
    """Whether the edges beside two ends are sewn to each other."""
    return any((other.owner, name) in sewn.to(one.owner, one.beside) for name in other.beside.names)


# ---- evidence ------------------------------------------------------------------------------------


def _evidence(sewn: Sewn, left: SeamSide, right: SeamSide) -> int:
    """How much speaks for a way, less what speaks against."""
    return sum(_at_end(left.corner(end), right.corner(end), sewn) for end in (0, 1)) + _named_alike(left, right)


def _at_end(one: Corner, other: Corner, sewn: Sewn) -> int:
    if one.place == other.place:
        return ONE_CORNER
    if one.owner == other.owner and not set(one.beside.names).isdisjoint(other.beside.names):
        return ONE_EDGE
    levels = all(level_ends(corner.piece).intersection(corner.beside.names) for corner in (one, other))
    return _by_seams(one, other, sewn) + _by_half(one, other, sewn) + (LEVELS if levels else 0)


def _by_seams(one: Corner, other: Corner, sewn: Sewn) -> int:
    ours, theirs = (sewn.to(corner.owner, corner.beside) for corner in (one, other))
    if _in_one_seam(one, other, sewn):
        return ONE_SEAM
    if bool(ours) != bool(theirs):
        return ONE_ALONE
    return JOINED if any(sewn.joined(a, b) for a in ours for b in theirs) else 0


def _by_half(one: Corner, other: Corner, sewn: Sewn) -> int:
    """Centre goes with centre, left with left."""
    if is_centre(one, sewn) and is_centre(other, sewn):
        return FOLD if one.is_on_fold and other.is_on_fold else CENTRE
    sides = {body_side(corner.beside) for corner in (one, other)} - {None}
    return OTHER_SIDE if len(sides) == 2 and not (is_centre(one, sewn) or is_centre(other, sewn)) else 0


def is_centre(corner: Corner, sewn: Sewn) -> bool:
    """Whether a run ends at the fold, where the other half of a piece or of its own edge begins, or beside an edge that is sewn
    to itself on the other half."""
    halves = {body_side(corner.own), body_side(corner.beside)}
    over_the_fold = halves == {"left", "right"}
    itself = any((corner.owner, name) in sewn.to(corner.owner, corner.beside) for name in corner.beside.names)
    return over_the_fold or itself or corner.is_on_fold


def _named_alike(left: SeamSide, right: SeamSide) -> int:
    """How much notches of one name on both sides speak for a way: they lie on one half of the seam, and follow each other
    alike."""
    if _sketched(left, right) or not (_has_named(left) and _has_named(right)):
        return 0
    ours, theirs = (
        [(at / side.total() - 0.5, one.name) for at, one in standing(side) if one.name] for side in (left, right)
    )
    pairs = alike([name for _, name in ours], [name for _, name in theirs])
    places = [(ours[k][0], theirs[j][0]) for k, j in pairs]
    places += [(a - c, b - d) for (a, b), (c, d) in itertools.combinations(places, 2)]
    return NAMED * sum(decide(a * b > 0.0) for a, b in places)


def _has_named(side: SeamSide) -> bool:
    return any(one.name for stretch in side.stretches for one in stretch.piece.notches)


def _falling_together(left: SeamSide, right: SeamSide) -> int:
    """How many stated notches and joints of the one side fall on those of the other, to what sews together without notice."""
    if _sketched(left, right):
        return 0
    ours, theirs = (
        [at / side.total() for at in (*(one for one, _ in notches_on(side)), *side.joints())] for side in (left, right)
    )
    short = np.minimum(left.total(), right.total())
    return sum(decide(np.abs(a - b) * short <= SEW) for a in ours for b in theirs)


# ---- the right side of the cloth -----------------------------------------------------------------


def _right_sides_together(left: SeamSide, right: SeamSide) -> int:
    """On how many pairs of edges the right sides of the cloth come to lie together, less those on which they do not. The ring
    of a sketch may run either way round."""
    if _sketched(left, right):
        return 0
    found = 0
    runs = (zip(side.stretches, side.forward, strict=True) for side in (left, right))
    for (one, on), (other, along) in itertools.product(*runs):
        hands = {_hands(one)[half] * _hands(other)[half] for half in _hands(one).keys() & _hands(other).keys()}
        if len(hands) == 1:
            found += 1 if (on != along) == (hands.pop() > 0) else -1
    return found


def _hands(stretch: SeamEdge) -> dict[Worn, int]:
    """For each side of the body on which an edge is worn, whether it is as drawn (1) or turned over (-1); none where nobody
    says which side a piece is worn on. What lies inside shows its other face."""
    piece = stretch.piece
    face = -1 if piece.inside else 1
    both: tuple[Worn, Worn] = ("left", "right")
    if piece.worn is not None:
        doubled = piece.fold is not None or any(cut.mirrored for cut in piece.finish.cuts)
        return {half: face if half == piece.worn else -face for half in both if half == piece.worn or doubled}
    sides = {body_side(side) for side in piece.sides(stretch.edge)}
    if piece.was_fold is None and None in sides:
        return {}
    return {half: face for half in both if sides in ({half}, {None}) or len(sides) > 1}


# ---- up is toward the head -----------------------------------------------------------------------


def _same_way_up(left: SeamSide, right: SeamSide) -> int:
    """On how many pairs of edges that are not level the upper ends come to lie together, less those on which they do not."""
    if _sketched(left, right):
        return 0
    runs = (zip(side.stretches, side.forward, strict=True) for side in (left, right))
    rises = [[_rise(one) * (1.0 if on else -1.0) for one, on in run] for run in runs]
    return sum(1 if decide(a * b > 0.0) else -1 for a, b in itertools.product(*rises) if decide((a != 0.0) & (b != 0.0)))


def _rise(stretch: SeamEdge) -> Reals:
    """By how much (L,) mm an edge rises from its start to its end; nothing where it is level."""
    numbers, ring = edge_run(stretch.piece, stretch.edge), stretch.piece.ring
    way = ring[numbers[-1] % len(ring)].drawn.end - ring[numbers[0] % len(ring)].drawn.start
    return np.where(np.abs(way[:, 1]) > LEVEL * np.abs(way[:, 0]), way[:, 1], 0.0)
