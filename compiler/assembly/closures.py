"""Where closures end: a closure must reach an opening, which it widens."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from ..pattern.laid import SeamEdge, SeamSide
from .endings import Endings
from .faults import Fault
from .panels import HALVES, Pieces
from .said import ClosureSaid, GarmentSaid, SeamSaid
from .sewn import Sewn, Stretch
from .surface import Corner, Outline, Surface, steps_of
from .ways import Way


@dataclass(frozen=True)
class Closing:
    """A closure where it is set in once: the corners of its run at both ends, and the openings, by number, that end there."""

    closure: ClosureSaid
    ends: tuple[Corner, Corner]
    reaches: frozenset[int]


def shut(pieces: Pieces, said: GarmentSaid, ends: Endings) -> tuple[list[Sewn], dict[str, Way]]:
    """Closures in an edge that is sewn to nothing but a facing, as seams of its left with its right: as it is when closed."""
    made, ways = list[Sewn](), dict[str, Way]()
    for one in said.closures:
        if len(one.edges) != 1:
            continue
        (edge,) = one.edges
        piece = pieces[edge[0]]
        layers = piece.layers(edge[1])
        atoms = [atom for each in layers.values() for layer in each for atom in pieces.atoms_of(edge, layer)]
        is_free = bool(atoms) and not any(end.how == "seam" for atom in atoms for end in ends[atom])
        if set(layers) == set(HALVES) and is_free:
            seam = SeamSaid(one.name, one.edges, one.edges)
            sides = [(Stretch(edge, tuple(layers[half])),) for half in HALVES]
            made.append(Sewn(seam, None, sides[0], sides[1]))
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
        for corners in _ends(outline, closure, made):
            reached = frozenset(number for corner in corners for number in ends_at.get(corner, ()))
            found.append(Closing(closure, corners, reached))
    return found


def _ends(outline: Outline, closure: ClosureSaid, made: Surface) -> list[tuple[Corner, Corner]]:
    """The corners at the ends of the runs a closure is set in."""
    found = []
    for one in made.glued:
        if one.seam.name in (closure.seam, closure.name) and closure.on in ("both", None, one.seam.half):
            (first, start), (last, end) = one.left[0], one.left[-1]
            found.append((made.at(outline, (first, int(not start))), made.at(outline, (last, int(end)))))
    if not found and closure.edges:
        found = _of_run(outline, closure, made)
    return found


def _of_run(outline: Outline, closure: ClosureSaid, made: Surface) -> list[tuple[Corner, Corner]]:
    """The two ends of a run of edges, which meet one after the other."""
    found = []
    for half in [one for one in HALVES if closure.on in ("both", None, one)]:
        ends: list[Corner] = []
        for edge in closure.edges:
            layers = outline.pieces[edge[0]].layers(edge[1])
            outer = [one for one in layers.get(half, layers.get(None, [])) if outline.is_outer(edge[0], one)]
            steps = steps_of(outline, edge, outer)
            if not steps:
                break
            ends += [made.at(outline, (steps[0], 0)), made.at(outline, (steps[-1], 1))]
        else:
            odd = [corner for corner in ends if ends.count(corner) == 1]
            found += [(odd[0], odd[-1])] if len(odd) > 1 else []
    return list(dict.fromkeys(found))


def unsaid(said: GarmentSaid, sewn: Sequence[Sewn]) -> list[Fault]:
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
    """Closures that end at no opening."""
    wrong = {one.closure.name: one.closure for one in found if not one.reaches}
    return [Fault("not_reached", (one.name, *([one.seam] if one.seam else [])), one.edges) for one in wrong.values()]
