"""Where edges are gathered or eased, as it is written beside them: how much, between which notches."""

from __future__ import annotations

import itertools
from collections.abc import Sequence

import numpy as np

from ..drawing.wording import Gather, Unit, measure
from .notches import gathered, laid_sides, pairs_sewn, walked
from .outcome import BodyResult, PieceResult

LEAST = 1.5
"""Less ease than this (mm) goes into a seam by itself (ours)."""


def gathers_on(result: BodyResult, pieces: Sequence[PieceResult], unit: Unit) -> dict[str, tuple[Gather, ...]]:
    """For each piece the gathered parts of its edges, between their notches."""
    found: dict[str, tuple[Gather, ...]] = {}
    for name, parts in sorted(gathered(result, pieces).items()):
        owner, _, edge = name.partition(".")
        said = [Gather(edge, one.start_mm, one.stop_mm, f"gather to {_said(one.to_mm, unit)}") for one in parts]
        found[owner] = (*found.get(owner, ()), *said)
    return found


def eases_on(result: BodyResult, pieces: Sequence[PieceResult], unit: Unit) -> dict[str, tuple[Gather, ...]]:
    """For each piece the parts of its edges that are eased in, between their notches; an edge of two seams has it once."""
    found: dict[str, tuple[Gather, ...]] = {}
    seen: set[str] = set()
    for name, total, parts in _eased(result, pieces):
        owner, _, edge = name.partition(".")
        if name not in seen:
            seen.add(name)
            said = [Gather(edge, a, b, _words(a, b, ease, total, unit)) for a, b, ease in parts if ease >= LEAST]
            found[owner] = (*found.get(owner, ()), *said)
    return found


def _eased(
    result: BodyResult, pieces: Sequence[PieceResult]
) -> list[tuple[str, float, list[tuple[float, float, float]]]]:
    """Edges that are eased, `piece.edge`, each with its length and its parts: from where to where along its ring, and the ease,
    mm. One of several in a run has that of the whole run."""
    by_name, pairs = {one.name: one.piece for one in pieces}, walked(result, pieces)
    found = []
    for seam in (one for one in result.seams if one.how == "eases"):
        ways = laid_sides(by_name, seam, pairs_sewn(result.seams))
        if len(seam.left) > 1 or not ways:
            found += [(edge, np.inf, [(0.0, np.inf, seam.left_mm - seam.right_mm)]) for edge in seam.left]
            continue
        ends = [(0.0, 0.0), *((one.left_mm, one.right_mm) for one in pairs[seam.name]), (seam.left_mm, seam.right_mm)]
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
