"""Where edges are gathered or eased, as it is written beside them: how much, between which notches."""

from __future__ import annotations

import itertools
from collections.abc import Mapping, Sequence
from dataclasses import dataclass

import numpy as np

from ..drawing.wording import Gather, Unit, measure
from ..finish.seams import laid_sides
from ..geometry.tolerances import SEW
from ..pattern.edges import edge_length
from ..pattern.laid import SeamSide
from ..pattern.piece import Piece
from ..pattern.which_ends import Sewn, edge_named
from .results import BodyResult, SeamResult

GATHERED = 1.02
"""A part of a seam between two notches that is less full than this is not gathered (no source)."""

LEAST = 1.5
"""Less ease than this (mm) goes into a seam by itself (ours)."""


@dataclass(frozen=True)
class Gathered:
    """A part of an edge that is gathered: from where to where along it, mm, and the length it is gathered to."""

    start_mm: float
    stop_mm: float
    to_mm: float


def gathered(result: BodyResult, sewn: Sewn) -> dict[str, tuple[Gathered, ...]]:
    """For each edge, `piece.edge`, that one body's seams gather, the parts between two notches where it is longer than what
    it is sewn to, in the order of its ring; the whole edge where the seam has no notches, or it is one of several in a run,
    with its own share of what that is gathered to."""
    found: dict[str, tuple[Gathered, ...]] = {}
    for seam in (one for one in result.seams if one.how == "gathers"):
        ways = laid_sides(seam, sewn)
        if len(seam.left) > 1 or not ways:
            found |= {edge: (Gathered(0.0, np.inf, to),) for edge, to in _shares(seam, ways[0][0] if ways else None, sewn.pieces)}
            continue
        ends = [(0.0, 0.0), *((one.left_mm, one.right_mm) for one in seam.notches), (seam.left_mm, seam.right_mm)]
        parts = [(a, b, d - c) for (a, c), (b, d) in itertools.pairwise(ends) if b - a > GATHERED * (d - c)]
        if not ways[0][0].forward[0]:
            parts = [(seam.left_mm - b, seam.left_mm - a, to) for a, b, to in reversed(parts)]
        found[seam.left[0]] = tuple(Gathered(a, b, to) for a, b, to in _in_one(parts))
    return found


def _shares(seam: SeamResult, side: SeamSide | None, pieces: Mapping[str, Piece]) -> list[tuple[str, float]]:
    """To what length (mm) each edge of a run is gathered: by the notches that meet, where it is known how the run lies, else as
    much as each is of it."""
    if side is None:
        longs = [float(edge_length(pieces[owner], edge)[0]) for owner, edge in map(edge_named, seam.left)]
        return [(name, long / (seam.ratio or 1.0)) for name, long in zip(seam.left, longs, strict=True)]
    ends = np.concatenate([[0.0], np.cumsum([float(one[0]) for one in side.lengths()])])
    met = sorted([(0.0, 0.0), *((one.left_mm, one.right_mm) for one in seam.notches), (seam.left_mm, seam.right_mm)])
    here, there = (np.array(one) for one in zip(*met, strict=True))
    shares = np.abs(np.diff(np.interp(ends, here, there)))
    return [(f"{one.owner}.{one.edge}", float(to)) for one, to in zip(side.stretches, shares, strict=True)]


def _in_one(parts: Sequence[tuple[float, float, float]]) -> list[tuple[float, float, float]]:
    """Parts that follow each other without a gap, as one."""
    made: list[tuple[float, float, float]] = []
    for start, stop, to in parts:
        if made and start - made[-1][1] <= SEW:
            start, _, before = made.pop()
            to += before
        made.append((start, stop, to))
    return made


def gathers_on(result: BodyResult, sewn: Sewn, unit: Unit) -> dict[str, tuple[Gather, ...]]:
    """For each piece the gathered parts of its edges, between their notches."""
    found: dict[str, tuple[Gather, ...]] = {}
    for name, parts in sorted(gathered(result, sewn).items()):
        owner, edge = edge_named(name)
        said = [Gather(edge, one.start_mm, one.stop_mm, f"gather to {_said(one.to_mm, unit)}") for one in parts]
        found[owner] = (*found.get(owner, ()), *said)
    return found


def eases_on(result: BodyResult, sewn: Sewn, unit: Unit) -> dict[str, tuple[Gather, ...]]:
    """For each piece the parts of its edges that are eased in, between their notches; an edge of two seams has it once."""
    found: dict[str, tuple[Gather, ...]] = {}
    seen: set[str] = set()
    for name, total, parts in _eased(result, sewn):
        owner, edge = edge_named(name)
        if name not in seen:
            seen.add(name)
            said = [Gather(edge, a, b, _words(a, b, ease, total, unit)) for a, b, ease in parts if ease >= LEAST]
            found[owner] = (*found.get(owner, ()), *said)
    return found


def _eased(result: BodyResult, sewn: Sewn) -> list[tuple[str, float, list[tuple[float, float, float]]]]:
    """Edges that are eased, `piece.edge`, each with its length and its parts: from where to where along its ring, and the ease,
    mm. One of several in a run has that of the whole run."""
    found = []
    for seam in (one for one in result.seams if one.how == "eases"):
        ways = laid_sides(seam, sewn)
        if len(seam.left) > 1 or not ways:
            found += [(edge, np.inf, [(0.0, np.inf, seam.left_mm - seam.right_mm)]) for edge in seam.left]
            continue
        ends = [(0.0, 0.0), *((one.left_mm, one.right_mm) for one in seam.notches), (seam.left_mm, seam.right_mm)]
        parts = _even([(a, b, (b - a) - (d - c)) for (a, c), (b, d) in itertools.pairwise(ends) if b > a])
        if not ways[0][0].forward[0]:
            parts = [(seam.left_mm - b, seam.left_mm - a, ease) for a, b, ease in reversed(parts)]
        found.append((seam.left[0], seam.left_mm, parts))
    return found


def _even(parts: list[tuple[float, float, float]]) -> list[tuple[float, float, float]]:
    """The parts of a seam, as one where its ease is spread evenly over them."""
    long, whole = parts[-1][1], sum(ease for _, _, ease in parts)
    evenly = all(abs(ease - whole * (stop - start) / long) < LEAST for start, stop, ease in parts)
    return [(0.0, long, whole)] if evenly else parts


def _words(start: float, stop: float, ease: float, total: float, unit: Unit) -> str:
    ends = [at <= LEAST or at >= total - LEAST for at in (start, stop)]
    between = {2: "end to end", 1: "end to notch", 0: "notch to notch"}[sum(ends)]
    return f"ease {_said(ease, unit)}, {between}"


def _said(mm: float, unit: Unit) -> str:
    return measure(round(mm), unit)
