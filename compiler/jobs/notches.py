"""Notches that a declared seam gets for free, and the walk along it.

They lie at equal arc lengths of both sides from ends that meet, ease spread evenly: at half of a joined seam, at the quarters
of a gathered or eased one that is long enough for them, but at no pleat or dart, which has its own: opposite a dart there is
one; and on a side without a corner where the other has one.
Notches stated on one side alone are put on the other too; where both sides have some, or one side of an eased seam, they tell
how the ease lies, and the seam gets none at its half or quarters.
The same number of strokes on both sides, and for all seams that share a notch: as a seam states, else one, or two where a back
takes part and no front, so that two mean the back (common practice, no source); one at a centre or where another seam ends,
which can be no other.
"""

from __future__ import annotations

import itertools
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace

import numpy as np

from ..geometry.tolerances import FLAT, SEW
from ..pattern.piece import Piece
from ..pattern.ring import place_on
from ..pattern.walking import Laid, Match, Sewn, Stretch, laid_together, matches, notches_on
from ..verbs.notching import notched
from .halves import half_of
from .outcome import BodyResult, PieceResult, SeamResult, pairs_sewn

SHORTEST = 60.0  # mm; a shorter seam is pinned at its ends
QUARTERS = {"joins": np.inf, "eases": 400.0, "gathers": 200.0}  # mm; a shorter one is notched at its half (no source);
# of a gathered seam the longer side counts, since it is the gathers that must be shared out
GATHERED = 1.02  # a part of a seam between two notches that is less full than this is not gathered (no source)
CLEAR = 15.0  # mm; a notch nearer to an end or a corner tells nothing that these do not

JOINT = 1e-3  # of a seam: a notch as near as this to a joint of the run stands at it

Spot = tuple[str, str, float]
"""Owner, edge, place in mm from the start of the edge as its ring runs."""

Group = tuple[tuple[Spot, ...], int]
"""The places of one notch on the sides of a seam, in a settled order, and its strokes."""


@dataclass(frozen=True)
class NotchPair:
    """Notches that meet: places from the starts of the two sides, mm, by how much they fail to, however eased, and their
    strokes on both sides, none where a notch meets a corner."""

    left_mm: float
    right_mm: float
    gap_mm: float
    left_strokes: int
    right_strokes: int

    @property
    def agrees(self) -> bool:
        alike = self.left_strokes == self.right_strokes or not (self.left_strokes and self.right_strokes)
        return alike and self.gap_mm <= SEW


@dataclass(frozen=True)
class Gathered:
    """A part of an edge that is gathered: from where to where along it, mm, and the length it is gathered to."""

    start_mm: float
    stop_mm: float
    to_mm: float


def with_seam_notches(result: BodyResult) -> tuple[PieceResult, ...]:
    """The pieces of one body with the notches of their seams; each piece has this body alone."""
    alone = [replace(one, piece=one.piece.take(np.array([one.lane])), lane=0) for one in result.pieces]
    pieces = {one.name: one.piece for one in alone}
    sewn = pairs_sewn(result.seams)
    planned = [
        (seam.name, group)
        for seam in result.seams
        if min(seam.left_mm, seam.right_mm) >= SHORTEST
        for group in _planned(pieces, seam, sewn)
    ]
    for (name, (spots, _)), strokes in zip(planned, _shared(pieces, [group for _, group in planned]), strict=True):
        for owner, edge, at in spots:
            pieces[owner] = notched(pieces[owner], edge, np.array([at]), "start", strokes, name)
    return tuple(replace(one, piece=pieces[one.name]) for one in alone)


def walked(result: BodyResult, notched_pieces: Sequence[PieceResult]) -> dict[str, tuple[NotchPair, ...]]:
    """For each seam of one body the notches that meet when it is walked, in the order of the walk."""
    pieces = {one.name: one.piece for one in notched_pieces}
    sewn = pairs_sewn(result.seams)
    found: dict[str, tuple[NotchPair, ...]] = {}
    for seam in result.seams:
        tried = []
        for left, right in laid_sides(pieces, seam, sewn):
            pairs = [_pair_of(match) for match in matches(left, right, seam.name)]
            tried.append(tuple(sorted(pairs, key=lambda pair: pair.right_mm)))
        found[seam.name] = min(tried, key=lambda pairs: max((p.gap_mm for p in pairs), default=0.0), default=())
    return found


def _pair_of(match: Match) -> NotchPair:
    """A match of one body."""
    strokes = (int(one[0]) for one in match.strokes)
    return NotchPair(float(match.left[0]), float(match.right[0]), float(match.gap[0]), *strokes)


