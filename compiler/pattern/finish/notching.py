"""The strokes of a notch: from the cut line square to the sewing line."""

from __future__ import annotations

import numpy as np

from ...geometry.lanes import FloatArray
from ...geometry.length import length, place_at
from ...geometry.tolerances import COINCIDE
from ..piece import Notch
from .allowance import Cloth
from .corners import outward

APART = 5.0
"""Between the strokes of a double or triple notch, mm: far enough to count with scissors in hand."""

INTO_CLOTH = 4.0
"""Where there is no allowance to cut into, the stroke is drawn this far (mm) into the cloth instead."""


def notch_strokes(cloth: Cloth, notch: Notch) -> FloatArray:
    """Strokes (L, strokes, 2, 2), mm: each from its outer to its inner end, side by side about the notch.

    At a corner of the sewing line a stroke leads to that of the cut line.
    """
    path = cloth.piece.ring[notch.side].drawn
    width = cloth.widths[notch.side]
    total = length(path)
    strokes = []
    for k in range(notch.strokes):
        s = np.clip(notch.at + (k - (notch.strokes - 1) / 2) * APART, 0.0, total)
        foot, way = place_at(path, s)
        reach = np.where(width > 0.0, width, -INTO_CLOTH)[:, None]
        outer = foot + reach * outward(way)
        for number, ends in ((notch.side, s >= total - COINCIDE), (notch.side - 1, s <= COINCIDE)):
            corner = cloth.closing[number % len(cloth.closing)]
            if corner is not None and (width > 0.0).all():
                outer = np.where(ends[:, None], corner[:, corner.shape[1] // 2], outer)
        strokes.append(np.stack(np.broadcast_arrays(outer, foot), axis=1))
    return np.stack(strokes, axis=1)
