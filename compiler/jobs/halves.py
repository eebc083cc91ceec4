"""Whether a piece is a front or a back of what is worn: by what it says it covers, else by a word in its name."""

from __future__ import annotations

from typing import Literal

from ..pattern.piece import Piece

Half = Literal["front", "back", ""]


def half_of(name: str, piece: Piece) -> Half:
    """`front`, `back`, or "" where neither is said, as of a sleeve, or both are."""
    words = (piece.covers or name).split("_")
    found: list[Half] = [half for half in ("front", "back") if half in words]
    return found[0] if len(found) == 1 else ""
