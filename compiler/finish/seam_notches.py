"""Notches that a declared seam gets for free, and the walk along it.

They lie at equal arc lengths of both sides from ends that meet, ease spread evenly: at half of a joined seam, at the quarters
of a gathered or eased one that is long enough for them, but at no pleat or dart, which has its own: opposite a dart there is
one; and on a side without a corner where the other has one.
Notches stated on one side alone are put on the other too; where both sides have some, or one side of an eased seam, they tell
how the ease lies, and the seam gets none at its half or quarters.
The same number of strokes on both sides, and for all seams that share a notch: as a seam states, else one, or two where a back
takes part and no front, so that two mean the back (common practice, no source); one at a centre or where another seam ends,
which can be no other.

All on lanes: which notches there are is the same on all of them, or `Disagreement` is raised.
"""

from __future__ import annotations

import itertools
from collections.abc import Mapping, Sequence
from dataclasses import dataclass

import numpy as np

from ..geometry.lanes import BoolArray, agree, decide, in_order, least
from ..geometry.length import point_at
from ..geometry.tolerances import FLAT, SEW
from ..pattern.laid import SeamEdge, SeamSide, notches_on
from ..pattern.named import notched
from ..pattern.piece import Piece, Reals, Why
from ..pattern.ring import place_on
from ..pattern.walking import Match, matches
from ..pattern.which_ends import Sewn
from .halves import half_of
from .seams import SewnSeam, laid_sides
from .snipping_room import can_be_snipped

SHORTEST = 60.0  # mm; a shorter seam is pinned at its ends
QUARTERS = {"joins": np.inf, "eases": 400.0, "gathers": 200.0}  # mm; a shorter one is notched at its half (no source);
# of a gathered seam the longer side counts, since it is the gathers that must be shared out
CLEAR = 15.0  # mm; a notch nearer to an end or a corner tells nothing that these do not

ENDS = (np.zeros(1), np.ones(1))
"""The shares at which a seam begins and ends."""

JOINT = 1e-3  # of a seam: a notch as near as this to a joint of the run stands at it


@dataclass(frozen=True)
class EdgePlace:
    """A place on an edge of the piece `owner`: `at` (L,) mm from the start of the edge as its ring runs."""

    owner: str
    edge: str
    at: Reals

    def near(self, other: EdgePlace) -> bool:
        """Whether two places are one, to what scissors can tell. Raises Disagreement."""
        return (self.owner, self.edge) == (other.owner, other.edge) and decide(np.abs(self.at - other.at) < FLAT)


@dataclass(frozen=True)
class _Planned:
    """A notch of a seam: its places on the sides that get it, its strokes, and why it is there."""

    spots: tuple[EdgePlace, ...]
    strokes: int
    why: Why


def with_seam_notches(pieces: Mapping[str, Piece], seams: Sequence[SewnSeam]) -> tuple[dict[str, Piece], tuple[str, ...]]:
    """The pieces with the notches of their seams; and the seams that get none, since nothing tells which of their ends meet.
    Raises Disagreement."""
    made, sewn = dict(pieces), Sewn(pieces, seams)
    long = [seam for seam in seams if decide(np.minimum(seam.left_mm, seam.right_mm) >= SHORTEST)]
    plans = {seam.name: _planned(seam, sewn) for seam in long}
    planned = [(name, one) for name, plan in plans.items() for one in plan or ()]
    for (name, one), strokes in zip(planned, _shared(pieces, [one for _, one in planned]), strict=True):
        for spot in one.spots:
            made[spot.owner] = notched(made[spot.owner], spot.edge, spot.at, "start", strokes, name, one.why)
    return made, tuple(name for name, plan in plans.items() if plan is None)


