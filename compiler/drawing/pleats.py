"""Pleats: arrows from each fold to the line it is laid on."""

from __future__ import annotations

import numpy as np

from ..geometry.length import length, point_at
from ..geometry.path import Path
from ..pattern.piece import Piece
from .marks import Mark, Reals
from .signs import HEAD, arrow

FROM_END = 30.0
"""How far (mm) from the ends of its fold line an arrow stands, clear of the notches."""

NARROWEST = 1.0
"""Across less than this (mm), as at the end of a pleat that runs out, an arrow would be a dot."""


def pleat_arrows(piece: Piece) -> list[Mark]:
    """Two arrows for each fold that is laid on a line, one near each end, alike on narrow tucks and on deep pleats."""
    marks: list[Mark] = []
    for name, sign in sorted(piece.signs.items()):
        if sign.kind != "fold" or not sign.toward:
            continue
        folds, laid = piece.sides(name), piece.sides(sign.toward)
        if len(folds) != 1 or len(laid) != 1:  # one that was cut through later leads nowhere
            continue
        long = float(length(folds[0].drawn)[0])
        for share in (min(FROM_END / long, 0.3), 1.0 - min(FROM_END / long, 0.3)):
            tail, tip = _spot(folds[0].drawn, share), _spot(laid[0].drawn, share)
            wide = float(np.linalg.norm(tip - tail))
            if wide > NARROWEST:
                marks += arrow("inner", tail, tip, source=name, head=min(HEAD, wide / 2))
    return marks


def _spot(path: Path, share: float) -> Reals:
    spot: Reals = point_at(path, share * length(path))[0]
    return spot
