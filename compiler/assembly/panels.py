"""The panels that pieces are cut as, each one cloth, and which half of the wearer an edge of one covers."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from enum import Enum
from functools import cached_property

from ..pattern.ends import body_side
from ..pattern.named import parts_in
from ..pattern.piece import CutOrder, Side, Worn
from ..pattern.which_ends import Name
from .said import PieceSaid, other

Half = Worn | None

HALVES: tuple[Worn, Worn] = ("left", "right")


class Lying(Enum):
    """How the cloths of a piece lie on the wearer."""

    PAIR = "pair"  # one on each half, or as many on each
    CENTRED = "centred"  # on both halves: unfolded, or with the wearer's centre on its fold; several are layers
    DOUBLED = "doubled"  # folded on itself, as a band
    ALIKE = "alike"  # none of these: a seam tells


@dataclass(frozen=True)
class Atom:
    """A side of the ring of a panel; of one with a fold `copy` 0 is what is drawn, 1 its other half."""

    piece: str
    panel: int
    copy: int
    side: int


@dataclass(frozen=True)
class Layer:
    """One cloth of an edge where it is sewn: its panel, and which half of a fold."""

    panel: int
    copy: int = 0


@dataclass(frozen=True)
class CutPiece:
    """A piece with its panels."""

    said: PieceSaid

    @cached_property
    def cut(self) -> CutOrder:
        """The cut that makes its panels; the same piece in another cloth is mounted on these."""
        return self.said.cuts[0] if self.said.cuts else CutOrder(1)

    @property
    def count(self) -> int:
        return self.cut.count

    @cached_property
    def lying(self) -> Lying:
        sketch = self.said.piece
        if self.cut.mirrored:
            return Lying.PAIR
        if sketch.fold is not None:
            return Lying.DOUBLED if sketch.worn is None and not self.said.laid_open else Lying.CENTRED
        sides = {body_side(side) for side in sketch.ring}
        return Lying.CENTRED if sketch.was_fold is not None or {"left", "right"} <= sides else Lying.ALIKE

    @property
    def drawn(self) -> Worn:
        """The half that what is drawn covers; of a pair that says nothing one is as good as the other."""
        return self.said.piece.worn or "left"

    @property
    def folds_open(self) -> bool:
        """Whether each of its cloths has every edge twice."""
        return self.said.piece.fold is not None and not self.cut.mirrored

    def half_of(self, panel: int) -> Half:
        """The half a panel is worn on, where its cut says so; of two alike one is left, one right."""
        if self.lying is Lying.PAIR:
            return self.drawn if panel < self.count // 2 else other(self.drawn)
        if self.lying is not Lying.CENTRED and self.count == len(HALVES):
            return HALVES[panel]
        return None

    def is_mirrored(self, panel: int) -> bool:
        return self.cut.mirrored and panel % 2 == 1

    @cached_property
    def sides(self) -> tuple[int, ...]:
        """Ring numbers of the sides that have an end of their own: no fold, no leg of a dart, no cloth within a pleat; nor what
        may be of two parts, since where these end no sketch knows."""
        ring, shut = self.said.piece.ring, self.said.piece.dart_sides()
        fold = self.said.piece.fold if self.folds_open else None
        parts = set(parts_in(self.said.piece)) if self.said.piece.is_sketch else set()
        return tuple(
            i
            for i, side in enumerate(ring)
            if i not in shut and fold not in side.names and len(parts.intersection(side.names)) < 2
        )

    def atoms(self) -> Iterator[Atom]:
        copies = (0, 1) if self.folds_open else (0,)
        return (Atom(self.said.name, n, copy, i) for n in range(self.count) for copy in copies for i in self.sides)

    def along(self, edge: str) -> tuple[int, ...]:
        """The sides of an edge that have an end of their own, in travelling order; none of a dart or an inner line."""
        if edge not in self._runs:
            self._runs[edge] = tuple(i for i in self.said.piece.run(edge) if i in self.sides)
        return self._runs[edge]

    def beside(self, run: Sequence[int]) -> list[int]:
        """The sides that stand at both ends of a run of sides, darts shut."""
        if not run:
            return []
        ring, shut = self.said.piece.ring, self.said.piece.dart_sides()
        found = []
        for start, step in ((run[0], -1), (run[-1], 1)):
            n = (start + step) % len(ring)
            while n in shut:
                n = (n + step) % len(ring)
            found.append(n)
        return found

    def ends_on_fold(self, edge: str) -> int:
        """How many ends of an edge lie on the fold."""
        sketch = self.said.piece
        return sum(sketch.fold in sketch.ring[i].names for i in self.beside(self.along(edge)))

    def is_opposite_fold(self, edge: str) -> bool:
        """Whether both ends of an edge go over into sides that end on the fold, as the long edge of a band folded lengthwise."""
        ring, fold = self.said.piece.ring, self.said.piece.fold
        sides = [{one for n in self.beside([i]) for one in ring[n].names} for i in self.beside(self.along(edge))]
        return all(fold in names for names in sides)

    @cached_property
    def _runs(self) -> dict[str, tuple[int, ...]]:
        return {}

    def side(self, atom: Atom) -> Side:
        return self.said.piece.ring[atom.side]

    def is_buttoned(self, atom: Atom) -> bool:
        """Whether buttons or buttonholes are on a side."""
        return not self.said.buttoned.isdisjoint(self.side(atom).names)

    def half(self, atom: Atom) -> Half:
        """The half of the wearer a side of a panel covers; None where it has none of its own."""
        if self.lying is Lying.CENTRED and self.folds_open:
            return self.drawn if atom.copy == 0 else other(self.drawn)
        return body_side(self.side(atom)) if self.lying is Lying.CENTRED else self.half_of(atom.panel)

    def layers(self, edge: str) -> dict[Worn | None, list[Layer]]:
        """The cloths of an edge by the half it is on; under None those of an edge that spans both, or has none."""
        panels = range(self.count)
        if self.lying is Lying.PAIR:
            return {half: self._of_pair(half) for half in HALVES}
        if self.lying is Lying.CENTRED and self.folds_open:
            return {half: [Layer(n, int(half != self.drawn)) for n in panels] for half in HALVES}
        if self.lying is Lying.CENTRED:
            halves = {body_side(side) for side in self.said.piece.sides(edge)}
            return {halves.pop() if len(halves) == 1 else None: [Layer(n) for n in panels]}
        copies = (0, 1) if self.lying is Lying.DOUBLED else (0,)
        if self.count == len(HALVES):
            return {half: [Layer(n, copy) for copy in copies] for n, half in enumerate(HALVES)}
        return {None: [Layer(n, copy) for n in panels for copy in copies]}

    def _of_pair(self, half: Worn) -> list[Layer]:
        """The cloths of a pair on one half, the outer first: of four, one that is drawn and one that is mirrored lie right sides
        together there."""
        found = [Layer(n) for n in range(self.count) if self.half_of(n) == half]
        return found if half == self.drawn else found[::-1]


class Pieces(dict[str, CutPiece]):
    """All pieces of a garment that are cut, by name."""

    @staticmethod
    def of(said: Mapping[str, PieceSaid]) -> Pieces:
        return Pieces({name: CutPiece(one) for name, one in said.items()})

    def atoms(self) -> Iterator[Atom]:
        return (atom for piece in self.values() for atom in piece.atoms())

    def atoms_of(self, edge: Name, layer: Layer) -> list[Atom]:
        """The sides of an edge on one of its cloths, in travelling order of the ring."""
        owner, name = edge
        return [Atom(owner, layer.panel, layer.copy, i) for i in self[owner].along(name)]

    @cached_property
    def main_cloth(self) -> str:
        """The cloth in which most is cut, what says that it lies inside left out."""
        counts: dict[str, int] = {}
        for piece in [one for one in self.values() if not one.said.piece.inside] or self.values():
            counts[piece.cut.cloth] = counts.get(piece.cut.cloth, 0) + piece.count
        return max(counts, key=lambda cloth: counts[cloth]) if counts else ""
