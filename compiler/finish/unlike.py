"""Seams that hold by their lengths and are wrong all the same: unlike allowances on their two sides or none at all, a step in the
edge that should run on over them, unlike hems beside them, more ease than cloth takes in."""

from __future__ import annotations

import itertools
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace

import numpy as np

from ..geometry.length import length
from ..geometry.tolerances import SEW
from ..pattern.laid import Corner, SeamSide
from ..pattern.piece import Reals
from ..pattern.which_ends import Sewn
from .running_on import angle_of, seam_ends, should_run_on
from .seams import TOGETHER, SewnSeam, laid_sides
from .stated import allowance_of

STEPPED = 5.0
"""What ends so far (mm) from what it should run on into is no longer trued at the table (common practice, no source)."""

MOST_EASE = 0.15
"""Cloth takes in no more than this share of a seam, and puckers (common practice, no source)."""


ALIKE = 1.0
"""The edge of a facing lies on that of its piece where the angles (degrees) beside them differ by less (ours)."""


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


def unlike_allowances(sewn: Sewn, seams: Sequence[SewnSeam]) -> Iterator[Differing]:
    """Stretches of seams whose allowances are not the same on both sides, pairs of edges told once; where it is left open how the
    sides lie, those that are not in any way. Raises Disagreement."""
    for seam in seams:
        ways = [_unlike(seam.name, *way) for way in laid_sides(seam, sewn)]
        for edges, one in ways[0].items() if ways else ():
            if all(edges in way for way in ways):
                open_here = np.isnan(np.stack(np.broadcast_arrays(*(way[edges].left for way in ways)))).any(axis=0)
                yield replace(one, left=np.where(open_here, np.nan, one.left), right=np.where(open_here, np.nan, one.right))


def without_allowance(sewn: Sewn, seams: Sequence[SewnSeam]) -> Iterator[Differing]:
    """Stretches of seams without allowance on either side, though one of their pieces has some elsewhere. Raises Disagreement."""
    for seam in seams:
        for a, b, along in (one for way in laid_sides(seam, sewn)[:1] for one in _together(*way)):
            owners = (sewn.pieces[one.edge.partition(".")[0]] for one in (a, b))
            some = any((one.width > SEW).any() for piece in owners for one in piece.finish.allowances.values())
            none = (along > TOGETHER) & (np.maximum(a.width, b.width) <= SEW)
            if some and none.any():
                yield Differing(seam.name, (a.edge, b.edge), *(np.where(none, one.width, np.nan) for one in (a, b)))


def unlike_hems(sewn: Sewn, seams: Sequence[SewnSeam]) -> Iterator[Differing]:
    """Edges that run on into each other over a seam, or lie on each other beside that of a facing, sewn to nothing, whose
    allowances are not alike: turned up or back, these do not meet. Raises Disagreement."""
    for seam in seams:
        ways = laid_sides(seam, sewn)
        for a, b in ways if len(ways) == 1 else ():
            for one, other in ((a.corner(end), b.corner(end)) for end in (0, 1)):
                runs_on = should_run_on(one, other, sewn) and not sewn.to(one.owner, one.beside)
                if not runs_on and not _turned_up_on(one, other, sewn):
                    continue
                if any(corner.piece.fold is not None and corner.piece.worn is None for corner in (one, other)):
                    continue  # folded on itself, as a band: its ends are turned in, not up
                widths = [allowance_of(corner.piece, corner.beside).width for corner in (one, other)]
                differ = seam_ends(one, other) & (np.abs(widths[0] - widths[1]) > SEW)
                if differ.any():
                    edges = f"{one.owner}.{one.beside.edge}", f"{other.owner}.{other.beside.edge}"
                    yield Differing(seam.name, edges, *(np.where(differ, wide, np.nan) for wide in widths))


def _turned_up_on(one: Corner, other: Corner, sewn: Sewn) -> bool:
    """Whether the edges beside an end of a seam of a facing with what it lies on lie on each other, both left to be turned up."""
    facing, outer = (one, other) if one.piece.inside else (other, one)
    if outer.piece.inside or not facing.piece.inside or any(sewn.to(each.owner, each.beside) for each in (one, other)):
        return False
    turned = (allowance_of(facing.piece, facing.beside).width > SEW).any()
    return bool(turned and (np.abs(angle_of(one) - angle_of(other)) < ALIKE).all())


def _unlike(seam: str, left: SeamSide, right: SeamSide) -> dict[tuple[str, str], Differing]:
    """The pairs of edges whose allowances are not the same where they lie together so."""
    found: dict[tuple[str, str], Differing] = {}
    least = np.minimum(TOGETHER, np.minimum(left.total(), right.total()) / 2.0)
    for a, b, along in _together(left, right):
        differ = (along > least) & (np.abs(a.width - b.width) > SEW)
        if differ.any():
            widths = (np.where(differ, one.width, np.nan) for one in (a, b))
            found.setdefault((a.edge, b.edge), Differing(seam, (a.edge, b.edge), *widths))
    return found


def steps(sewn: Sewn, seams: Sequence[SewnSeam]) -> Iterator[Differing]:
    """Edges that should run on into each other over a seam whose sides are joined as they are, though one is longer: at one of
    its ends these make a step. Raises Disagreement."""
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


def _together(left: SeamSide, right: SeamSide) -> Iterator[tuple[_Stretch, _Stretch, Reals]]:
    """Stretches of the two sides of a seam, and how far (L,) mm they lie together; less than nothing where they do not."""
    short = np.minimum(left.total(), right.total())
    for a, b in itertools.product(_stretches(left), _stretches(right)):
        yield a, b, (np.minimum(a.stop, b.stop) - np.maximum(a.start, b.start)) * short


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
