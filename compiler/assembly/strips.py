"""Strips that go all round an edge and whose bare ends meet there, joined by nothing, as those of a binding."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from ..geometry.lanes import decide
from ..geometry.length import length
from ..pattern.piece import Piece, Reals
from .endings import Endings
from .faults import Fault
from .panels import Atom
from .surface import End, Outline, Surface, end_of

SLENDER = 4.0
"""What is so many times as long as its ends are wide is a strip, whose ends lie in no slit that is meant (ours)."""


def open_rings(outline: Outline, ends: Endings, made: Surface) -> Iterator[Fault]:
    """Of cloth: the ends of strips that meet at both ends of the seam by which they are sewn on. Raises Disagreement."""
    found: dict[str, Fault] = {}
    for one in made.glued:
        for run in (one.left, one.right):
            if len({(atom.piece, atom.panel) for atom, _ in run}) > 1:
                continue
            here, there = (end_of(run[at], bool(at)) for at in (0, -1))
            sides = [outline.beside(end) for end in (here, there)]
            if made.at(outline, here) == made.at(outline, there) and _are_bare(sides, ends):
                (a, _), (b, _) = sides
                name, cloth = a.piece, outline.pieces[a.piece].said.piece
                if a != b and decide(_long(cloth, [atom for atom, _ in run]) > SLENDER * _long(cloth, [a])):
                    edges = tuple((name, outline.pieces[name].side(atom).names[0]) for atom in (a, b))
                    found.setdefault(name, Fault("strip_open", (name, one.seam.name), edges))
    yield from found.values()


def _are_bare(sides: Sequence[End], ends: Endings) -> bool:
    return all(found and all(end.how == "raw" for end in found) for found in (ends.get(atom, ()) for atom, _ in sides))


def _long(cloth: Piece, sides: Sequence[Atom]) -> Reals:
    return sum((length(cloth.ring[atom.side].drawn) for atom in sides[1:]), length(cloth.ring[sides[0].side].drawn))
