"""Places on an edge of a piece, as verbs are given them: so far or such a share from an end, or nearest to a point."""

from __future__ import annotations

from ..geometry.length import nearest
from ..geometry.path import chain
from ..pattern.edges import edge_from, edge_path
from ..pattern.piece import Piece, Reals
from ..pattern.ring import End, edge_total


def along(
    piece: Piece,
    edge: str,
    end: str | None,
    at: Reals | None = None,
    share: Reals | None = None,
    near: Reals | None = None,
) -> tuple[Reals, End]:
    """How far (L,) mm along an edge a place lies, and from which end; `end` names what the edge meets there."""
    if near is not None:
        return nearest(chain(edge_path(piece, edge)), near)[0], "start"
    assert end is not None
    place = at if share is None else share * edge_total(piece, edge)
    assert place is not None
    return place, edge_from(piece, edge, end)
