"""Seams that hold by their lengths and are wrong all the same: unlike allowances on their two sides, a step in the edge that
should run on over them, more ease than cloth takes in."""

from __future__ import annotations

import itertools
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, replace

import numpy as np

from ..geometry.length import length
from ..geometry.tolerances import SEW
from ..pattern.laid import SeamSide
from ..pattern.piece import Piece, Reals
from ..pattern.which_ends import Sewn
from .running_on import should_run_on
from .seams import SewnSeam, laid_sides
from .stated import allowance_of

LEAST_LONG = 20.0
"""Allowances that differ along less than this (mm) of a seam are those of its ends (ours)."""

STEPPED = 5.0
"""What ends so far (mm) from what it should run on into is no longer trued at the table (common practice, no source)."""

MOST_EASE = 0.15
"""Cloth takes in no more than this share of a seam, and puckers (common practice, no source)."""


@dataclass(frozen=True)
class Differing:
    """What differs over a seam: the two edges as `piece.edge`, and what both have (L,) mm where it is worth a word, else NaN."""

    seam: str
    edges: tuple[str, str]
    left: Reals
    right: Reals


@dataclass(frozen=True)
class _Stretch:
    """A stretch of a seam: its edge, where it begins and ends (L,) as shares of the seam, and its allowance (L,) mm."""

    edge: str
    start: Reals
    stop: Reals
    width: Reals


def unlike_allowances(pieces: Mapping[str, Piece], seams: Sequence[SewnSeam]) -> Iterator[Differing]:
    """Stretches of seams whose allowances are not the same on both sides, pairs of edges told once; where it is left open how the
    sides lie, those that are not in any way. Raises Disagreement."""
    sewn = Sewn(pieces, seams)
    for seam in seams:
        ways = [_unlike(seam.name, *way) for way in laid_sides(seam, sewn)]
        for edges, one in ways[0].items() if ways else ():
            if all(edges in way for way in ways):
                open_here = np.isnan(np.stack(np.broadcast_arrays(*(way[edges].left for way in ways)))).any(axis=0)
                yield replace(one, left=np.where(open_here, np.nan, one.left), right=np.where(open_here, np.nan, one.right))


def _unlike(seam: str, left: SeamSide, right: SeamSide) -> dict[tuple[str, str], Differing]:
    """The pairs of edges whose allowances are not the same where they lie together so."""
    found: dict[tuple[str, str], Differing] = {}
    short = np.minimum(left.total(), right.total())
    for a, b in itertools.product(_stretches(left), _stretches(right)):
        along = (np.minimum(a.stop, b.stop) - np.maximum(a.start, b.start)) * short
        differ = (along > np.minimum(LEAST_LONG, short / 2.0)) & (np.abs(a.width - b.width) > SEW)
        if differ.any():
            widths = (np.where(differ, one.width, np.nan) for one in (a, b))
            found.setdefault((a.edge, b.edge), Differing(seam, (a.edge, b.edge), *widths))
    return found


def steps(pieces: Mapping[str, Piece], seams: Sequence[SewnSeam]) -> Iterator[Differing]:
    """Edges that should run on into each other over a seam whose sides are joined as they are, though one is longer: at one of
    its ends these make a step. Raises Disagreement."""
    sewn = Sewn(pieces, seams)
    for seam in seams:
        ways = laid_sides(seam, sewn) if seam.how == "joins" else []
        apart = np.abs(seam.left_mm - seam.right_mm) > STEPPED
        if len(ways) != 1 or not apart.any():
            continue
        a, b = ways[0]
        corners = [(a.corner(end), b.corner(end)) for end in (0, 1)]
        for one, other in (pair for pair in corners if should_run_on(*pair, sewn)):
            edges = f"{one.owner}.{one.beside.edge}", f"{other.owner}.{other.beside.edge}"
            yield Differing(seam.name, edges, *(np.where(apart, mm, np.nan) for mm in (seam.left_mm, seam.right_mm)))
            break


def eased_too_much(seams: Sequence[SewnSeam]) -> Iterator[tuple[str, Reals]]:
    """Seams that ease more than cloth takes in: by which share (L,) of the shorter side, 0 where that is little."""
    for seam in seams:
        share = (seam.left_mm - seam.right_mm) / np.maximum(seam.right_mm, SEW)
        if seam.how == "eases" and (share > MOST_EASE).any():
            yield seam.name, np.where(share > MOST_EASE, share, 0.0)


def _stretches(laid: SeamSide) -> list[_Stretch]:
    """The sides of the rings a run goes along, in order."""
    found: list[_Stretch] = []
    before, total = np.zeros(1), laid.total()
    for one, forward in zip(laid.stretches, laid.forward, strict=True):
        for side in one.sides() if forward else reversed(one.sides()):
            after = before + length(side.drawn)
            found.append(_Stretch(f"{one.owner}.{one.edge}", before / total, after / total, allowance_of(one.piece, side).width))
            before = after
    return found
