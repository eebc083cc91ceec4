"""Walking one run of edges along another: which end goes with which, where notches stand on both, and how they agree.

Nothing is laid together for this: a place on a run is an arc length from its start.
Which ends meet is read from the names: ends at one corner of a piece, else ends whose neighbours, or points at the corner
itself, have words in common.
"""

from __future__ import annotations

import itertools
from collections.abc import Callable, Collection, Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from ..geometry.lanes import cross, decide, dot, in_order, least, norm
from ..geometry.length import length
from ..geometry.path import end_direction, start_direction
from ..geometry.tolerances import FLAT, SEW
from .edges import edge_length
from .ends import plain
from .piece import Notch, Piece, Reals
from .ring import edge_run

Sewn = Collection[frozenset[str]]
"""Pairs of edges that seams join, each `owner.edge`."""

CORNER = np.radians(20.0)
"""An edge that turns by more than this has a corner that is seen without a notch."""

MOST_WAYS = 16
"""Of a run whose edges may be travelled in more ways than these nothing tells how it lies."""

SAME_CORNER = 100  # words in common that one and the same corner counts for


@dataclass(frozen=True)
class Stretch:
    """An edge of the ring that takes part in a seam, its piece, and what that is called ("" where nobody says)."""

    piece: Piece
    edge: str
    owner: str = ""


@dataclass(frozen=True)
class Laid:
    """Stretches in order, each travelled as its ring runs (`forward`) or against it."""

    stretches: tuple[Stretch, ...]
    forward: tuple[bool, ...]

    def lengths(self) -> list[Reals]:
        """Sewn length (L,) mm of each stretch."""
        return [edge_length(one.piece, one.edge) for one in self.stretches]

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
            one, two = (Laid(self.stretches[j : j + 1], self.forward[j : j + 1]) for j in (k, k + 1))
            if _corner(one, 1)[0] == _corner(two, 0)[0] and not _is_seen(one, 1):
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
    return piece.ring[i].edge == piece.ring[(i + 1) % len(piece.ring)].edge and _turns(piece, i)


def _turns(piece: Piece, i: int) -> bool:
    """Whether the outline turns a corner behind a side."""
    arriving, leaving = end_direction(piece.ring[i].drawn), start_direction(piece.ring[(i + 1) % len(piece.ring)].drawn)
    turn = np.abs(np.arctan2(cross(arriving, leaving), dot(arriving, leaving)))
    return decide(turn > CORNER)


def _is_seen(laid: Laid, end: int) -> bool:
    """Whether a run ends, at its start (0) or end (1), at a corner of its piece, at the fold or at a stated notch."""
    piece = laid.stretches[-end].piece
    after = _corner(laid, end)[0][1]
    before = (after - 1) % len(piece.ring)
    long = length(piece.ring[before].drawn)
    marked = any(
        one.stated and decide(spot <= FLAT)
        for one in piece.notches
        for spot in ([one.at] if one.side == after else [long - one.at] if one.side == before else [])
    )
    return marked or _turns(piece, before) or any(piece.fold in piece.ring[i].names for i in (before, after))


def _legs(piece: Piece) -> set[str]:
    return {leg for dart in piece.darts for leg in dart.leg_names}


def laid_together(left: Sequence[Stretch], right: Sequence[Stretch], sewn: Sewn = ()) -> list[tuple[Laid, Laid]]:
    """The ways the names allow to lay two sides of a seam start to start; several, or none, where the names do not tell.

    Runs are taken in the order they are written in, so of two runs the first edges go together.
    """
    ways = [Laid(tuple(left), forward) for forward in _ways(left, sewn)]
    others = [Laid(tuple(right), forward) for forward in _ways(right, sewn)]
    if len(left) == 1 and len(right) == 1:  # turning both round changes nothing
        ways = ways[:1]
    pairs = list(itertools.product(ways, others))
    if [(one.owner, one.edge) for one in left] == [(one.owner, one.edge) for one in right]:  # it meets itself, layer on layer
        pairs = [(a, b) for a, b in pairs if a.forward == b.forward][:1]
    best = _most(pairs, lambda a, b: sum(_common(_corner(a, end), _corner(b, end)) for end in (0, 1)))
    return best if len(best) == 1 else _most(best, _falling_together)


def _most(pairs: Sequence[tuple[Laid, Laid]], score: Callable[[Laid, Laid], int]) -> list[tuple[Laid, Laid]]:
    """The pairs with the highest score."""
    scores = [score(a, b) for a, b in pairs]
    most = max(scores, default=0)
    return [pair for pair, found in zip(pairs, scores, strict=True) if found == most]


def _falling_together(left: Laid, right: Laid) -> int:
    """How many stated notches and joints of the one side fall on those of the other, to what sews together without notice."""
    ours, theirs = ([at / side.total() for at in (*(at for at, _ in notches_on(side)), *side.joints())] for side in (left, right))
    short = np.minimum(left.total(), right.total())
    return sum(decide(np.abs(a - b) * short <= SEW) for a in ours for b in theirs)


