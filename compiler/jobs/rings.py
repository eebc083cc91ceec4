"""Openings of a garment on bodies: how far each is round, closed and open, and what it is called."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

import numpy as np

from ..assembly.endings import Ending
from ..assembly.panels import Atom, Pieces
from ..assembly.rings import Ring
from ..assembly.surface import Opening
from ..assembly.whole import Whole
from ..geometry.length import length
from ..geometry.tolerances import SEW
from ..output.records import ClosureRow
from ..pattern.piece import Piece, Reals
from .numbers import column
from .results import OpeningResult


@dataclass(frozen=True)
class RingOnBody:
    """A ring on one body: its sides, how far it is round (mm), closed and with its closures open, and these."""

    atoms: tuple[Atom, ...]
    girth_mm: float
    opened_mm: float
    closures: tuple[str, ...]


@dataclass(frozen=True)
class RingOnAll:
    """A ring on some bodies: its girths (mm), and of each closure how much (mm) of its run lies outside it."""

    ring: Ring
    girths: Sequence[float]
    outside: Sequence[Sequence[float]]

    def of(self, k: int, rows: Mapping[str, ClosureRow]) -> RingOnBody:
        """The ring on one of the bodies. A closure opens from its upper end, and one as long as its run from both; closed, what
        its edges lap lies double."""
        opened: dict[str, float] = {}
        for one, outside in zip(self.ring.openers, self.outside, strict=True):
            row = rows[one.closure.name]
            if row.long_mm > outside[k] and (one.upper or row.long_mm >= row.place_mm - SEW):
                opened[row.name] = max(opened.get(row.name, 0.0), row.long_mm - outside[k])
        laps = sum(rows[name].lapping_mm or 0.0 for name in opened)
        girth = self.girths[k]
        return RingOnBody(self.ring.atoms, girth - laps, girth + 2.0 * sum(opened.values()), tuple(opened))


def on_all(cloth: Mapping[str, Piece], rings: Sequence[Ring], count: int) -> list[RingOnAll]:
    """The rings of an opening on some bodies."""
    found = []
    for ring in rings:
        girths = _long(cloth, [(atom.piece, [atom.side]) for atom in ring.atoms], count)
        runs = [[(name, cloth[name].run(edge)) for name, edge in one.outside] for one in ring.openers]
        found.append(RingOnAll(ring, girths, [_long(cloth, run, count) for run in runs]))
    return found


def _long(cloth: Mapping[str, Piece], runs: Sequence[tuple[str, Sequence[int]]], count: int) -> list[float]:
    """How long (mm) some sides of pieces are together on each body, as sewn."""
    total: Reals = np.zeros(1)
    for name, sides in runs:
        for side in sides:
            total = total + length(cloth[name].ring[side].drawn)
    return column(total, count)


def opening_result(made: Whole, opening: Opening, inward: Sequence[RingOnBody]) -> OpeningResult:
    """An opening as it is told: by the narrowest of its rings, and by how much passes all of them."""
    ends = made.structure.endings
    finished = tuple(dict.fromkeys(how for atom in opening.atoms for how in _finished(made, ends.get(atom, ()))))
    narrow, opened = min(reversed(inward), key=lambda one: one.girth_mm), min(one.opened_mm for one in inward)
    edges = _edges(made, narrow.atoms)
    return OpeningResult(name_of(made, narrow.atoms), edges, opening.half, narrow.girth_mm, opened, finished, inward[0].closures)


def name_of(made: Whole, atoms: Sequence[Atom]) -> str:
    """What a ring is called: by the name that all its edges have, or all of these."""
    edges = _edges(made, atoms)
    names = {edge.partition(".")[2] for edge in edges}
    return names.pop() if len(names) == 1 else " + ".join(edges)


def _edges(made: Whole, atoms: Sequence[Atom]) -> tuple[str, ...]:
    return tuple(dict.fromkeys(f"{atom.piece}.{_called(made.structure.pieces, atom.piece, atom.side)}" for atom in atoms))


def _finished(made: Whole, ends: Sequence[Ending]) -> list[str]:
    """How an edge is finished, by what sentences say of it, or else its piece."""
    return [_how(made, end) for end in ends if end.sentence] or [end.how for end in ends]


def _how(made: Whole, end: Ending) -> str:
    """How a sentence finishes an edge: by a way of sewing, that of the seam it is in, or a closure."""
    seam = made.structure.said.seam(end.sentence)
    if seam is not None:
        return seam.sewn or ("faced" if end.how == "facing" else seam.name)
    return end.sentence


def _called(pieces: Pieces, name: str, side: int) -> str:
    """An edge by its most general name."""
    return pieces[name].said.piece.ring[side].edge
