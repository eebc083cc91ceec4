"""Facings: strips of a piece along its edges."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from ..pattern.facing import facing as strip
from ..pattern.piece import Piece, Reals
from .kinds import PieceKind, piece
from .registry import verb, word


def _names(static: Mapping[str, Any]) -> PieceKind:
    first = static["along"]
    called = static.get("calling_the_new_edge", "inner_edge")
    last, passing = static.get("to", first), static.get("passing")
    return piece(strip(static["subject"].sketch, first, last, passing, depth=None, called=called))


@verb(
    "facing",
    family="facings",
    doc="The strip of a piece along an edge, or from one edge to another over those between; its inner edge runs parallel. "
    "A point longer than twice the depth, as of a V neck, is cut off. Kept: the edges it lies on, and what is left of those "
    "at its ends. Darts that stand on these edges are shut.",
    gives=_names,
    subject=word("piece", "piece", "the piece it is traced from"),
    words=(
        word("along", "own edge", "the edge it lies on, or the first of them"),
        word("to", "own edge", "the last of them; the way with fewer edges is taken", optional=True),
        word("passing", "own edge", "an edge it passes, to tell the way round", optional=True),
        word("depth", "length", "how deep it is, square to its edges"),
        word("calling_the_new_edge", "new name", "name of its inner edge; `inner_edge` where nothing is said", optional=True),
    ),
    example="shape neck_facing = facing base.front along neckline depth 5 cm",
)
def facing(
    subject: Piece,
    along: str,
    depth: Reals,
    to: str | None = None,
    passing: str | None = None,
    calling_the_new_edge: str | None = None,
) -> Piece:
    return strip(subject, along, to or along, passing, depth=depth, called=calling_the_new_edge or "inner_edge")