def _ways(run: Sequence[Stretch], sewn: Sewn) -> list[tuple[bool, ...]]:
    """The senses the edges of a run may be travelled in so that each starts where the one before ends, either sense where nothing
    tells; none where there are too many."""
    ways: list[tuple[bool, ...]] = [()]
    for k in range(len(run)):
        grown = [(*way, sense) for way in ways for sense in (True, False)]
        joined = [way for way in grown if k == 0 or _meet(Laid(tuple(run[: k + 1]), way), k - 1, sewn)]
        ways = joined or grown
        if len(ways) > MOST_WAYS:
            return []
    return ways


def _meet(laid: Laid, k: int, sewn: Sewn) -> bool:
    """Whether stretch k ends where the next starts: at one corner, that of the fold for two halves of one edge, or at the
    two ends of a seam between their pieces."""
    one, two = Laid(laid.stretches[k : k + 1], laid.forward[k : k + 1]), Laid(laid.stretches[k + 1 :], laid.forward[k + 1 :])
    (corner, beside), (other, beyond) = _corner(one, 1), _corner(two, 0)
    if corner == other:
        fold = laid.stretches[k].piece.fold
        halves = laid.stretches[k].edge == laid.stretches[k + 1].edge
        return not halves or fold is None or fold in beside or fold not in _corner(one, 0)[1]
    a, b = laid.stretches[k].owner, laid.stretches[k + 1].owner
    return any(frozenset((f"{a}.{x}", f"{b}.{y}")) in sewn for x in beside for y in beyond)


def _corner(laid: Laid, end: int) -> tuple[tuple[str, int], tuple[str, ...]]:
    """The corner at the start (0) or end (1) of a run: owner and ring number of the side that begins there, and the names
    of the edge that stands beside the run there and of points on that corner."""
    stretch, forward = laid.stretches[-end], laid.forward[-end]
    numbers, count = edge_run(stretch.piece, stretch.edge), len(stretch.piece.ring)
    at_end = forward == bool(end)
    corner = (numbers[-1] + 1) % count if at_end else numbers[0]
    beside = corner if at_end else (corner - 1) % count
    return (stretch.owner, corner), (*stretch.piece.ring[beside].names, *_points_at(stretch.piece, corner))


def _points_at(piece: Piece, corner: int) -> list[str]:
    """The named points that lie at a corner, as a shoulder mark at the top of a sleeve cap."""
    at = piece.ring[corner].drawn.start
    return [name for name, spot in piece.points.items() if spot is not None and decide(norm(spot - at) < FLAT)]


def _common(one: tuple[tuple[str, int], tuple[str, ...]], two: tuple[tuple[str, int], tuple[str, ...]]) -> int:
    if one[0] == two[0]:
        return SAME_CORNER
    words = [set("_".join((corner[0], *names)).replace(".", "_").split("_")) - {""} for corner, names in (one, two)]
    return len(words[0] & words[1])


def notches_on(laid: Laid, seam: str = "") -> list[tuple[Reals, int]]:
    """The notches of a run, (L,) mm from its start, with their strokes: those of the seam, and those stated in sentences."""
    return [(at, notch.strokes) for at, notch in _standing(laid, seam)]


def _standing(laid: Laid, seam: str) -> list[tuple[Reals, Notch]]:
    """The notches themselves; one with a name that lies at an end of the run, as of a part between two such, is that end."""
    whole = laid.total()
    return [
        (at, notch)
        for at, notch in _all_standing(laid, seam)
        if not (notch.name and decide((at <= FLAT) | (at >= whole - FLAT)))
    ]


def _all_standing(laid: Laid, seam: str) -> list[tuple[Reals, Notch]]:
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


def _alike(ours: Sequence[str], theirs: Sequence[str]) -> list[tuple[int, int]]:
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


@dataclass(frozen=True)
class Match:
    """Notches that go together: their places (L,) mm from the starts of both sides, how far (L,) mm the two fail to meet
    however the ease is laid between the notches, and their strokes (L,) on both sides, none at a corner."""

    left: Reals
    right: Reals
    gap: Reals
    strokes: tuple[Reals, Reals]

    @property
    def agrees(self) -> NDArray[np.bool_]:
        """Whether (L,) they meet, to what a seam allows, with as many strokes on both sides."""
        ours, theirs = self.strokes
        alike: NDArray[np.bool_] = (ours == theirs) | (ours == 0) | (theirs == 0)
        return alike & np.asarray(self.gap <= SEW)