def walked(sewn: Sewn, seams: Sequence[SewnSeam]) -> dict[str, tuple[Match, ...]]:
    """For each seam the notches that meet when it is walked, in the order of the walk. Raises Disagreement."""
    found: dict[str, tuple[Match, ...]] = {}
    for seam in seams:
        tried = [matches(left, right, seam.name) for left, right in laid_sides(seam, sewn)]
        best = least([_worst(pairs) for pairs in tried]) if tried else 0
        found[seam.name] = tuple(in_order(tried[best], lambda pair: pair.right)) if tried else ()
    return found


def _worst(pairs: Sequence[Match]) -> Reals:
    return np.asarray(np.stack(np.broadcast_arrays(np.zeros(1), *(pair.gap for pair in pairs))).max(axis=0))


def _planned(seam: SewnSeam, sewn: Sewn) -> tuple[_Planned, ...] | None:
    """The notches of a seam, at corners of the other side too; where it is left open how the sides lie, only those that all
    ways agree on; None where they agree on none, and it matters."""
    ways = laid_sides(seam, sewn)
    if not ways:
        return () if sewn.stretches(seam) is None or seam.strokes == 0 else None
    for corners in (True, False):
        plans = [_plan(left, right, seam, corners) for left, right in ways]
        if all(_same(plan, plans[0]) for plan in plans):
            return plans[0]
    silent = seam.strokes == 0 or any(_is_ring(side, sewn) for side in ways[0])
    return () if silent else None


def _is_ring(laid: SeamSide, sewn: Sewn) -> bool:
    """Whether a side is one straight edge of a strip whose ends are sewn to each other: it is laid on either way round."""
    start, stop = laid.corner(0), laid.corner(1)
    closed = any((stop.owner, name) in sewn.to(start.owner, start.beside) for name in stop.beside.names)
    return len(laid.stretches) == 1 and closed and all(all(side.drawn.straight) for side in laid.stretches[0].sides())


def _shared(pieces: Mapping[str, Piece], planned: Sequence[_Planned]) -> list[int]:
    """The strokes of each notch: the most of all that stand at one place, on whichever side, and so on along the seams."""
    strokes = [one.strokes for one in planned]
    here: dict[tuple[str, int], list[tuple[Reals, int]]] = {}
    for number, one in enumerate(planned):
        for spot in one.spots:
            place = place_on(pieces[spot.owner], spot.edge, spot.at, "start")
            here.setdefault((spot.owner, place.side), []).append((place.at, number))
    pairs = (pair for row in here.values() for pair in itertools.combinations(row, 2))
    together = [{a, b} for (x, a), (y, b) in pairs if decide(np.abs(x - y) <= SEW)]
    for _ in together:
        for both in together:
            for number in both:
                strokes[number] = max(strokes[one] for one in both)
    return strokes


@dataclass(frozen=True)
class _Wish:
    """A notch at a share (L,) of the way along a seam, on its left side, its right, or both; strokes as stated, or 0."""

    share: Reals
    strokes: int
    on: tuple[bool, bool]
    why: Why


def _plan(left: SeamSide, right: SeamSide, seam: SewnSeam, corners: bool) -> tuple[_Planned, ...]:
    """Where the notches of a seam stand on both sides."""
    total = np.minimum(seam.left_mm, seam.right_mm)
    wishes = _wishes(left, right, seam, corners)
    shares = [wish.share for wish in wishes]
    made: list[_Planned] = []
    for wish in wishes:
        again = [one for side, on in zip((left, right), wish.on, strict=True) if on for one in _repeats(side, wish.share)]
        if all(decide(_any([np.abs(one - share) * total <= SEW for share in shares])) for one in again):
            one = _placed(wish, left, right)
            if _has_room(wish, left, right) and not any(_same([one], [other]) for other in made):
                made.append(one)
    return tuple(made)


def _has_room(wish: _Wish, left: SeamSide, right: SeamSide) -> bool:
    """Whether a notch that no place asks for can be snipped on both sides."""
    spots = [spot_on(side, wish.share) for side in (left, right)] if wish.why in ("half", "quarter") else []
    return all(decide(can_be_snipped(stretch.piece, spot.edge, spot.at)) for spot, stretch in spots)


