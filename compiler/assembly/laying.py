"""Which way each seam is laid where its own evidence leaves several: so that all come out as one sheet, right side out."""

from __future__ import annotations

import itertools
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, replace

from .faces import Faces, WrongHand, faces, wrong_hands
from .sewn import Sewn
from .surface import Outline, Surface, surface
from .ways import Way

MOST = 256
"""More ways to lay all seams together than these are not tried."""


@dataclass(frozen=True)
class Laid:
    """A garment laid out: its seams, each in one way, the surface they make, and which faces of its panels show; `untried` where
    it is amiss and may not be in a way that was not tried."""

    sewn: tuple[Sewn, ...]
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


def lay(outline: Outline, sewn: Sequence[Sewn], ways: Mapping[str, list[Way]]) -> Laid:
    """The garment laid so that most of it fits; of several such as its sentences come."""
    every = _all(sewn, {name: found for name, found in ways.items() if found})
    best = _laid(outline, *next(every))
    for made, chosen in itertools.islice(every, MOST - 1):
        if not any(best.amiss):
            return best
        best = min(best, _laid(outline, made, chosen), key=lambda each: each.amiss)
    untried = any(best.amiss) and next(every, None) is not None
    return replace(best, untried=untried)


def _laid(outline: Outline, sewn: Sequence[Sewn], ways: Mapping[str, Way]) -> Laid:
    made = surface(outline, sewn, ways)
    shown = faces(outline.pieces, made)
    return Laid(tuple(sewn), ways, made, shown, tuple(wrong_hands(outline.pieces, shown)))


def _all(sewn: Sequence[Sewn], known: Mapping[str, list[Way]]) -> Iterator[tuple[list[Sewn], dict[str, Way]]]:
    """All ways to lay the seams."""
    turning = [(one, one.turned()) if one.may_turn else (one,) for one in sewn]
    for turned in itertools.product(*turning):
        for chosen in itertools.product(*known.values()):
            yield list(turned), dict(zip(known, chosen, strict=True))
