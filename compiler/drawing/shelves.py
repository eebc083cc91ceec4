"""Rows of pieces on a page, as on shelves."""

from __future__ import annotations

import numpy as np

from ..geometry.tolerances import COINCIDE
from .marks import Reals

APART = 5.0
"""Between pieces, mm."""


class Shelf:
    """Pieces beside each other, smaller ones below each other: columns with their left side, their width, and how far down they
    are full."""

    def __init__(self, top: float, height: float) -> None:
        self.top, self.bottom = top, top - height
        self.columns: list[tuple[float, float, float]] = []

    def place(self, wide: float, high: float, width: float) -> Reals | None:
        """The upper left corner (2,) for what is so large, or None."""
        for k, (x, column, low) in enumerate(self.columns):
            may_grow = k == len(self.columns) - 1 and x + wide <= width
            if low - APART - high >= self.bottom - COINCIDE and (wide <= column or may_grow):
                self.columns[k] = (x, max(wide, column), low - APART - high)
                return np.array([x, low - APART])
        x = self.columns[-1][0] + self.columns[-1][1] + APART if self.columns else 0.0
        if x + wide > width or high > self.top - self.bottom + COINCIDE:
            return None
        self.columns.append((x, wide, self.top - high))
        return np.array([x, self.top])
