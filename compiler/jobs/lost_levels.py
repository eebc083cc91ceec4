"""Levels that a style lost on its way from the block: such a one lay along an edge, and that edge was drawn anew."""

from __future__ import annotations

import itertools
from collections.abc import Iterator, Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from ..graph.evaluate import Part
from ..meaning.style import CheckedStyle
from ..pattern.levels import levels_of, lies_on_cloth
from ..pattern.piece import Piece
from .lengthened import way_from


@dataclass(frozen=True)
class LostLevel:
    """The edge that was a level, what draws it anew, the edges the level ran between; on which bodies (L,) cloth still lies where
    it was."""

    edge: str
    by: str
    ends: tuple[str, ...]
    on_cloth: NDArray[np.bool_]


def lost(style: CheckedStyle, part: Part, drafted: Sequence[int], level: str) -> list[LostLevel]:
    """Where a level of drafted pieces was lost on the way to pieces that are cut of them, each once."""
    names = {at: name for name, at in style.names.items() if "." not in name}
    found: dict[int, LostLevel] = {}
    for cut in style.pieces.values():
        for owner in drafted:
            way = way_from(style, cut, owner)
            for number, before, after in _steps(part, way):
                by = next((names[one] for one in way[number:] if one in names), "")
                if by and (edge := _edge(before, level)) and level not in levels_of(after):
                    found.setdefault(way[number], _lost(before, after, edge, by))
    return list(found.values())


def _steps(part: Part, way: Sequence[int]) -> Iterator[tuple[int, Piece, Piece]]:
    """Each step from piece to piece on a way, with the number of its end."""
    known = [(number, piece) for number, at in enumerate(way) if isinstance(piece := part.values.get(at), Piece)]
    for (_, before), (number, after) in itertools.pairwise(known):
        yield number, before, after


def _edge(piece: Piece, level: str) -> str | None:
    """What the edge of a piece that is a level is called as one; None where there is none."""
    called = {name for name, sign in piece.signs.items() if sign.kind == "level" and sign.level == level}
    return next((name for side in piece.ring for name in side.names if name in called), None)


def _lost(before: Piece, after: Piece, called: str, by: str) -> LostLevel:
    sign, side = before.signs[called], before.sides(called)[0]
    return LostLevel(called.removesuffix(f".{sign.level}"), by, sign.ends, lies_on_cloth(after, side.drawn))