def gathered(result: BodyResult, notched_pieces: Sequence[PieceResult]) -> dict[str, tuple[Gathered, ...]]:
    """For each edge, `piece.edge`, that one body's seams gather, the parts between two notches where it is longer than what it
    is sewn to, in the order of its ring; the whole edge where the seam has no notches, or it is one of several in a run."""
    pieces = {one.name: one.piece for one in notched_pieces}
    sewn, pairs = pairs_sewn(result.seams), walked(result, notched_pieces)
    found: dict[str, tuple[Gathered, ...]] = {}
    for seam in (one for one in result.seams if one.how == "gathers"):
        ways = laid_sides(pieces, seam, sewn)
        if len(seam.left) > 1 or not ways:
            found |= {edge: (Gathered(0.0, np.inf, seam.right_mm),) for edge in seam.left}
            continue
        ends = [(0.0, 0.0), *((one.left_mm, one.right_mm) for one in pairs[seam.name]), (seam.left_mm, seam.right_mm)]
        parts = [(a, b, d - c) for (a, c), (b, d) in itertools.pairwise(ends) if b - a > GATHERED * (d - c)]
        if not ways[0][0].forward[0]:
            parts = [(seam.left_mm - b, seam.left_mm - a, to) for a, b, to in reversed(parts)]
        found[seam.left[0]] = tuple(Gathered(a, b, to) for a, b, to in _in_one(parts))
    return found


def _in_one(parts: Sequence[tuple[float, float, float]]) -> list[tuple[float, float, float]]:
    """Parts that follow each other without a gap, as one."""
    made: list[tuple[float, float, float]] = []
    for start, stop, to in parts:
        if made and start - made[-1][1] <= SEW:
            start, _, before = made.pop()
            to += before
        made.append((start, stop, to))
    return made


def laid_sides(pieces: Mapping[str, Piece], seam: SeamResult, sewn: Sewn) -> list[tuple[Laid, Laid]]:
    """The ways to lay the two sides of a seam together; none where an edge lies inside a piece or on none that is cut."""
    sides = []
    for names in (seam.left, seam.right):
        stretches = []
        for name in names:
            owner, _, edge = name.partition(".")
            if owner not in pieces or not pieces[owner].run(edge):
                return []
            stretches.append(Stretch(pieces[owner], edge, owner))
        sides.append(stretches)
    return laid_together(sides[0], sides[1], sewn)


def _planned(pieces: Mapping[str, Piece], seam: SeamResult, sewn: Sewn) -> tuple[Group, ...]:
    """The notches of a seam, at corners of the other side too; where the names leave open how the sides lie, only those that
    all ways agree on."""
    ways = laid_sides(pieces, seam, sewn)
    if not ways:
        return ()
    for corners in (True, False):
        plans = [_plan(left, right, seam, corners) for left, right in ways]
        if all(_agree(plan, plans[0]) for plan in plans):
            return plans[0]
    return ()


def _shared(pieces: Mapping[str, Piece], groups: Sequence[Group]) -> list[int]:
    """The strokes of each notch: the most of all that stand at one place, on whichever side, and so on along the seams."""
    strokes = [most for _, most in groups]
    here: dict[tuple[str, int], list[tuple[float, int]]] = {}
    for number, (spots, _) in enumerate(groups):
        for owner, edge, at in spots:
            place = place_on(pieces[owner], edge, np.array([at]), "start")
            here.setdefault((owner, place.side), []).append((float(place.at[0]), number))
    together = [{a, b} for row in here.values() for (x, a), (y, b) in itertools.combinations(row, 2) if abs(x - y) <= SEW]
    for _ in together:
        for pair in together:
            for number in pair:
                strokes[number] = max(strokes[one] for one in pair)
    return strokes


@dataclass(frozen=True)
class _Wish:
    """A notch at a share of the way along a seam, on its left side, its right, or both; strokes as stated, or 0."""

    share: float
    strokes: int
    on: tuple[bool, bool]


def _plan(left: Laid, right: Laid, seam: SeamResult, corners: bool) -> tuple[Group, ...]:
    """Where the notches of a seam stand on both sides, in a settled order."""
    sides, total = (left, right), min(seam.left_mm, seam.right_mm)
    wishes = _wishes(left, right, seam, corners)
    shares = [wish.share for wish in wishes]
    groups: set[Group] = set()
    for wish in wishes:
        again = [one for side, on in zip(sides, wish.on, strict=True) if on for one in _repeats(side, wish.share)]
        if all(any(abs(one - share) * total <= SEW for share in shares) for one in again):
            spots, strokes = _pair(wish, left, right)
            groups.add((tuple(sorted(spots)), strokes))
    return tuple(sorted(groups))