def matches(left: Laid, right: Laid, seam: str = "") -> list[Match]:
    """Each notch of either side with that of its name, else the nearest notch, corner or dart of the other, pairs told once;
    empty where a side has none. A notch at an end, as of a sleeve head at the shoulder seam, goes with that end of the other."""
    ours, theirs = (notches_on(side, seam) for side in (left, right))
    our_places, their_places = (
        [*(at for at, _ in of), *side.joints(), *side.darts()] for of, side in ((ours, left), (theirs, right))
    )
    if not our_places or not their_places:
        return []
    long, short, *places = np.broadcast_arrays(left.total(), right.total(), *our_places, *their_places)
    mine, its = np.stack(places[: len(our_places)]), np.stack(places[len(our_places) :])
    apart = np.abs(mine[:, None] / long - its / short)  # ours, theirs, lanes: as shares, the ease laid evenly
    ease, ahead = long - short, mine[:, None] - its
    gap = np.maximum(np.maximum(np.minimum(ease, 0.0) - ahead, ahead - np.maximum(ease, 0.0)), 0.0)
    for k, j in _alike(*([notch.name for _, notch in _standing(side, seam)] for side in (left, right))):
        apart[k], apart[:, j] = np.inf, np.inf
        apart[k, j] = 0.0
    rows = np.arange(long.size)
    our_strokes, their_strokes = (
        np.array([*(strokes for _, strokes in stated), *(0 for _ in range(many - len(stated)))], dtype=np.float64)
        for stated, many in ((ours, len(mine)), (theirs, len(its)))
    )
    made = []
    for k in range(len(ours)):
        j = apart[k].argmin(axis=0)
        met = Match(mine[k], its[j, rows], gap[k, j, rows], (our_strokes[k] + 0.0 * long, their_strokes[j]))
        made.append(_at_ends(met, long, short))
    for j in range(len(theirs)):
        k_lanes = apart[:, j].argmin(axis=0)
        if not decide((k_lanes < len(ours)) & (apart[k_lanes, :, rows].argmin(axis=1) == j)):
            met = Match(its[j], mine[k_lanes, rows], gap[k_lanes, j, rows], (their_strokes[j] + 0.0 * long, our_strokes[k_lanes]))
            met = _at_ends(met, short, long)
            made.append(Match(met.right, met.left, met.gap, met.strokes[::-1]))
    return made


def _at_ends(match: Match, long: Reals, other: Reals) -> Match:
    """The match with its left notch, where that lies at an end of its side (L,), on the same end of the other side (L,)."""
    first, last = match.left <= FLAT, match.left >= long - FLAT
    right = np.where(first, 0.0, np.where(last, other, match.right))
    mine, its = match.strokes
    return Match(match.left, right, np.where(first | last, 0.0, match.gap), (mine, np.where(first | last, 0.0, its)))


def notch_gap(left: Sequence[Stretch], right: Sequence[Stretch], seam: str = "") -> Reals:
    """How far (L,) mm the notches of two sides of a seam fail to meet at most, however the ease is laid between them.

    Nothing where one side has none: its notches follow those of the other. Where the names do not tell which ends meet, the
    sides are laid the way they agree better.
    """
    found = [np.zeros(1)] if not (ways := laid_together(left, right)) else []
    for one, two in ways:
        gaps = [match.gap for match in matches(one, two, seam)] or [np.zeros(1)]
        found.append(np.stack(np.broadcast_arrays(*gaps)).max(axis=0))
    return np.asarray(np.stack(np.broadcast_arrays(*found)).min(axis=0))


@dataclass(frozen=True)
class NamedStretch:
    """What lies between two notches of one name each on the two sides of a seam, "" an end: where it begins and ends on both,
    (L,) mm from the starts of these."""

    first: str
    last: str
    start: tuple[Reals, Reals]
    stop: tuple[Reals, Reals]

    def apart(self) -> Reals:
        """By how much (L,) mm the two lengths differ."""
        return np.asarray(np.abs((self.stop[0] - self.start[0]) - (self.stop[1] - self.start[1])))


def named_stretches(left: Sequence[Stretch], right: Sequence[Stretch], sewn: Sewn = ()) -> list[NamedStretch]:
    """The stretches of a seam between its notches of one name on both sides, in order; none where there are no such. Where the
    names of ends do not tell which meet, the sides are laid the way the notches agree better. Raises Disagreement."""
    ways = [_between_named(one, two) for one, two in laid_together(left, right, sewn)]
    return [] if not ways else ways[least([sum((row.apart() for row in rows), start=np.zeros(1)) for rows in ways])]


def _between_named(left: Laid, right: Laid) -> list[NamedStretch]:
    ours, theirs = ([one for one in _standing(side, "") if one[1].name] for side in (left, right))
    pairs = _alike([notch.name for _, notch in ours], [notch.name for _, notch in theirs])
    spots = in_order([(ours[k][0], theirs[j][0], ours[k][1].name) for k, j in pairs], lambda one: one[0])
    ends = [(np.zeros(1), np.zeros(1), ""), *spots, (left.total(), right.total(), "")]
    made = [NamedStretch(first, last, (a, c), (b, d)) for (a, c, first), (b, d, last) in itertools.pairwise(ends)]
    return made if spots else []
