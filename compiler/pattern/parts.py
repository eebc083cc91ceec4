"""Both parts of a divided piece, known without a body, and the names that tell one from the other."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

from .piece import Piece, Trouble


@dataclass(frozen=True)
class Part:
    """One part: the edge it is found by, its sketch, and the names of edges, darts, lines and points that only it has."""

    keep: str
    sketch: Piece
    own: tuple[str, ...]


def parts_of(piece: Piece, part_with: Callable[[str], Piece]) -> tuple[Part, ...]:
    """The parts of a divided sketch, each found by the first edge that tells it apart; `part_with` gives that with an edge.

    Of two parts that end on the same edge, cut out of it, the one without any other edge is told by that. A part whose edges
    the other all has too is not among them. Trouble where the piece cannot be divided so at all.
    """
    found: dict[tuple[tuple[str, ...], ...], tuple[str, Piece]] = {}
    wrong: Trouble | None = None
    for edge in dict.fromkeys(name for side in piece.ring for name in side.names if "." not in name):
        try:
            part = part_with(edge)
        except Trouble as trouble:
            wrong = wrong or trouble
            continue
        if edge not in part.uncertain:  # else it lies along one that is cut in two
            found.setdefault(tuple(side.names for side in part.ring), (edge, part))
    if wrong is not None and not found:
        raise wrong
    return tuple(Part(edge, one, _own(edge, one, [other for _, other in found.values()])) for edge, one in found.values())


def names_of(piece: Piece) -> tuple[str, ...]:
    """Whole edges, darts, inner lines and points, in the order of the piece."""
    names = (*piece.edge_names(), *piece.dart_names(), *piece.points)
    return tuple(dict.fromkeys(name for name in names if "." not in name))


def _own(edge: str, piece: Piece, parts: list[Piece]) -> tuple[str, ...]:
    others = {name for other in parts if other is not piece for name in names_of(other)}
    return (edge, *(name for name in names_of(piece) if name not in {edge, *others, *piece.uncertain}))
