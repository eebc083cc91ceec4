"""Whether a piece is a front or a back of what is worn: by what it says it covers."""

from __future__ import annotations

from typing import Literal

from ..pattern.piece import Piece

Half = Literal["front", "back", ""]


def half_of(piece: Piece) -> Half:
    """`front`, `back`, or "" where neither is said, as of a sleeve, or both are."""
    words = (piece.covers or "").split("_")
    found: list[Half] = [half for half in ("front", "back") if half in words]
    return found[0] if len(found) == 1 else ""
