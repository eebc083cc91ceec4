"""What lies beyond a seam once it is sewn: the other piece's cut line, laid on this piece's side of the paper."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from ..geometry.curve import parallel
from ..geometry.lanes import FloatArray, cross, dot
from ..geometry.motion import apply_points, mirror_points, rotation, then, translation
from ..geometry.path import CUT_CHORDS, end_direction, start_direction
from ..pattern.piece import Piece, Side
from ..pattern.ring import edge_run
from .stated import allowance_of


@dataclass(frozen=True)
class SeamEnd:
    """An end of an edge that is sewn: its end as travelled, or its start."""

    piece: Piece
    edge: str
    at_end: bool

    @property
    def side(self) -> Side:
        numbers = edge_run(self.piece, self.edge)
        return self.piece.ring[numbers[-1] if self.at_end else numbers[0]]

    @property
    def beside(self) -> Side | None:
        """The side it meets there; None where a dart does."""
        numbers, count = edge_run(self.piece, self.edge), len(self.piece.ring)
        i = (numbers[-1] + 1) % count if self.at_end else (numbers[0] - 1) % count
        return None if i in self.piece.dart_sides() else self.piece.ring[i]

    @property
    def corner(self) -> FloatArray:
        return self.side.drawn.end if self.at_end else self.side.drawn.start

    @property
    def into(self) -> FloatArray:
        """The direction (L, 2) from the corner along the seam."""
        return -end_direction(self.side.drawn) if self.at_end else start_direction(self.side.drawn)


def cut_beyond(here: SeamEnd, there: SeamEnd) -> FloatArray | None:
    """The cut line (L, n, 2) of the edge beside the other end of a seam, from the corner outward, as it lies when the seam is
    sewn and opened flat: the seam lines touch at the corner and run the same way there. None where a dart stands there.

    Pieces of which one is cut mirrored are laid so too: of two ends that both end, or both start, an edge, one is turned over.
    """
    beside = there.beside
    if beside is None:
        return None
    points = parallel(beside.drawn, -allowance_of(there.piece, beside).width, CUT_CHORDS)
    points = points if there.at_end else points[:, ::-1]
    if here.at_end == there.at_end:
        points = mirror_points(there.corner, there.corner + there.into, points)
    angle = np.arctan2(cross(there.into, here.into), dot(there.into, here.into))
    return apply_points(then(rotation(there.corner, angle), translation(here.corner - there.corner)), points)
