"""Walking one run of edges along another: where notches stand on both, and how they agree."""

from __future__ import annotations

import itertools
from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from ..geometry.lanes import decide, in_order, least
from ..geometry.tolerances import FLAT, SEW
from .laid import SeamEdge, SeamSide, alike, notches_on, standing
from .piece import Reals
from .which_ends import NOTHING_SEWN, Sewn, laid_together


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


def matches(left: SeamSide, right: SeamSide, seam: str = "") -> list[Match]:
    """Each notch of either side with that of its name, else the nearest notch, corner, dart or pleat of the other, told once;
    empty where a side has none. A notch at an end, as of a sleeve head at the shoulder seam, goes with that end of the other."""
    ours, theirs = (notches_on(side, seam) for side in (left, right))
    our_places, their_places = (
        [*(at for at, _ in of), *side.joints(), *side.shut()] for of, side in ((ours, left), (theirs, right))
    )
    if not our_places or not their_places:
        return []
    long, short, *places = np.broadcast_arrays(left.total(), right.total(), *our_places, *their_places)
    mine, its = np.stack(places[: len(our_places)]), np.stack(places[len(our_places) :])
    apart = np.abs(mine[:, None] / long - its / short)  # ours, theirs, lanes: as shares, the ease laid evenly
    ease, ahead = long - short, mine[:, None] - its
    gap = np.maximum(np.maximum(np.minimum(ease, 0.0) - ahead, ahead - np.maximum(ease, 0.0)), 0.0)
    for k, j in alike(*([notch.name for _, notch in standing(side, seam)] for side in (left, right))):
        apart[k], apart[:, j] = np.inf, np.inf
        apart[k, j] = 0.0
    ends = tuple((at <= FLAT) | (at >= total - FLAT) for at, total in ((mine[: len(ours)], long), (its[: len(theirs)], short)))
    apart[: len(ours), : len(theirs)][ends[0][:, None] != ends[1]] = np.inf  # a notch at an end goes with that end alone
    rows = np.arange(long.size)
    our_strokes, their_strokes = (
        np.array([*(strokes for _, strokes in stated), *(0 for _ in range(many - len(stated)))], dtype=np.float64)
        for stated, many in ((ours, len(mine)), (theirs, len(its)))
    )
    made = []
    for k in range(len(ours)):
        j = apart[k].argmin(axis=0)
        there = (its[j, rows], gap[k, j, rows], their_strokes[j], np.isinf(apart[k, j, rows]))
        made.append(_at_ends(_met(mine[k], our_strokes[k], *there), long, short))
    for j in range(len(theirs)):
        k_lanes = apart[:, j].argmin(axis=0)
        if not decide((k_lanes < len(ours)) & (apart[k_lanes, :, rows].argmin(axis=1) == j)):
            there = (mine[k_lanes, rows], gap[k_lanes, j, rows], our_strokes[k_lanes], np.isinf(apart[k_lanes, j, rows]))
            met = _at_ends(_met(its[j], their_strokes[j], *there), short, long)
            made.append(Match(met.right, met.left, met.gap, met.strokes[::-1]))
    return made


def _met(at: Reals, strokes: Reals, other: Reals, gap: Reals, others: Reals, alone: NDArray[np.bool_]) -> Match:
    """A notch with the nearest of the other side; where it is `alone` (L,), with none of these, and nothing is apart."""
    return Match(at, other, np.where(alone, 0.0, gap), (strokes + 0.0 * gap, np.where(alone, 0.0, others)))


def _at_ends(match: Match, long: Reals, other: Reals) -> Match:
    """The match with its left notch, where that lies at an end of its side (L,), on the same end of the other side (L,)."""
    first, last = match.left <= FLAT, match.left >= long - FLAT
    right = np.where(first, 0.0, np.where(last, other, match.right))
    mine, its = match.strokes
    return Match(match.left, right, np.where(first | last, 0.0, match.gap), (mine, np.where(first | last, 0.0, its)))


def notch_gap(left: Sequence[SeamEdge], right: Sequence[SeamEdge], seam: str = "") -> Reals:
    """How far (L,) mm the notches of two sides of a seam fail to meet at most, however the ease is laid between them.

    Nothing where one side has none: its notches follow those of the other. Where nothing tells which ends meet, the
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


def named_stretches(left: Sequence[SeamEdge], right: Sequence[SeamEdge], sewn: Sewn = NOTHING_SEWN) -> list[NamedStretch]:
    """The stretches of a seam between its notches of one name on both sides, in order; none where there are no such. Where
    nothing tells which ends meet, the sides are laid the way the notches agree better. Raises Disagreement."""
    if not all(any(notch.name for one in side for notch in one.piece.notches) for side in (left, right)):
        return []
    ways = [_between_named(one, two) for one, two in laid_together(left, right, sewn)]
    return [] if not ways else ways[least([sum((row.apart() for row in rows), start=np.zeros(1)) for rows in ways])]


def _between_named(left: SeamSide, right: SeamSide) -> list[NamedStretch]:
    ours, theirs = ([one for one in standing(side, "") if one[1].name] for side in (left, right))
    pairs = alike([notch.name for _, notch in ours], [notch.name for _, notch in theirs])
    spots = in_order([(ours[k][0], theirs[j][0], ours[k][1].name) for k, j in pairs], lambda one: one[0])
    ends = [(np.zeros(1), np.zeros(1), ""), *spots, (left.total(), right.total(), "")]
    made = [NamedStretch(first, last, (a, c), (b, d)) for (a, c, first), (b, d, last) in itertools.pairwise(ends)]
    return made if spots else []
