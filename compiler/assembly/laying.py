"""Which way each seam is laid where its own evidence leaves several: so that all come out as one sheet, right side out."""

from __future__ import annotations

import itertools
import math
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, replace

from .faces import Faces, WrongHand, faces, wrong_hands
from .sewn import SewnOnce
from .surface import Outline, Surface, surface
from .ways import Way

MOST = 64
"""Where no seam laid otherwise by itself makes all fit, more ways to lay all together than these are not tried."""

Choice = tuple[int, ...]
"""Of each seam, which of its ways it is laid."""


@dataclass(frozen=True)
class Laid:
    """A garment laid out: its seams, each in one way, the surface they make, and which faces of its panels show; `untried` where
    it is amiss and may not be in a way that was not tried."""

    sewn: tuple[SewnOnce, ...]
    ways: Mapping[str, Way]
    surface: Surface
    faces: Faces
    wrong: tuple[WrongHand, ...]
    untried: bool = False

    @property
    def amiss(self) -> tuple[int, float, int, int]:
        """How much of it does not fit together."""
        made = self.surface
        torn = 1000.0 if made.handles is None else made.handles % 1.0 * 100.0 + abs(made.handles)
        return len(made.unmet), torn, len(self.faces.clashes), len(self.wrong)


def lay(outline: Outline, sewn: Sequence[SewnOnce], ways: Mapping[str, list[Way]]) -> Laid:
    """The garment laid so that most of it fits; of several such as its sentences come."""
    known = {name: found for name, found in ways.items() if found}
    turning = [(one, one.turned()) if one.may_turn else (one,) for one in sewn]
    counts = [*map(len, turning), *map(len, known.values())]

    def laid(choice: Choice) -> Laid:
        made = [each[n] for each, n in zip(turning, choice, strict=False)]
        chosen = {name: found[n] for (name, found), n in zip(known.items(), choice[len(turning) :], strict=True)}
        return _laid(outline, made, chosen)

    best = _mended(laid, counts)
    sketched = any(one.said.piece.is_sketch for one in outline.pieces.values())  # of which nothing is judged by it
    if sketched or not any(best.amiss):
        return best
    for one in map(laid, itertools.islice(itertools.product(*map(range, counts)), MOST)):
        best = min(best, one, key=lambda each: each.amiss)
        if not any(best.amiss):
            return best
    return replace(best, untried=math.prod(counts) > MOST)


def _mended(laid: Callable[[Choice], Laid], counts: Sequence[int]) -> Laid:
    """The first way to lay all seams, one seam after the other laid otherwise where more fits then."""
    at = tuple(0 for _ in counts)
    best, amiss = laid(at), None
    while any(best.amiss) and best.amiss != amiss:
        amiss = best.amiss
        for k, n in ((k, n) for k, count in enumerate(counts) if count > 1 for n in range(count)):
            other = (*at[:k], n, *at[k + 1 :])
            one = laid(other) if n != at[k] else best
            if one.amiss < best.amiss:
                best, at = one, other
    return best


def _laid(outline: Outline, sewn: Sequence[SewnOnce], ways: Mapping[str, Way]) -> Laid:
    made = surface(outline, sewn, ways)
    shown = faces(outline.pieces, made)
    return Laid(tuple(sewn), ways, made, shown, tuple(wrong_hands(outline.pieces, shown)))
