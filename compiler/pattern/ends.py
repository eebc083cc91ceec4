"""An edge of a half as other pieces carry it: by which names, between which edges, how long."""

from __future__ import annotations

import numpy as np

from ..geometry.length import length
from .levels import length_on_cloth, level_length
from .piece import Piece, Reals, Side, Worn
from .ring import edge_run

SIDES = ("left_", "right_")
"""What unfolding writes before the names of each half."""


def halves_of(piece: Piece, edge: str) -> tuple[str, ...]:
    """The names an edge or inner line of a half has on a piece: its own, on a whole one those of both halves, or none."""
    there = piece.edge_names()
    both = tuple(f"{side}{edge}" for side in SIDES if f"{side}{edge}" in there)
    if piece.worn is None and len(both) == len(SIDES):
        return both
    return (edge,) if edge in there else ()


def ends_of(piece: Piece, edge: str) -> tuple[frozenset[str], ...]:
    """The names of the edges at both ends of an edge of a half, sides of the body left out of them; none of an inner line."""
    name, count = (halves_of(piece, edge) or (edge,))[0], len(piece.ring)
    if not piece.run(name):
        return ()
    numbers = edge_run(piece, name)
    other = f"{SIDES[1]}{edge}"
    found = []
    for k in (numbers[0] - 1, numbers[-1] + 1):
        names = piece.ring[k % count].names
        over_the_fold = other in names and name != edge
        found.append(frozenset({FOLD} if over_the_fold else {plain(one) for one in names}))
    return tuple(one | {FOLD} if piece.fold in one else one for one in found)


FOLD = "the fold"


def plain(name: str) -> str:
    """A name without the side of the body before it."""
    return name.removeprefix(SIDES[0]).removeprefix(SIDES[1])


def length_of_half(piece: Piece, edge: str) -> Reals:
    """How long (L,) mm an edge or inner line of a half is on a piece, as sewn; on a whole one on the mean of both halves."""
    names = halves_of(piece, edge)
    total: Reals = np.zeros(1)
    for name in names:
        if piece.run(name):
            total = total + sum((length(side.drawn) for side in piece.sides(name)), np.zeros(1))
        elif name in piece.signs and piece.signs[name].kind == "level":
            total = total + level_length(piece, piece.signs[name].level) / len(names)
        else:
            total = total + length_on_cloth(piece, [side.drawn for side in piece.sides(name)])
    return total / max(len(names), 1)


def body_side(side: Side) -> Worn | None:
    """Which side of the body a side of a piece is on, where its piece covers both: what its names say by the rule of the
    language, which unfolding keeps to."""
    ways: tuple[tuple[Worn, str], ...] = ("left", SIDES[0]), ("right", SIDES[1])
    found = [way for way, before in ways if any(name.startswith(before) for name in side.names)]
    return found[0] if len(found) == 1 else None


def level_ends(piece: Piece) -> frozenset[str]:
    """The edges on which levels of the body end."""
    drawn = {name for side in piece.lines for name in side.names}
    return frozenset(end for name, sign in piece.signs.items() if sign.kind == "level" and name in drawn for end in sign.ends)