def _any(flags: Sequence[BoolArray]) -> BoolArray:
    """Whether (L,) any of several flags (L,) is set."""
    return np.asarray(np.stack(np.broadcast_arrays(*flags)).any(axis=0))


def _wishes(left: SeamSide, right: SeamSide, seam: SewnSeam, corners: bool) -> list[_Wish]:
    """Notches at the half or quarters, answers to stated ones, and those at corners of the other side; of a seam that is to have
    none of its own, the answers alone."""
    sides, total = ((left, seam.left_mm), (right, seam.right_mm)), np.minimum(seam.left_mm, seam.right_mm)
    joints = [[at / long for at in side.joints()] for side, long in sides]
    stated = [[(at / long, strokes) for at, strokes in notches_on(side)] for side, long in sides]
    taken = [[*joints[k], *(share for share, _ in stated[k])] for k in (0, 1)]
    said = seam.strokes or 0
    shut = [[at / long for at in side.shut()] for side, long in sides]
    made: list[_Wish] = []
    wanted: list[tuple[Reals, int, tuple[bool, bool], Why]] = [
        (share, strokes, (not stated[0], not stated[1]), "answer") for side in stated for share, strokes in side
    ]
    if seam.strokes != 0:
        told = [any(_clear(share, ENDS, total) for share, _ in side) for side in stated]
        evenly = () if (any(told) if seam.how == "eases" else all(stated)) else _evenly(seam, total)
        free: list[tuple[Reals, Why]] = [(np.full(1, one), "half" if one == 1 / 2 else "quarter") for one in evenly]
        full = [*taken[0], *taken[1], *shut[0], *shut[1]]
        made += [_Wish(one, said, (True, True), why) for one, why in free if _clear(one, full, total)]
        darts = [[at / long for at in side.darts()] for side, long in sides]
        standing = [one for one, _ in free]
        wanted += [(one, said, (k == 1, k == 0), "dart") for k in (0, 1) for one in darts[k] if not _clear(one, standing, total)]
    if seam.strokes != 0 and corners:
        wanted += [(share, said or 1, (k == 1, k == 0), "joint") for k in (0, 1) for share in joints[k]]
        made += [_Wish(share, said or 1, on, "unseen") for share, on in _unseen(sides)]
    for share, strokes, on, why in wanted:  # where a joint meets a dart or a pleat, these have their own snips
        held = [[*taken[k], *(shut[k] if why == "joint" else ())] for k in (0, 1)]
        clear = on[0] and _clear(share, held[0], total), on[1] and _clear(share, held[1], total)
        made.append(_Wish(share, strokes, clear, why))
    return made


def _evenly(seam: SewnSeam, total: Reals) -> tuple[float, ...]:
    """The shares at which a seam is notched that nothing else tells of."""
    counts = np.maximum(seam.left_mm, seam.right_mm) if seam.how == "gathers" else total
    return (1 / 4, 1 / 2, 3 / 4) if decide(counts >= QUARTERS[seam.how]) else (1 / 2,)


def _unseen(sides: Sequence[tuple[SeamSide, Reals]]) -> list[tuple[Reals, tuple[bool, bool]]]:
    """The shares (L,) at which one side has a joint, or the other an end, that is not seen on its own piece without a notch, and
    which side has none there: at the centre of an edge made of two halves."""
    (joints, ends), (others, other_ends) = (side.unseen() for side, _ in sides)
    own = ((joints, sides[0][1], (True, False)), (others, sides[1][1], (False, True)))
    made = [(at / long, on) for places, long, on in own for at in places]
    for share, ours, theirs in zip(ENDS, ends, other_ends, strict=True):
        made += [(share, (ours, theirs))] if ours != theirs else []
    return made


