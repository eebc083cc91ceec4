"""What is stated for cutting an edge: its allowance, and how that ends at a corner."""

from __future__ import annotations

from collections.abc import Mapping
from typing import TypeVar

import numpy as np

from ..geometry.lanes import FloatArray
from ..geometry.tolerances import COINCIDE
from ..pattern.piece import Allowance, Corner, Piece, Side, Trouble

NONE = Allowance(np.zeros(1))

HEMS: tuple[Corner, ...] = ("shaped_to_fold", "stepped")
"""How an allowance ends at its corners that is turned up over its own piece along its sewing line."""

Stated = TypeVar("Stated")


def allowance_of(piece: Piece, side: Side) -> Allowance:
    """What is stated for a side: by its most special name, else by `seams`, else none. A fold never has one."""
    if piece.fold is not None and piece.fold in side.names:
        return NONE
    stated = piece.finish.allowances
    named = next((stated[name] for name in reversed((*side.folded, *side.names)) if name in stated), None)
    return named or stated.get("seams", NONE)


def width_along(piece: Piece, edge: str) -> FloatArray:
    """The allowance (L,) mm of an edge: what is stated for it, or for all that are not named. Trouble where that is nothing, or
    not one width all along."""
    if piece.fold is not None and any(piece.fold in side.names for side in piece.sides(edge)):
        raise Trouble(f"`{edge}` lies on the fold: nothing is cut there", "name another edge")
    sides = [piece.ring[i] for i in piece.run(edge)]
    if not sides:
        raise Trouble(f"`{edge}` lies inside the piece: nothing is cut there", "name an edge of the outline")
    found = [allowance_of(piece, side) for side in sides]
    if any(one is NONE for one in found):
        raise Trouble(f"nothing is said of the allowance of `{edge}`", "write `allow 1 cm` in the braces of its piece")
    widths = np.stack(np.broadcast_arrays(*(one.width for one in found)))
    least, most = widths.min(axis=0), widths.max(axis=0)
    differ = most - least > COINCIDE
    if differ.any():
        figures = {"least": least, "most": most}
        raise Trouble(f"the allowance of `{edge}` is not the same all along", "name a part of it", differ, figures)
    return np.asarray(widths[0])


def corner_at(piece: Piece, side: Side, beside: Side) -> Corner:
    """How the allowance of a side ends where it meets the side beside it: as stated for that corner, else for the edge."""
    return at_corner(piece.finish.corners, side, beside) or allowance_of(piece, side).corner


def at_corner(stated: Mapping[tuple[str, str], Stated], side: Side, beside: Side) -> Stated | None:
    found = (stated[a, b] for a in reversed(side.names) for b in reversed(beside.names) if (a, b) in stated)
    return next(found, None)
