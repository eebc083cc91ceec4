"""Notches that a declared seam gets for free, and the walk along it.

They lie at equal arc lengths of both sides from ends that meet, ease spread evenly: at half of a joined seam, at the quarters
of a gathered or eased one, and on a side without a corner where the other has one. Notches stated on one side alone are put
on the other too; where both sides have some, they tell how the ease lies, and the seam gets none at its half or quarters.
The same number of strokes on both sides: as the seam states, else one, or two where a back takes part (common practice, no
source).
"""

from __future__ import annotations

import itertools
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, replace

import numpy as np

from ..geometry.tolerances import FLAT, SEW
from ..pattern.piece import Piece
from ..pattern.walking import Laid, Sewn, Stretch, laid_together, matches, notches_on
from ..verbs.finishing import notched
from .outcome import BodyResult, PieceResult, SeamResult

SHARES = {"joins": (1 / 2,), "eases": (1 / 4, 1 / 2, 3 / 4), "gathers": (1 / 4, 1 / 2, 3 / 4)}
SHORTEST = 60.0  # mm; a shorter seam is pinned at its ends
CLEAR = 15.0  # mm; a notch nearer to an end or a corner tells nothing that these do not

Spot = tuple[str, str, float, int]
"""Owner, edge, place in mm from the start of the edge as its ring runs, strokes."""


@dataclass(frozen=True)
class NotchPair:
    """Notches that meet: places from the starts of the two sides, mm, and by how much they fail to, however eased."""

    left_mm: float
    right_mm: float
    gap_mm: float

    @property
    def agrees(self) -> bool:
        return self.gap_mm <= SEW


def with_seam_notches(result: BodyResult) -> tuple[PieceResult, ...]:
    """The pieces of one body with the notches of their seams; each piece has this body alone."""
    alone = [replace(one, piece=one.piece.take(np.array([one.lane])), lane=0) for one in result.pieces]
    pieces = {one.name: one.piece for one in alone}
    sewn = pairs_sewn(result.seams)
    for seam in result.seams:
        if min(seam.left_mm, seam.right_mm) >= SHORTEST:
            _notch(pieces, seam, sewn)
    return tuple(replace(one, piece=pieces[one.name]) for one in alone)


def walked(result: BodyResult, notched_pieces: Sequence[PieceResult]) -> dict[str, tuple[NotchPair, ...]]:
    """For each seam of one body the notches that meet when it is walked, in the order of the walk."""
    pieces = {one.name: one.piece for one in notched_pieces}
    sewn = pairs_sewn(result.seams)
    found: dict[str, tuple[NotchPair, ...]] = {}
    for seam in result.seams:
        tried = []
        for left, right in laid_sides(pieces, seam, sewn):
            pairs = [NotchPair(float(m.left[0]), float(m.right[0]), float(m.gap[0])) for m in matches(left, right, seam.name)]
            tried.append(tuple(sorted(pairs, key=lambda pair: pair.right_mm)))
        found[seam.name] = min(tried, key=lambda pairs: max((p.gap_mm for p in pairs), default=0.0), default=())
    return found


def pairs_sewn(seams: Iterable[SeamResult]) -> Sewn:
    return {frozenset((a, b)) for seam in seams for a in seam.left for b in seam.right}


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


def _notch(pieces: dict[str, Piece], seam: SeamResult, sewn: Sewn) -> None:
    """Notch both sides of a seam, at corners of the other side too; where the names leave open how the sides lie, only
    notches that all ways agree on."""
    ways = laid_sides(pieces, seam, sewn)
    if not ways:
        return
    for corners in (True, False):
        plans = [_plan(left, right, seam, corners) for left, right in ways]
        if all(_agree(plan, plans[0]) for plan in plans):
            for owner, edge, at, strokes in plans[0]:
                pieces[owner] = notched(pieces[owner], edge, np.array([at]), "start", strokes, seam.name)
            return


def _plan(left: Laid, right: Laid, seam: SeamResult, corners: bool) -> tuple[Spot, ...]:
    """Where the notches of a seam stand on both sides, in a settled order."""
    sides = ((left, seam.left_mm), (right, seam.right_mm))
    joints = [[float(at[0]) / total for at in side.joints()] for side, total in sides]
    stated = [[(float(at[0]) / total, strokes) for at, strokes in notches_on(side)] for side, total in sides]
    spots: set[Spot] = set()
    total = min(seam.left_mm, seam.right_mm)
    taken = [*joints[0], *joints[1], *(share for side in stated for share, _ in side)]
    for share in SHARES[seam.how] if not all(stated) else ():
        if _clear(share, taken, total):
            spots |= _pair(share, left, right, (True, True), seam.strokes)
    if any(stated) and not all(stated):
        for share, strokes in stated[0] or stated[1]:
            spots |= _pair(share, left, right, (not stated[0], not stated[1]), strokes)
    if corners:
        for share in joints[1]:
            spots |= _pair(share, left, right, (_clear(share, joints[0], total), False), seam.strokes)
        for share in joints[0]:
            spots |= _pair(share, left, right, (False, _clear(share, joints[1], total)), seam.strokes)
    return tuple(sorted(spots))


def _clear(share: float, joints: Sequence[float], total: float) -> bool:
    return all(abs(share - other) * total >= CLEAR for other in joints)


def _pair(share: float, left: Laid, right: Laid, wanted: tuple[bool, bool], strokes: int) -> set[Spot]:
    """The places of a share of the way on those sides where it is wanted; strokes as stated, else two where a back is on
    either."""
    found = [_spot(side, share) for side in (left, right)]
    strokes = strokes or (2 if any("back" in owner.split("_") for owner, _, _ in found) else 1)
    return {(*spot, strokes) for spot, want in zip(found, wanted, strict=True) if want}


def _spot(side: Laid, share: float) -> tuple[str, str, float]:
    """Owner, edge and place of a share of the way along a side."""
    ends = list(itertools.accumulate(float(one[0]) for one in side.lengths()))
    k = next((k for k, end in enumerate(ends[:-1]) if share * ends[-1] <= end), len(ends) - 1)
    back = max(ends[k] - share * ends[-1], 0.0)  # from the end of the stretch
    stretch, own = side.stretches[k], ends[k] - (ends[k - 1] if k else 0.0)
    return stretch.owner, stretch.edge, own - back if side.forward[k] else back


def _agree(one: Sequence[Spot], other: Sequence[Spot]) -> bool:
    """Whether two plans put the same notches in the same places, to what scissors can tell."""
    pairs = list(itertools.zip_longest(one, other, fillvalue=("", "", np.inf, 0)))
    return all(a[:2] == b[:2] and abs(a[2] - b[2]) < FLAT and a[3] == b[3] for a, b in pairs)


__all__ = ["NotchPair", "laid_sides", "pairs_sewn", "walked", "with_seam_notches"]
