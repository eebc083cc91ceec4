"""Where a wide dart is trimmed once it is sewn: lines beside its legs, and the words for them."""

from __future__ import annotations

import numpy as np

from ..finish.finished import FinishedPiece
from ..finish.notching import reach
from ..pattern.darts import is_open_below
from ..pattern.piece import Dart, Piece
from .marks import Line, Mark, Reals

TRIMMED = 50.0
"""A dart wider than this (mm) at its mouth is too thick to be pressed to one side: it is trimmed (common practice, no source)."""

LEFT = 15.0
"""So much (mm) is left beside each leg then (common practice, no source)."""

WORDS = "trim along the inner line once sewn"


def is_trimmed(piece: Piece, dart: Dart) -> bool:
    """Whether a dart of a piece of one lane is so wide."""
    _, first, second = _spots(piece, dart)
    return not is_open_below(piece, dart) and float(np.linalg.norm(second - first)) > TRIMMED


def trim_marks(cloth: FinishedPiece, dart: Dart) -> list[Mark]:
    """The line along which a wide dart is trimmed, from the cut edge beside one leg down toward the apex and up the other."""
    if not is_trimmed(cloth.piece, dart):
        return []
    apex, *mouths = _spots(cloth.piece, dart)
    legs = [(mouth - apex) / np.linalg.norm(mouth - apex) for mouth in mouths]
    middle = legs[0] + legs[1]
    middle = middle / np.linalg.norm(middle)
    turn = apex + middle * LEFT / float(np.sqrt(1.0 - (legs[0] @ middle) ** 2))
    far = [reach(cloth.cut[0], turn, leg) for leg in legs]
    ends = [turn + leg * along for leg, along in zip(legs, far, strict=True) if along is not None]
    if len(ends) < len(legs):  # so short that nothing of it is left beyond the line
        return []
    return [Line("guide", np.stack([ends[0], turn, ends[1]]), source=dart.name)]


def _spots(piece: Piece, dart: Dart) -> tuple[Reals, Reals, Reals]:
    """The apex of a dart and the ends of its legs on the edge."""
    legs = piece.sides(dart.first), piece.sides(dart.second)
    return legs[0][-1].drawn.end[0], legs[0][0].drawn.start[0], legs[1][-1].drawn.end[0]
