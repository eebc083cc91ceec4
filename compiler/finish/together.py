"""The pieces of a style finished together, as their seams want it: on all bodies at once, apart where structure differs."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from functools import partial
from typing import Protocol

from ..geometry.lanes import Lanes, in_groups
from ..pattern.piece import Piece
from ..pattern.walking import Match
from ..pattern.which_ends import Sewn
from .finished import FinishedPiece, finished
from .matched import with_matched_corners
from .seam_notches import walked, with_seam_notches
from .seams import SewnSeam
from .shelf import Shelf


class Keep(Protocol):
    """Who keeps what is made here, by a digest of what it is made from (empty: it is not kept), and gives it again."""

    def digest(self, *read: object) -> bytes: ...

    @property
    def finished(self) -> Shelf[FinishedPiece]: ...

    @property
    def notched(self) -> Shelf[Garment]: ...


@dataclass(frozen=True)
class Garment:
    """Finished pieces by name, with the notches of the seams; the seams, and what these and the pieces tell of each other; for
    each, by name, the notches that meet when it is walked; and the seams of which nothing tells which ends meet."""

    pieces: Mapping[str, FinishedPiece]
    seams: Sequence[SewnSeam]
    sewn: Sewn
    walks: Mapping[str, tuple[Match, ...]]
    unsettled: tuple[str, ...]


def finish(
    pieces: Mapping[str, Piece], seams: Sequence[SewnSeam], count: int, keep: Keep
) -> list[tuple[Lanes, Garment]]:
    """The garment of `count` bodies, in groups of those whose seams have the same notches, by their positions.

    The cut lines are drawn before the bodies part by their notches, on which these do not rest.
    """
    found: list[tuple[Lanes, Garment]] = []
    for lanes, made in in_groups(count, partial(_cut_out, keep, pieces, seams, count)):
        here = [seam.take(lanes) for seam in seams]
        found += [(lanes[some], one) for some, one in in_groups(lanes.size, partial(_notched, keep, made, here, lanes.size))]
    return found


def _cut_out(
    keep: Keep, pieces: Mapping[str, Piece], seams: Sequence[SewnSeam], count: int, lanes: Lanes
) -> dict[str, FinishedPiece]:
    some = pieces if lanes.size == count else {name: piece.take(lanes) for name, piece in pieces.items()}
    matched = with_matched_corners(some, seams)
    return {name: keep.finished.made(keep.digest(piece), partial(finished, piece)) for name, piece in matched.items()}


def _notched(
    keep: Keep, cut: Mapping[str, FinishedPiece], seams: Sequence[SewnSeam], count: int, lanes: Lanes
) -> Garment:
    whole = lanes.size == count
    some = cut if whole else {name: one.take(lanes) for name, one in cut.items()}
    here = seams if whole else [seam.take(lanes) for seam in seams]
    return keep.notched.made(keep.digest(some, here), partial(_with_notches, some, here))


def _with_notches(cut: Mapping[str, FinishedPiece], seams: Sequence[SewnSeam]) -> Garment:
    pieces, unsettled = with_seam_notches({name: one.piece for name, one in cut.items()}, seams)
    notched = {name: replace(one, piece=pieces[name]) for name, one in cut.items()}
    sewn = Sewn(pieces, seams)
    return Garment(notched, seams, sewn, walked(sewn, seams), unsettled)
