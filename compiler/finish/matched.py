"""Corners of allowances that a seam's other side settles: `matched` ones, on the side that is pressed over the other."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import replace
from types import MappingProxyType

from ..pattern.piece import Piece
from ..pattern.which_ends import Sewn, Sides, edge_named
from .beyond import SeamEnd, cut_beyond
from .seams import laid_sides
from .stated import corner_at


def with_matched_corners(pieces: Mapping[str, Piece], seams: Sequence[Sides]) -> dict[str, Piece]:
    """The pieces with matched corners of seams cut as the other side lies beyond them.

    A seam is pressed toward the edge it names last: there the allowance lies on its own piece. The other side's lies on that
    piece too, and ends as that does. Raises Disagreement.
    """
    made, sewn = dict(pieces), Sewn(pieces, seams)
    for seam in seams:
        if len(seam.left) == len(seam.right) == 1 and _has_matched(made, seam):
            ways = laid_sides(seam, sewn)
            if len(ways) == 1:
                left, right = ways[0]
                for last in (False, True):
                    _match(made, seam, left.forward[0] == last, right.forward[0] == last)
    return made


def _has_matched(pieces: Mapping[str, Piece], seam: Sides) -> bool:
    """Whether the piece on the left side of a seam asks for a matched corner anywhere."""
    owner, _ = edge_named(seam.left[0])
    if owner not in pieces:
        return False
    finish = pieces[owner].finish
    return "matched" in (*finish.corners.values(), *(one.corner for one in finish.allowances.values()))


def _match(pieces: dict[str, Piece], seam: Sides, here_at_end: bool, there_at_end: bool) -> None:
    (owner, edge), (other, far) = edge_named(seam.left[0]), edge_named(seam.right[0])
    here, there = SeamEnd(pieces[owner], edge, here_at_end), SeamEnd(pieces[other], far, there_at_end)
    beside = here.beside
    if beside is None or corner_at(here.piece, here.side, beside) != "matched":
        return
    line = cut_beyond(here, there)
    if line is not None:
        finish = here.piece.finish
        laid = {**finish.laid, (edge, beside.names[-1]): line}
        pieces[owner] = replace(here.piece, finish=replace(finish, laid=MappingProxyType(laid)))
