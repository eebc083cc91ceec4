"""Whether a piece is a front or a back of what is worn, by what it says it covers; and where its centre is."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from types import MappingProxyType
from typing import Literal

from ..pattern.piece import Covers, Piece
from ..pattern.which_ends import Sides, edge_named

Half = Literal["front", "back", ""]

HALVES: Mapping[Covers, Half] = MappingProxyType(
    {
        "bodice_front": "front",
        "bodice_back": "back",
        "skirt_front": "front",
        "skirt_back": "back",
        "trouser_front": "front",
        "trouser_back": "back",
    }
)
"""Of the parts of the body those that are a front or a back."""


def half_of(piece: Piece) -> Half:
    """`front`, `back`, or "" where the piece covers neither, as a sleeve, or does not say what it covers."""
    return "" if piece.covers is None else HALVES.get(piece.covers, "")


def centres_of(name: str, piece: Piece, seams: Iterable[Sides]) -> tuple[str, ...]:
    """The edges or lines of a front or a back that lie along the centre: its fold, or what was its fold, and edges that are
    sewn to themselves on the other half."""
    if not half_of(piece):
        return ()
    own = (edge_named(left) for seam in seams if seam.left == seam.right for left in seam.left)
    sewn = [edge for owner, edge in own if owner == name]
    return tuple(dict.fromkeys(one for one in (piece.fold, piece.was_fold, *sewn) if one))