def _wishes(left: Laid, right: Laid, seam: SeamResult, corners: bool) -> list[_Wish]:
    """Notches at the half or quarters, answers to stated ones, and those at corners of the other side."""
    sides, total = ((left, seam.left_mm), (right, seam.right_mm)), min(seam.left_mm, seam.right_mm)
    joints = [[float(at[0]) / long for at in side.joints()] for side, long in sides]
    stated = [[(float(at[0]) / long, strokes) for at, strokes in notches_on(side)] for side, long in sides]
    taken = [[*joints[k], *(share for share, _ in stated[k])] for k in (0, 1)]
    counts = max(seam.left_mm, seam.right_mm) if seam.how == "gathers" else total
    shares = (1 / 4, 1 / 2, 3 / 4) if counts >= QUARTERS[seam.how] else (1 / 2,)
    told = [any(_clear(share, (0.0, 1.0), total) for share, _ in side) for side in stated]
    free = shares if not (any(told) if seam.how == "eases" else all(stated)) else ()
    shut = [float(at[0]) / long for side, long in sides for at in side.shut()]
    made = [_Wish(one, seam.strokes, (True, True)) for one in free if _clear(one, [*taken[0], *taken[1], *shut], total)]
    darts = [[float(at[0]) / long for at in side.darts()] for side, long in sides]
    answered = [(share, strokes, (not stated[0], not stated[1])) for side in stated for share, strokes in side]
    answered += [(share, seam.strokes, (k == 1, k == 0)) for k in (0, 1) for share in _in_the_way(darts[k], free, total)]
    if corners:
        answered += [(share, seam.strokes or 1, (k == 1, k == 0)) for k in (0, 1) for share in joints[k]]
        made += [_Wish(share, seam.strokes or 1, on) for share, on in _unseen(sides)]
    for share, strokes, on in answered:
        clear = on[0] and _clear(share, taken[0], total), on[1] and _clear(share, taken[1], total)
        made.append(_Wish(share, strokes, clear))
    return made


def _in_the_way(darts: Sequence[float], free: Sequence[float], total: float) -> list[float]:
    """The shares at which darts stand where the seam would have had its own notch, opposite which there is one."""
    return [share for share in darts if not _clear(share, free, total)]


def _unseen(sides: Sequence[tuple[Laid, float]]) -> list[tuple[float, tuple[bool, bool]]]:
    """The shares at which one side has a joint, or the other an end, that is not seen on its own piece without a notch, and
    which side has none there: at the centre of an edge made of two halves."""
    (joints, ends), (others, other_ends) = (side.unseen() for side, _ in sides)
    own = ((joints, sides[0][1], (True, False)), (others, sides[1][1], (False, True)))
    made = [(float(at[0]) / long, on) for places, long, on in own for at in places]
    for share, ours, theirs in zip((0.0, 1.0), ends, other_ends, strict=True):
        made += [(share, (ours, theirs))] if ours != theirs else []
    return made


def _repeats(side: Laid, share: float) -> list[float]:
    """The shares at which a notch at one of them stands, where the same edge takes part several times."""
    (owner, edge, at), _ = spot_on(side, share)
    ends = list(itertools.accumulate((float(one[0]) for one in side.lengths()), initial=0.0))
    found = []
    for k, stretch in enumerate(side.stretches):
        if (stretch.owner, stretch.edge) == (owner, edge):
            found.append((ends[k] + at if side.forward[k] else ends[k + 1] - at) / ends[-1])
    return found


def _clear(share: float, joints: Sequence[float], total: float) -> bool:
    return all(abs(share - other) * total >= CLEAR for other in joints)


def _pair(wish: _Wish, left: Laid, right: Laid) -> tuple[set[Spot], int]:
    """The places of a notch on those sides where it is wanted, and its strokes: as stated, else two where a back is sewn to
    no front, and at no centre."""
    laid = [spot_on(side, wish.share) for side in (left, right)]
    found = [spot for spot, _ in laid]
    beside = (min(max(wish.share + by, 0.0), 1.0) for by in (-JOINT, JOINT))  # at a joint both that meet there take part
    halves = {half_of(one.piece) for share in beside for one in (spot_on(side, share)[1] for side in (left, right))}
    # At a centre an edge is sewn to itself on the other half, or a left half to a right one.
    centre = found[0][:2] == found[1][:2] or {stretch.piece.worn for _, stretch in laid} == {"left", "right"}
    strokes = wish.strokes or (2 if "back" in halves and "front" not in halves and not centre else 1)
    return {spot for spot, want in zip(found, wish.on, strict=True) if want}, strokes


def spot_on(side: Laid, share: float) -> tuple[Spot, Stretch]:
    """Owner, edge and place of a share of the way along a side, and the stretch it lies on."""
    ends = list(itertools.accumulate(float(one[0]) for one in side.lengths()))
    k = next((k for k, end in enumerate(ends[:-1]) if share * ends[-1] <= end), len(ends) - 1)
    back = max(ends[k] - share * ends[-1], 0.0)  # from the end of the stretch
    stretch, own = side.stretches[k], ends[k] - (ends[k - 1] if k else 0.0)
    return (stretch.owner, stretch.edge, round(own - back if side.forward[k] else back, 6)), stretch


def _agree(one: Sequence[Group], other: Sequence[Group]) -> bool:
    """Whether two plans put the same notches in the same places, to what scissors can tell."""
    first, second = (sorted((*spot, strokes) for spots, strokes in plan for spot in spots) for plan in (one, other))
    pairs = list(itertools.zip_longest(first, second, fillvalue=("", "", np.inf, 0)))
    return all(a[:2] == b[:2] and abs(a[2] - b[2]) < FLAT and a[3] == b[3] for a, b in pairs)


__all__ = ["NotchPair", "laid_sides", "pairs_sewn", "spot_on", "walked", "with_seam_notches"]
