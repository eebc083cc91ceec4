"""The order that layers ask for which are turned right side out, and ends that are taken along in the seam they end at."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence

from .endings import Ending, Endings
from .panels import Atom
from .proof import Structure
from .ways import Meeting


def turned_through(structure: Structure, is_later: Callable[[str, str], bool]) -> Iterator[tuple[str, str]]:
    """Seams of two layers of a piece with each other, each with the seams that shut the opening by which these are turned: of the
    edges where both layers go into one seam those that are sewn last, as the neck edge of a stand whose upper edge holds the
    collar. `is_later` is whether a seam is known to come after another; of those of which nothing tells the last is taken as
    written."""
    for name in structure.pieces:
        layered = [one for one in structure.sewn if any(s.edge[0] == name and len(s.layers) > 1 for s in one.stretches())]
        own = [one for one in structure.sewn if one.seam.left == one.seam.right and one.left != one.right]
        own = [one for one in own if one.left[0].edge[0] == name and not structure.pieces[name].cut.mirrored]
        sides: dict[str, set[int]] = {}
        for one in layered:
            edges = (stretch.edge[1] for stretch in one.stretches() if stretch.edge[0] == name)
            sides.setdefault(one.name, set()).update(side for edge in edges for side in structure.pieces[name].along(edge))
        if own and sides:
            last = [seam for seam in sides if not any(is_later(other, seam) for other in sides)][-1]
            for seam in dict.fromkeys(one.name for one in own):
                yield from ((seam, other) for other in _joined(structure, name, sides, last))


def _joined(structure: Structure, name: str, sides: dict[str, set[int]], last: str) -> list[str]:
    """The seams whose edges of a piece follow each other up to those of one of them."""
    found, piece = [last], structure.pieces[name]
    grown = True
    while grown:
        held = {side for seam in found for side in sides[seam]}
        near = held | {number for side in held for number in piece.beside([side])}
        more = [seam for seam in sides if seam not in found and sides[seam] & near]
        found, grown = found + more, bool(more)
    return found


def taken_along(structure: Structure, met: Sequence[Meeting]) -> Iterator[tuple[str, str]]:
    """Seams at whose end one side goes on into another seam while the other has an end held by a way of sewing that turns
    nothing: that end is taken along in the other seam, as that of a binding in the shoulder seam."""
    said, ends = structure.said, structure.endings
    opened = {one.seam for one in said.closures}
    turning = {one.name for one in said.sewing if one.turns}
    for one in (each for each in met if not each.runs_straight(structure.pieces)):
        for here, there in (one.beside, one.beside[::-1]):
            across = _seam_of(ends, there)
            if across not in ("", one.seam.name, *opened) and _is_held(ends.get(here, ()) if here else (), turning):
                yield one.seam.name, across


def _is_held(how: Sequence[Ending], turning: set[str]) -> bool:
    return bool(how) and all(one.how == "way" and one.sentence not in turning for one in how)


def _seam_of(ends: Endings, atom: Atom | None) -> str:
    return next((end.sentence for end in ends.get(atom, ()) if end.how == "seam"), "") if atom is not None else ""
