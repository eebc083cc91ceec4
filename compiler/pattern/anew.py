"""Sides drawn anew along other paths, and what lies on them: named parts and places, which stay at their share, and notches."""

from __future__ import annotations

import itertools
from collections.abc import Callable, Collection, Sequence
from dataclasses import replace
from types import MappingProxyType

import numpy as np

from ..geometry.lanes import norm
from ..geometry.length import cut_at, length, nearest, point_at
from ..geometry.path import Path, chain
from ..geometry.tolerances import SHIFTED
from .piece import Notch, OperationNote, Piece, Reals, Side


def drawn_anew(
    groups: Sequence[Sequence[Side]], draw: Callable[[Path], tuple[Path, Reals]], parts: Collection[str]
) -> tuple[list[Side], Reals]:
    """One side in place of all of an edge, cut again where its named parts end, at the same shares; and how far it moved."""
    sides = [side for group in groups for side in group]
    common = [n for n in sides[0].names if all(n in side.names for side in sides)]
    names = [(*common, *(n for n in group[0].names if n in parts and n not in common)) for group in groups]
    if any(side.path is None for side in sides):
        return [Side(each) for each in names], np.zeros(1)
    path, moved = draw(chain([side.drawn for side in sides]))
    lengths = [sum((length(side.drawn) for side in group), np.zeros(1)) for group in groups]
    factor = length(path) / sum(lengths, np.zeros(1))
    made = []
    for each, long in zip(names[:-1], lengths[:-1], strict=True):
        first, path = cut_at(path, long * factor)
        made.append(Side(each, first, sides[0].turn))
    return [*made, Side(names[-1], path, sides[0].turn)], moved


def onto_part(piece: Piece, notch: Notch, group: Sequence[Side], side: Side, number: int) -> Notch:
    """The notch on a new side that stands for several: one with a name at the same share of it, another at the nearest place."""
    if not notch.name or side.path is None:
        return _onto(piece, notch, side, number)
    at, old = notch.at, piece.ring[notch.side]
    for before in itertools.takewhile(lambda one: one is not old, group):
        at = at + length(before.drawn)
    whole = sum((length(one.drawn) for one in group), np.zeros(1))
    return replace(notch, side=number, at=at / whole * length(side.path))


def telling_moved(before: Piece, made: Piece) -> Piece:
    """The piece, with how far its named places were moved along with their edge, where that can be seen."""
    rows = []
    for notch in (one for one in made.notches if one.name):
        old, new = before.points.get(notch.name), made.points.get(notch.name)
        if old is not None and new is not None and (norm(new - old) > SHIFTED).any():
            rows.append(OperationNote("place moved with its edge", notch.name, MappingProxyType({"by": norm(new - old)})))
    return made.with_note(*rows)


def _onto(piece: Piece, notch: Notch, side: Side, number: int) -> Notch:
    """The notch on the nearest place of a new side."""
    if side.path is None:
        return replace(notch, side=number)
    spot = point_at(piece.ring[notch.side].drawn, notch.at)
    return replace(notch, side=number, at=nearest(side.drawn, spot)[0])
