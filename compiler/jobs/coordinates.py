"""Lines of a finished piece of one body as points (n, 2) in mm, x right, y up."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np

from ..finish.finished import FinishedPiece
from ..geometry.lanes import FloatArray
from ..geometry.path import Path, flatten_within, thinned
from ..geometry.tolerances import COINCIDE
from ..pattern.edges import edge_path
from ..pattern.piece import Piece

WITHIN = 0.05
"""How far a flattened line may lie from its curve, mm."""


def outline(piece: Piece) -> FloatArray:
    """The sewing line, anticlockwise, first point not repeated."""
    return _closed([side.drawn for side in piece.ring])


def holes(piece: Piece) -> list[FloatArray]:
    """What is cut out of it or folded away inside it, each closed, clockwise."""
    return [_closed([side.drawn for side in hole.sides]) for hole in piece.holes]


def edge_points(piece: Piece, name: str) -> FloatArray:
    """An edge, an inner line or a dart's leg from end to end, as its ring runs; what folds or opens in it is left out."""
    parts = [flatten_within(path, WITHIN) for path in edge_path(piece, name)]
    return thinned(np.concatenate(parts))


def cut_points(cloth: FinishedPiece) -> FloatArray:
    """The cut line, anticlockwise, first point not repeated."""
    ring = thinned(cloth.cut[0])
    return ring[:-1] if np.abs(ring[0] - ring[-1]).max() < COINCIDE else ring


def _closed(paths: Sequence[Path]) -> FloatArray:
    return np.concatenate([flatten_within(path, WITHIN)[:-1] for path in paths])
