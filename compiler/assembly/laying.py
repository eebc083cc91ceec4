"""Which way each seam is laid where its own evidence leaves several: so that all come out as one sheet, right side out."""

from __future__ import annotations

import itertools
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass

from .faces import Faces, WrongHand, faces, wrong_hands
from .sewn import Sewn
from .surface import Outline, Surface, surface
from .ways import Way

MOST = 256
"""More ways to lay all seams together than these are not tried."""


@dataclass(frozen=True)
class Laid:
    """A garment laid out: its seams, each in one way, the surface they make, and which faces of its panels show."""

    sewn: tuple[Sewn, ...]
    ways: Mapping[str, Way]
    surface: Surface
    faces: Faces
    wrong: tuple[WrongHand, ...]

    @property
    def amiss(self) -> tuple[int, float, int, int]:
        """How much of it does not fit together."""
        made = self.surface
        torn = 1000.0 if made.handles is None else made.handles % 1.0 * 100.0 + abs(made.handles)
        return len(made.unmet), torn, len(self.faces.clashes), len(self.wrong)


def lay(outline: Outline, sewn: Sequence[Sewn], ways: Mapping[str, list[Way]]) -> Laid:
    """The garment laid so that most of it fits; of several such as its sentences come."""
    tried = (_laid(outline, made, chosen) for made, chosen in _all(sewn, ways))
    best = next(tried)
    for one in tried:
        if not any(best.amiss):
            break
        best = min(best, one, key=lambda each: each.amiss)
    return best


def _laid(outline: Outline, sewn: Sequence[Sewn], ways: Mapping[str, Way]) -> Laid:
    made = surface(outline, sewn, ways)
    shown = faces(outline.pieces, made)
    return Laid(tuple(sewn), ways, made, shown, tuple(wrong_hands(outline.pieces, shown)))


def _all(sewn: Sequence[Sewn], ways: Mapping[str, list[Way]]) -> Iterator[tuple[list[Sewn], dict[str, Way]]]:
    """All ways to lay the seams, no more than so many."""
    known = {name: found for name, found in ways.items() if found}
    turning = [(one, one.turned()) if one.may_turn else (one,) for one in sewn]
    for chosen in itertools.islice(itertools.product(itertools.product(*turning), itertools.product(*known.values())), MOST):
        yield list(chosen[0]), dict(zip(known, chosen[1], strict=True))
