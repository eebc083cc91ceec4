"""Whether a piece is a front or a back of what is worn, by what it says it covers; and where its centre is."""

from __future__ import annotations

from collections.abc import Iterable
from typing import Literal

from ..pattern.piece import Piece
from .seams import Sides

Half = Literal["front", "back", ""]


def half_of(piece: Piece) -> Half:
    """`front`, `back`, or "" where neither is said, as of a sleeve, or both are."""
    words = (piece.covers or "").split("_")
    found: list[Half] = [half for half in ("front", "back") if half in words]
    return found[0] if len(found) == 1 else ""


def centres_of(name: str, piece: Piece, seams: Iterable[Sides]) -> tuple[str, ...]:
    """The edges or lines of a front or a back that lie along the centre: its fold, or what was its fold, and edges that are
    sewn to themselves on the other half."""
    if not half_of(piece):
        return ()
    own = (left for seam in seams if seam.left == seam.right for left in seam.left)
    sewn = [edge for owner, _, edge in (one.partition(".") for one in own) if owner == name]
    return tuple(dict.fromkeys(one for one in (piece.fold, piece.was_fold, *sewn) if one))
