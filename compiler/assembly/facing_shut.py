"""Facings that are sewn shut, or go on whole, across the end of a closure: it opens the edge they lie on, and they hold it
together."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence

from .closures import Closing
from .endings import edges_of
from .faults import Fault
from .panels import Atom
from .proof import Structure
from .surface import Surface
from .ways import Meeting


def facings_shut(structure: Structure, made: Surface, found: Sequence[Closing], met: Iterable[Meeting]) -> list[Fault]:
    """Each closure at whose upper end the free ends of a facing are sewn to each other. Of cloth: which end is the upper one no
    sketch knows."""
    opens = {atom: one.closure.name for one in found if one.upper for atom in _at_upper_end(made, one)}
    opened = {one.seam for one in structure.said.closures}
    told: dict[tuple[str, str], Fault] = {}
    for one in met:
        for here, there in ((0, 1), (1, 0)):
            beside, across = one.beside[here], one.beside[there]
            if beside is None or across not in opens or one.own[here].piece not in structure.inside:
                continue
            for seam in (end.sentence for end in structure.endings[beside] if end.how == "seam"):
                if seam in opened or not structure.inside.issuperset(_owners(structure, seam)):
                    continue
                edge = beside.piece, edges_of(structure.pieces, beside.piece, {beside.side})[0]
                told.setdefault((opens[across], seam), Fault("facing_shut", (seam, opens[across]), (edge,)))
    return list(told.values())


def facings_whole(structure: Structure, made: Surface, found: Sequence[Closing], met: Iterable[Meeting]) -> list[Fault]:
    """Each closure over whose upper end a facing goes on in one, on its fold: there nothing is between its halves that could
    open."""
    opens = {atom: one.closure.name for one in found if one.upper for atom in _at_upper_end(made, one)}
    told: dict[tuple[str, str], Fault] = {}
    for one in met:
        for here, there in ((0, 1), (1, 0)):
            own, across = one.own[here].piece, one.beside[there]
            on_fold = one.beside[here] is None and structure.pieces[own].folds_open
            if on_fold and own in structure.inside and across in opens:
                edge = edges_of(structure.pieces, own, {one.own[here].side})[0]
                told.setdefault((opens[across], own), Fault("facing_whole", (own, opens[across]), ((own, edge),)))
    return list(told.values())


def _owners(structure: Structure, name: str) -> set[str]:
    seam = structure.said.seam(name)
    return {owner for owner, _ in seam.edges} if seam else set()


def _at_upper_end(made: Surface, one: Closing) -> Iterator[Atom]:
    """The sides, on both sides of the seam a closure is set into, that end at its upper end."""
    at = -1 if one.climbs else 0
    yield one.run[at][0]
    for glued in made.glued:
        if glued.left == one.run:
            yield glued.right[at][0]
