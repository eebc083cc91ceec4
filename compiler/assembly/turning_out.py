"""Shells and linings that are sewn to each other all round, so that the right side cannot be turned out."""

from __future__ import annotations

from collections.abc import Collection, Iterator

from .endings import Ending
from .faults import Fault
from .groups import Groups
from .panels import Atom
from .proof import Structure
from .sewn import SewnOnce

SEWN = frozenset(("seam", "facing", "closure"))
"""How an edge ends of which no part is left open; a closure beside a seam is on the finished edge."""


def closed_bags(structure: Structure, laid_on: Collection[str]) -> list[Fault]:
    """Bags of shell and lining every edge of which is sewn right sides together: the last of these seams lies inside, and nothing
    can be turned through. What is `laid_on` them, as a pocket, or is caught in a seam closes nothing."""
    pieces = {name: piece for name, piece in structure.pieces.items() if name not in laid_on}
    seams = [one for one in structure.sewn if {edge[0] for edge in one.seam.edges} <= set(pieces)]
    groups = Groups((name, n) for name, piece in pieces.items() for n in range(piece.count))
    groups.join_all([(one.edge[0], layer.panel) for one in seam.stretches() for layer in one.layers] for seam in seams)
    found: dict[str, Fault] = {}
    for row in groups.rows():
        names = {name for name, _ in row}
        joining = [one for one in seams if names.intersection(edge[0] for edge in one.seam.edges)]
        if _is_shut(structure, set(row)) and all(_turns(structure, one) for one in joining):
            closing = [one for one in joining if _lines(structure, one)]
            if closing:
                edges = (edge for one in closing for edge in one.seam.edges)
                lining = tuple(dict.fromkeys(owner for owner, _ in edges if owner in structure.inside))
                sentences = tuple(dict.fromkeys(one.seam.sentence for one in closing[::-1]))
                found.setdefault(sentences[0], Fault("closed_bag", sentences, pieces=lining))
    return list(found.values())


def _is_shut(structure: Structure, panels: Collection[tuple[str, int]]) -> bool:
    ends = [ways for atom, ways in _of(structure, panels)]
    marked = any(structure.pieces[name].said.openings for name, _ in panels)
    return not marked and all(
        any(one.how in ("seam", "facing") for one in ways) and all(one.how in SEWN for one in ways) for ways in ends
    )


def _of(structure: Structure, panels: Collection[tuple[str, int]]) -> Iterator[tuple[Atom, list[Ending]]]:
    return ((atom, [*ways]) for atom, ways in structure.endings.items() if (atom.piece, atom.panel) in panels)


def _turns(structure: Structure, seam: SewnOnce) -> bool:
    """Whether a seam is sewn right sides together all along, as far as its way of sewing says, or that of one it is caught in."""
    opened = any(one.seam == seam.name for one in structure.said.closures)
    return (seam.seam.is_turned or bool(seam.seam.caught_in)) and not opened


def _lines(structure: Structure, seam: SewnOnce) -> bool:
    """Whether a seam sews a lining to what it lies behind, and is no other's."""
    if seam.seam.caught_in:
        return False
    sides = [{one.edge[0] in structure.inside for one in run} for run in (seam.left, seam.right)]
    return sides in ([{True}, {False}], [{False}, {True}])