def _repeats(side: SeamSide, share: Reals) -> list[Reals]:
    """The shares (L,) at which a notch at one of them stands, where the same edge takes part several times."""
    spot, _ = spot_on(side, share)
    ends = list(itertools.accumulate(side.lengths(), initial=np.zeros(1)))
    found = []
    for k, stretch in enumerate(side.stretches):
        if (stretch.owner, stretch.edge) == (spot.owner, spot.edge):
            found.append((ends[k] + spot.at if side.forward[k] else ends[k + 1] - spot.at) / ends[-1])
    return found


def _clear(share: Reals, joints: Sequence[Reals], total: Reals) -> bool:
    return all(decide(np.abs(share - other) * total >= CLEAR) for other in joints)


def _placed(wish: _Wish, left: SeamSide, right: SeamSide) -> _Planned:
    """A notch on those sides where it is wanted, with its strokes: as stated, else two where a back is sewn to no front, and at
    no centre."""
    laid = [spot_on(side, wish.share) for side in (left, right)]
    found = [spot for spot, _ in laid]
    strokes = wish.strokes or (2 if _only_back(wish, left, right) and not _is_centre(laid) else 1)
    spots = [spot for spot, want in zip(found, wish.on, strict=True) if want]
    if len(spots) == 2 and spots[0].near(spots[1]):
        spots.pop()
    return _Planned(tuple(spots), strokes, wish.why)


def _only_back(wish: _Wish, left: SeamSide, right: SeamSide) -> bool:
    """Whether a back takes part where a notch stands, and no front."""
    beside = (np.clip(wish.share + by, 0.0, 1.0) for by in (-JOINT, JOINT))  # at a joint both that meet there take part
    halves = {half_of(one.piece) for share in beside for one in (spot_on(side, share)[1] for side in (left, right))}
    return "back" in halves and "front" not in halves


def _is_centre(laid: Sequence[tuple[EdgePlace, SeamEdge]]) -> bool:
    """Whether a place of a seam is at a centre: there an edge is sewn to itself on the other half, or a left half to a right
    one."""
    (one, _), (other, _) = laid
    itself = (one.owner, one.edge) == (other.owner, other.edge)
    return itself or {stretch.piece.worn for _, stretch in laid} == {"left", "right"} or any(_at_centre(*each) for each in laid)


def _at_centre(spot: EdgePlace, stretch: SeamEdge) -> bool:
    """Whether a place lies where a piece that was cut on the fold was folded."""
    piece = stretch.piece
    old = () if piece.was_fold is None else tuple(side.drawn for side in piece.lines if piece.was_fold in side.names)
    place = place_on(piece, spot.edge, spot.at, "start")
    here = point_at(piece.ring[place.side].drawn, place.at)
    return any(decide(np.linalg.norm(here - end, axis=1) <= SEW) for line in old for end in (line.start, line.end))


def spot_on(side: SeamSide, share: Reals) -> tuple[EdgePlace, SeamEdge]:
    """The place of a share (L,) of the way along a side, and the stretch it lies on. Raises Disagreement."""
    ends = list(itertools.accumulate(side.lengths()))
    along = share * ends[-1]
    passed = [np.zeros(1, dtype=np.int64), *((along > end).astype(np.int64) for end in ends[:-1])]
    k = agree(np.stack(np.broadcast_arrays(*passed)).sum(axis=0))
    back = np.maximum(ends[k] - along, 0.0)  # from the end of the stretch
    stretch, own = side.stretches[k], ends[k] - (ends[k - 1] if k else 0.0)
    return EdgePlace(stretch.owner, stretch.edge, np.asarray(own - back if side.forward[k] else back)), stretch


def _same(one: Sequence[_Planned], other: Sequence[_Planned]) -> bool:
    """Whether two plans put the same notches in the same places, to what scissors can tell."""
    ours, theirs = ([(spot, each.strokes) for each in plan for spot in each.spots] for plan in (one, other))
    return len(ours) == len(theirs) and all(
        any(strokes == more and spot.near(twin) for twin, more in there)
        for here, there in ((ours, theirs), (theirs, ours))
        for spot, strokes in here
    )
