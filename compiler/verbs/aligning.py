"""How the sizes of a piece are laid on one another, in a nested drawing and where growth is measured."""

from __future__ import annotations

from dataclasses import replace
from typing import Any

import numpy as np

from ..geometry.lanes import norm, unit
from ..geometry.tolerances import COINCIDE
from ..pattern.edges import edge_path
from ..pattern.piece import Aligned, Piece, Trouble
from .finishing import spot, spot_on
from .kinds import piece
from .registry import verb, word


@verb(
    "sizes_meet_on",
    family="finish",
    doc="How the sizes of a piece are laid on one another in a nested drawing, and where its growth is measured from: a spot on "
    "an edge, and an edge or line that points the same way in all sizes; the grain where none is named. Where nothing is said, a "
    "piece with a centre lies at the upper end of it and along it, a sleeve at its `crown`, a panel in the middle of its waist "
    "or of the edge above its hip, any other at the first corner of its first edge; the drawing tells which.",
    gives=lambda static: piece(static["piece"].sketch),
    statement=True,
    subject=word("edge", "own edge", "the edge, at the spot that all sizes share", place=spot("spot")),
    words=(word("along", "own edge", "the edge or line whose straight from end to end lies the same", optional=True),),
    example="sizes_meet_on neckline at centre along centre",
)
def align(piece: Piece, subject: str, along: str | None = None, **place: Any) -> Piece:
    at = spot_on(piece, subject, "spot", place)
    way = None
    if along is not None:
        paths = edge_path(piece, along)
        between = paths[-1].end - paths[0].start
        nowhere = norm(between) <= COINCIDE
        if nowhere.any():
            raise Trouble(f"`{along}` ends where it starts: it has no direction", "name another edge behind `along`", nowhere)
        straight = unit(between)
        way = straight[:, 0] + 1j * straight[:, 1]
    told = f"{_where(subject, place)}, along {_spoken(along) if along else 'the grain'}"
    return replace(piece, finish=replace(piece.finish, aligned=Aligned(at, way, told)))


def _where(edge: str, place: Any) -> str:
    """The spot in words: `neckline by centre` for a corner, else the edge."""
    end = place.get("spot_end")
    alone = end is not None and place.get("spot_share") is None and not place.get("spot_at", np.zeros(1)).any()
    return f"{_spoken(edge)} by {_spoken(end)}" if alone else f"a spot on {_spoken(edge)}"


def _spoken(name: str) -> str:
    return name.replace("_", " ").replace(".", " ")
