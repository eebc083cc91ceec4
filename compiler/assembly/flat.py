"""What is sewn on a panel while it lies flat, and so before what joins that panel to others."""

from __future__ import annotations

from collections.abc import Collection, Iterator

from .panels import Pieces
from .proof import Structure
from .sewn import SewnOnce


def sewn_flat(structure: Structure, bags: frozenset[str]) -> Iterator[tuple[str, str]]:
    """Seams on a line inside a panel, and by which a layer of a bag goes on an edge, each with the seams of that panel that come
    after it. `bags` are those that are of the outer cloth."""
    layered = {one.left[0].edge[0] for one in structure.sewn if one.half and one.seam.left == one.seam.right}
    caught = layered & (structure.inside | bags)
    on = [(one, _lies_on(structure.pieces, one, caught)) for one in structure.sewn]
    flat = {(one.name, piece) for one, piece in on if piece}
    for name, piece in dict.fromkeys((one.name, piece) for one, piece in on if piece):
        for other in dict.fromkeys(one.name for one in structure.sewn if piece in (each.edge[0] for each in one.stretches())):
            if (other, piece) not in flat:
                yield name, other


def _lies_on(pieces: Pieces, one: SewnOnce, caught: Collection[str]) -> str:
    """The piece on which something is sewn flat by a seam, empty where it joins edges."""
    for run, across in ((one.left, one.right), (one.right, one.left)):
        if len(across) == 1:
            owner, edge = across[0].edge
            is_bag = owner not in caught and bool(run) and all(each.edge[0] in caught for each in run)
            if is_bag or not pieces[owner].said.piece.run(edge):
                return owner if any(each.edge[0] != owner for each in run) else ""
    return ""
