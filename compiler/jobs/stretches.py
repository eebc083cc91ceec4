"""How a seam lies between notches that have one name on both its sides: each stretch is compared, eased or gathered by itself."""

from __future__ import annotations

from dataclasses import dataclass

from ..bodies.units import Unit
from ..geometry.tolerances import COINCIDE
from ..pattern.laid import SeamEdge
from ..pattern.walking import named_stretches
from ..pattern.which_ends import Sewn, edge_named
from ..verbs.sewing import stretch_holds
from ..verbs.sums import edges_of
from ..verbs.values import Seam
from .numbers import bare, column, in_unit


@dataclass(frozen=True)
class StretchResult:
    """A stretch on one body, from the notch `first` to `last`, "" an end: its lengths on both sides, where it begins and ends on
    each, mm from the start of the side, and whether the lengths go together."""

    first: str
    last: str
    start_mm: tuple[float, float]
    stop_mm: tuple[float, float]
    how: str
    holds: bool

    @property
    def left_mm(self) -> float:
        return self.stop_mm[0] - self.start_mm[0]

    @property
    def right_mm(self) -> float:
        return self.stop_mm[1] - self.start_mm[1]

    def told(self, unit: Unit) -> str:
        """In words: how it is sewn; or, where it cannot be, how far along both sides the notch lies that meets no other."""
        first, last = (f"`{name}`" if name else "the end" for name in (self.first, self.last))
        said = f"from {first} to {last}: {bare(self.left_mm, unit)} on {bare(self.right_mm, unit)}"
        if not self.holds:
            name, places = (last, self.stop_mm) if self.last else (first, self.start_mm)
            one, other = (in_unit(unit)(mm) for mm in places)
            return f"{said}; {name} does not meet {name}, {one} along the first edge and {other} along the second"
        over = self.left_mm - self.right_mm
        if self.how == "gathers" and self.right_mm > COINCIDE:
            return f"{said}, gathered {self.left_mm / self.right_mm:.2f} to 1"
        return f"{said}, ease {bare(round(over, 1) + 0.0, unit)}" if self.how == "eases" else said


def stretches(
    seam: Seam, named: tuple[tuple[str, ...], tuple[str, ...]], sewn: Sewn, count: int
) -> list[tuple[StretchResult, ...]]:
    """For each body the stretches of a seam, whose edges on both sides are `named` with their pieces; none on inner lines."""
    sides = []
    for names, edges in zip(named, (edges_of(seam.left), edges_of(seam.right)), strict=True):
        if not all(edge.piece.run(edge.name) for edge in edges):
            return [()] * count
        pairs = zip(names, edges, strict=True)
        sides.append([SeamEdge(edge.piece, edge.name, edge_named(name)[0]) for name, edge in pairs])
    rows: list[list[StretchResult]] = []
    for one in named_stretches(sides[0], sides[1], sewn):
        held = stretch_holds(seam, one.stop[0] - one.start[0], one.stop[1] - one.start[1])
        numbers = zip(*(column(each, count) for each in (*one.start, *one.stop, held)), strict=True)
        rows.append([StretchResult(one.first, one.last, (a, b), (c, d), seam.how, bool(on)) for a, b, c, d, on in numbers])
    return list(zip(*rows, strict=True)) if rows else [()] * count
