"""Corners of allowances that a seam's other side settles: `matched` ones, on the side that is pressed over the other."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from types import MappingProxyType

from ..finish.beyond import SeamEnd, cut_beyond
from ..finish.stated import corner_at
from ..pattern.piece import Piece
from .notches import laid_sides, pairs_sewn
from .outcome import BodyResult, PieceResult, SeamResult


def with_matched_corners(result: BodyResult, pieces: Sequence[PieceResult]) -> tuple[PieceResult, ...]:
    """The pieces, each of this body alone, with matched corners of seams cut as the other side lies beyond them.

    A seam is pressed toward the edge it names last: there the allowance lies on its own piece. The other side's lies on that
    piece too, and ends as that does.
    """
    found = {one.name: one.piece for one in pieces}
    sewn = pairs_sewn(result.seams)
    for seam in result.seams:
        if len(seam.left) == len(seam.right) == 1:
            ways = laid_sides(found, seam, sewn)
            if len(ways) == 1:
                ends = [(left.forward[0] == last, right.forward[0] == last) for left, right in ways for last in (False, True)]
                for here_at_end, there_at_end in ends:
                    _match(found, seam, here_at_end, there_at_end)
    return tuple(replace(one, piece=found[one.name]) for one in pieces)


def _match(pieces: dict[str, Piece], seam: SeamResult, here_at_end: bool, there_at_end: bool) -> None:
    (owner, _, edge), (other, _, far) = (name.partition(".") for name in (seam.left[0], seam.right[0]))
    here, there = SeamEnd(pieces[owner], edge, here_at_end), SeamEnd(pieces[other], far, there_at_end)
    beside = here.beside
    if beside is None or corner_at(here.piece, here.side, beside) != "matched":
        return
    line = cut_beyond(here, there)
    if line is not None:
        finish = here.piece.finish
        laid = {**finish.laid, (edge, beside.names[-1]): line}
        pieces[owner] = replace(here.piece, finish=replace(finish, laid=MappingProxyType(laid)))
