"""Where closures end: a closure must reach an opening, which it widens."""

from __future__ import annotations

import itertools
from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from ..pattern.laid import SeamEdge, SeamSide, climbs
from .endings import Endings
from .faults import Fault
from .panels import HALVES, Atom, Pieces
from .said import ClosureSaid, GarmentSaid, SeamSaid
from .sewn import SewnOnce, Stretch
from .surface import Corner, Outline, Step, Surface, end_of, steps_of
from .ways import Way

Run = tuple[Step, ...]
"""The sides in which a closure is set in, one after the other."""


@dataclass(frozen=True)
class Closing:
    """A closure where it is set in once: the sides of its run; the openings, by number, at its upper end, that toward the
    wearer's head, and at its lower one; whether the run `climbs`, of which no sketch knows; whether it lies `within` an edge
    that is sewn on beyond both its ends, and opens a slit there."""

    closure: ClosureSaid
    run: Run
    upper: frozenset[int]
    lower: frozenset[int]
    climbs: bool
    within: bool

    @property
    def open_at(self) -> tuple[bool, bool]:
        """Whether there is an opening where the run begins, and where it ends."""
        there = bool(self.lower), bool(self.upper)
        return there if self.climbs else (there[1], there[0])

    @property
    def reaches(self) -> frozenset[int]:
        return self.upper | self.lower


def shut(
    pieces: Pieces, said: GarmentSaid, sewn: Sequence[SewnOnce], ends: Endings
) -> tuple[list[SewnOnce], dict[str, Way]]:
    """Closures in an edge that is sewn to nothing but a facing, to its own second layer, or to what is caught there, as a loop,
    as seams of its left with its right: as it is when closed."""
    made, ways = list[SewnOnce](), dict[str, Way]()
    layered = {one.name for one in sewn if one.seam.left == one.seam.right and one.half is not None}
    caught = {one.name for one in said.seams if one.caught_in}
    for one in said.closures:
        if len(one.edges) != 1:
            continue
        (edge,) = one.edges
        piece = pieces[edge[0]]
        layers = piece.layers(edge[1])
        atoms = [atom for each in layers.values() for layer in each for atom in pieces.atoms_of(edge, layer)]
        seams = {end.sentence for atom in atoms for end in ends[atom] if end.how == "seam"}
        is_free = bool(atoms) and seams <= layered | caught
        if set(layers) == set(HALVES) and is_free:
            seam = SeamSaid(one.name, one.edges, one.edges)
            sides = [(Stretch(edge, tuple(layers[half])),) for half in HALVES]
            made.append(SewnOnce(seam, None, sides[0], sides[1]))
            side = SeamSide((SeamEdge(piece.said.piece, edge[1], edge[0]),), (True,))
            ways[one.name] = side, side
    return made, ways


def closings(outline: Outline, said: GarmentSaid, made: Surface) -> list[Closing]:
    """Each closure as often as it is set in."""
    ends_at: dict[Corner, set[int]] = {}
    for number, opening in enumerate(made.openings):
        for atom in opening.atoms:
            for at in (0, 1):
                ends_at.setdefault(made.at(outline, (atom, at)), set()).add(number)
    found = []
    for closure in said.closures:
        for run in _runs(outline, closure, made):
            ends = [ends_at.get(made.at(outline, end_of(run[at], bool(at))), set()) for at in (0, -1)]
            onward = _climbs(outline, run)
            lower, upper = map(frozenset, ends if onward else ends[::-1])
            found.append(Closing(closure, run, upper, lower, onward, all(_goes_on(outline, run, at) for at in (0, -1))))
    return found


def _goes_on(outline: Outline, run: Run, at: int) -> bool:
    """Whether the edge of a run goes on beyond an end of it."""
    here = end_of(run[at], bool(at))
    own, beyond = (set(outline.pieces[atom.piece].side(atom).names) for atom in (here[0], outline.beside(here)[0]))
    return bool(own & beyond)


def _climbs(outline: Outline, run: Run) -> bool:
    sides = [(outline.pieces[atom.piece].side(atom), forward) for atom, forward in run]
    sketched = any(outline.pieces[atom.piece].said.piece.is_sketch for atom, _ in run)
    return not sketched and climbs(sides)


def _runs(outline: Outline, closure: ClosureSaid, made: Surface) -> list[Run]:
    """The runs a closure is set in: one side of its seam as often as that is sewn, or its edges as they meet."""
    glued = [one for one in made.glued if one.seam.name in (closure.seam, closure.name)]
    found = [one.left for one in glued if closure.on in ("both", None, one.seam.half)]
    return found or list(dict.fromkeys(_of_edges(outline, closure, made)))


def _of_edges(outline: Outline, closure: ClosureSaid, made: Surface) -> Iterator[Run]:
    """The edges of a closure one after the other, on each half."""
    for half in [one for one in HALVES if closure.on in ("both", None, one)]:
        edges = []
        for edge in closure.edges:
            layers = outline.pieces[edge[0]].layers(edge[1])
            outer = [one for one in layers.get(half, layers.get(None, [])) if outline.is_outer(edge[0], one)]
            edges.append(steps_of(outline, edge, outer))
        if edges and all(edges):
            yield _in_turn(outline, made, edges)


def _in_turn(outline: Outline, made: Surface, edges: Sequence[Sequence[Atom]]) -> Run:
    """Edges travelled so that each begins where the one before it ends, the first so that it ends where the second has an end."""
    ends = [[made.at(outline, (sides[0], 0)), made.at(outline, (sides[-1], 1))] for sides in edges]
    forward = [len(edges) == 1 or ends[0][1] in ends[1]]
    for before, here in itertools.pairwise(ends):
        forward.append(here[0] == before[int(forward[-1])])
    pairs = zip(edges, forward, strict=True)
    return tuple((atom, onward) for sides, onward in pairs for atom in (sides if onward else sides[::-1]))


def unsaid(said: GarmentSaid, sewn: Sequence[SewnOnce]) -> list[Fault]:
    """Closures in a seam that is sewn on both sides, of which neither side is said, nor that there are two."""
    halves: dict[str, set[object]] = {}
    for one in sewn:
        halves.setdefault(one.name, set()).add(one.half)
    return [
        Fault("which_side", (one.name, one.seam))
        for one in said.closures
        if one.on is None and one.seam and set(HALVES) <= halves.get(one.seam, set())
    ]


def reaching_nothing(said: GarmentSaid, found: Sequence[Closing]) -> list[Fault]:
    """Closures that end at no opening, and are no slit within an edge."""
    wrong = {one.closure.name: one.closure for one in found if not one.reaches and not one.within}
    return [Fault("not_reached", (one.name, *([one.seam] if one.seam else [])), one.edges) for one in wrong.values()]
