"""Openings that are sewn shut: a seam runs over what a piece says is left open, as the mouth of a pocket in a side seam."""

from __future__ import annotations

from collections.abc import Collection, Mapping, Sequence

from ..geometry.length import length, point_at
from ..pattern.piece import Piece, Side
from ..pattern.which_ends import Name
from .faults import Fault
from .panels import CutPiece, Pieces
from .said import GarmentSaid
from .sewn import SewnOnce, Stretch
from .turned import is_on

ALONG = (0.5, 0.1, 0.9)
"""Where along an opening it is asked on which sides of the outline it lies, as shares of its length."""


def sewn_over(pieces: Pieces, said: GarmentSaid, made: Sequence[SewnOnce]) -> list[Fault]:
    """Each seam that shuts an opening: it runs on over one, or sews one to another. What a closure opens is not shut."""
    opened = {one.seam for one in said.closures}
    in_edges = {edge for one in said.closures for edge in one.edges}
    there = {name: found for name, piece in pieces.items() if (found := _openings(piece))}
    told: dict[str, Fault] = {}
    for seam in made:
        if seam.name in opened or in_edges.intersection(seam.seam.edges):
            continue
        for run, across in ((seam.left, seam.right), (seam.right, seam.left)):
            both = any(_shut(pieces, there, one, whole=True) for one in across)
            shut = [edge for one in run if (edge := _shut(pieces, there, one, both))]
            if shut:
                told.setdefault(seam.name, Fault("opening_shut", (seam.name,), tuple(shut)))
    return list(told.values())


def _shut(pieces: Pieces, there: Mapping[str, Mapping[str, Collection[int]]], stretch: Stretch, whole: bool) -> Name | None:
    """The opening over which an edge of a seam runs on; `whole`: or which it is."""
    owner, edge = stretch.edge
    sides = set(pieces[owner].along(edge))
    found = ((owner, name) for name, own in there.get(owner, {}).items() if sides & set(own) and (whole or not sides <= set(own)))
    return next(found, None)


def _openings(piece: CutPiece) -> dict[str, Collection[int]]:
    """The sides of a piece that are left open, by the name of the edge, of cloth by that of the mark."""
    cloth = piece.said.piece
    if cloth.is_sketch:
        return {edge: piece.along(edge) for edge in piece.said.openings if piece.along(edge)}
    slits = (line for line in cloth.lines if cloth.has_sign(line, "slit"))
    return {line.names[0]: found for line in slits if (found := _sides_under(cloth, line, piece.sides))}


def _sides_under(cloth: Piece, line: Side, sides: Sequence[int]) -> list[int]:
    """The sides of cloth on which a line lies, if it lies on its outline. Raises Disagreement."""
    found = list[int]()
    for share in ALONG:
        point = point_at(line.drawn, length(line.drawn) * share)
        under = next((i for i in (*found, *sides) if is_on(cloth.ring[i].drawn, point)), None)
        if under is None:
            return []
        found = found if under in found else [under, *found]
    return found
