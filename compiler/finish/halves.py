"""Whether a piece is a front or a back of what is worn, by what it says it covers; and where its centre is."""

from __future__ import annotations

from collections.abc import Iterable

from ..pattern.covers import HALVES, Half
from ..pattern.piece import Piece
from ..pattern.which_ends import Sides, edge_named


def half_of(piece: Piece) -> Half | None:
    """`front` or `back`; None where the piece covers neither, as a sleeve, or does not say what it covers."""
    return None if piece.covers is None else HALVES.get(piece.covers)


def centres_of(name: str, piece: Piece, seams: Iterable[Sides]) -> tuple[str, ...]:
    """The edges or lines of a front or a back that lie along the centre: its fold, or what was its fold, and edges that are
    sewn to themselves on the other half."""
    if half_of(piece) is None:
        return ()
    own = (edge_named(left) for seam in seams if seam.left == seam.right for left in seam.left)
    sewn = [edge for owner, edge in own if owner == name]
    return tuple(dict.fromkeys(one for one in (piece.fold, piece.was_fold, *sewn) if one))
