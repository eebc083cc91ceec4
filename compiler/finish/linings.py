"""Linings of a back: whether they are wider than what they lie behind, and longer where they are sewn to its lower edge."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator
from dataclasses import dataclass

import numpy as np

from ..geometry.lanes import least
from ..pattern.levels import level_length, levels_of
from ..pattern.measures import width_across
from ..pattern.piece import Piece, Reals, Side, Trouble
from ..pattern.which_ends import Sewn
from .stated import allowance_of

WIDER = 5.0
"""A lining of a back is at least so much (mm) wider than the shell (ours; the custom is 2 to 3 cm, as a pleat at the centre)."""

NARROWER = -20.0
"""One that is narrower than this (mm), or shorter, is made up otherwise, as with a facing beside it (ours)."""

LONGER = 3.0
"""One that is turned with the shell at its lower edge is at least so much (mm) longer (ours; the custom is 5 to 10 mm)."""

TURNED_UP = 15.0
"""An allowance of more than this (mm) is turned up, and the lining sewn to its raw edge (ours)."""


@dataclass(frozen=True)
class WithoutEase:
    """A lining and the piece before it: how much wider (L,) mm it is, at which level, and how much longer (L,) mm; NaN where
    that is enough, or not to be judged."""

    lining: str
    shell: str
    level: str
    wider: Reals
    longer: Reals


def without_ease(sewn: Sewn) -> Iterator[WithoutEase]:
    """Linings of backs that are sewn in and give nothing when the wearer moves. Raises Disagreement."""
    often = Counter(cut.cloth for piece in sewn.pieces.values() for cut in piece.finish.cuts[:1])
    main = max(often, key=lambda cloth: often[cloth], default="")
    for lining, inner in sewn.pieces.items():
        if inner.covers != "bodice_back" or not any(owner == lining for owner, _ in sewn.partners):
            continue
        for shell, outer in sewn.pieces.items():
            if outer.covers == inner.covers and _lies_behind(inner, outer, main):
                level, wider = _wider(inner, outer)
                longer = _longer(sewn, lining, shell)
                told = [np.where((mm > NARROWER) & (mm < least), mm, np.nan) for mm, least in ((wider, WIDER), (longer, LONGER))]
                if not all(np.isnan(mm).all() for mm in told):
                    yield WithoutEase(lining, shell, level, told[0], told[1])


def _lies_behind(inner: Piece, outer: Piece, main: str) -> bool:
    """Whether a piece is a lining of another in the main cloth, in a cloth of its own."""
    cloths = [{cut.cloth for cut in piece.finish.cuts} for piece in (inner, outer)]
    return not outer.inside and bool(cloths[0]) and main in cloths[1] and cloths[0].isdisjoint(cloths[1])


def _wider(inner: Piece, outer: Piece) -> tuple[str, Reals]:
    """By how much (L,) mm all cloth of a lining is wider than what is sewn of the shell, at the level where it is that most."""
    found: dict[str, Reals] = {}
    for level in levels_of(inner):
        path = next((side.drawn for side in inner.lines if _is_level(inner, side, level)), None)
        if level in levels_of(outer) and path is not None:
            try:
                wide = width_across(inner, path.start[:, 1])
            except Trouble:  # turned on the paper, it tells no width
                continue
            found[level] = wide * _often(inner) - level_length(outer, level) * _often(outer)
    if not found:
        return "", np.full(1, np.nan)
    levels, widths = list(found), list(found.values())
    most = least([-wide for wide in widths])
    return levels[most], widths[most]


def _is_level(piece: Piece, side: Side, level: str) -> bool:
    sign = piece.sign_of(side)
    return sign is not None and sign.level == level


def _longer(sewn: Sewn, lining: str, shell: str) -> Reals:
    """By how much (L,) mm a lining is longer than the shell at whose lower edge it is turned; NaN where it is not."""
    lowest = [_lowest(sewn.pieces[name]) for name in (lining, shell)]
    partners = [{owner for owner, _ in sewn.to(name, side)} for name, side in zip((lining, shell), lowest, strict=True)]
    if partners != [{shell}, {lining}]:
        return np.full(1, np.nan)
    outer = sewn.pieces[shell]
    allowed = allowance_of(outer, lowest[1]).width
    return _high(sewn.pieces[lining]) - _high(outer) + np.where(allowed > TURNED_UP, allowed, 0.0)


def _lowest(piece: Piece) -> Side:
    """The side whose middle lies lowest. Raises Disagreement."""
    return piece.ring[least([(side.drawn.start + side.drawn.end)[:, 1] for side in piece.ring])]


def _high(piece: Piece) -> Reals:
    heights = np.stack(np.broadcast_arrays(*(side.drawn.start[:, 1] for side in piece.ring)))
    return np.asarray(heights.max(axis=0) - heights.min(axis=0))


def _often(piece: Piece) -> float:
    """How often a piece goes across the back: twice as a half."""
    return 2.0 if piece.fold is not None or piece.finish.cuts[0].count > 1 else 1.0
