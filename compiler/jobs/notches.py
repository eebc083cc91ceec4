"""Notches that a declared seam gets for free: at half of a joined edge, at the quarters of a gathered or eased one.

They lie at equal shares of both edges, so they match whichever end is pinned first. The same number of strokes on both
sides: one for a seam of fronts, two where a back takes part (common practice, no source).
"""

from __future__ import annotations

from dataclasses import replace

import numpy as np

from ..pattern.edges import edge_length
from ..pattern.piece import Piece
from ..verbs.finishing import notched
from .outcome import BodyResult, PieceResult, SeamResult

SHARES = {"joins": (1 / 2,), "eases": (1 / 4, 1 / 2, 3 / 4), "gathers": (1 / 4, 1 / 2, 3 / 4)}
SHORTEST = 60.0  # mm; a shorter seam is pinned at its ends


def with_seam_notches(result: BodyResult) -> tuple[PieceResult, ...]:
    """The pieces of one body with the notches of their seams; each piece has this body alone."""
    alone = [replace(one, piece=one.piece.take(np.array([one.lane])), lane=0) for one in result.pieces]
    pieces = {one.name: one.piece for one in alone}
    for seam in result.seams:
        if min(seam.left_mm, seam.right_mm) >= SHORTEST:
            _notch(pieces, seam)
    return tuple(replace(one, piece=pieces[one.name]) for one in alone)


def _notch(pieces: dict[str, Piece], seam: SeamResult) -> None:
    """Notch both sides of a seam of two single edges; a run of edges is matched at its corners."""
    if len(seam.left) > 1 or len(seam.right) > 1:
        return
    owners = [name.split(".")[0] for name in (*seam.left, *seam.right)]
    strokes = 2 if any("back" in owner.split("_") for owner in owners) else 1
    for name in (*seam.left, *seam.right):
        owner, _, edge = name.partition(".")
        piece = pieces.get(owner)
        if piece is None or not piece.run(edge):
            continue
        total = edge_length(piece, edge)
        for share in SHARES[seam.how]:
            piece = notched(piece, edge, total * share, "start", strokes, seam.name)
        pieces[owner] = piece
