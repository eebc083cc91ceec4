"""Which sentences of a style make an edge of its block longer or shorter: the neck lowered, the armhole deepened."""

from __future__ import annotations

import itertools
from collections.abc import Iterator

import numpy as np

from ..geometry.tolerances import SEW
from ..graph.evaluate import Part
from ..meaning.payloads import Followed
from ..meaning.style import CheckedStyle, made_from
from ..pattern.ends import halves_of, length_of_half
from ..pattern.piece import Piece, Reals

Change = tuple[str, Reals]
"""A definition of the style, and by how much (L,) mm it makes an edge longer."""


def changes(style: CheckedStyle, part: Part, start: int) -> list[Change]:
    """What sentences of the style did to the edges a length is followed along, from its block to the pieces that are cut."""
    node = style.nodes[start]
    if not isinstance(node.payload, Followed):
        return [one for arg in node.args.values() for one in changes(style, part, arg)]
    edge, owner = node.payload.name, node.payload.owner
    names = {at: name for name, at in style.names.items() if "." not in name}
    ways = [way_from(style, one, owner) for one in node.args.values()]
    shared = [at[0] for at in zip(*ways, strict=False) if len(set(at)) == 1]
    steps = list(_steps(part, edge, [at for at in shared if at == owner or at in names or at == shared[-1]]))
    if len(ways) > 1:  # divided: its parts together
        whole = (length_of_half(piece, edge) for way in ways if isinstance(piece := part.values[way[-1]], Piece))
        steps.append((ways[0][-1], np.asarray(sum(whole, np.zeros(1)))))
    return [
        (next((names[one] for one in ways[0][ways[0].index(at) :] if one in names), ""), after - before)
        for (_, before), (at, after) in itertools.pairwise(steps)
        if (np.abs(after - before) > SEW).any()
    ]


def _steps(part: Part, edge: str, way: list[int]) -> Iterator[tuple[int, Reals]]:
    """The length (L,) of an edge on each piece that has it, of those a style has names for."""
    for at in way:
        piece = part.values.get(at)
        if isinstance(piece, Piece) and halves_of(piece, edge):
            yield at, length_of_half(piece, edge)


def way_from(style: CheckedStyle, start: int, owner: int) -> list[int]:
    """The pieces from that of a block to one that is made of it, by the shortest way."""
    came: dict[int, int] = {start: start}
    waiting = [start]
    for index in waiting:
        if index == owner:
            break
        for arg in (one for one in made_from(style.nodes, index) if one not in came):
            came[arg] = index
            waiting.append(arg)
    way = [owner] if owner in came else []
    while way and way[-1] != start:
        way.append(came[way[-1]])
    return way
