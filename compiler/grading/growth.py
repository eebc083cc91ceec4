"""How much each point of a piece moves from one size to the next, as its sizes are laid on one another."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from .run import Reals

FINE = 1000
"""Places are taken to a thousandth of a mm, so that the steps of a point add up to the last digit."""

UNEVEN = 0.5
"""Steps of a point that differ by more than this (mm) are uneven."""


@dataclass(frozen=True, eq=False)
class PointGrowth:
    """A point over sizes: its `places` (sizes, 2) in thousandths of a mm, whole numbers, across to the right and up."""

    name: str
    places: NDArray[np.int64]

    @property
    def steps(self) -> Reals:
        """From each size to the next, mm (sizes - 1, 2)."""
        return np.diff(self.places, axis=0) / FINE

    def from_sample(self, sample: int) -> Reals:
        """Of every size from the sample, mm (sizes, 2)."""
        found: Reals = (self.places - self.places[sample]) / FINE
        return found


def growth(points: Mapping[str, Reals]) -> tuple[PointGrowth, ...]:
    """The growth of points, each (sizes, 2), mm, as they are laid on the sample."""
    return tuple(PointGrowth(name, np.rint(rows * FINE).astype(np.int64)) for name, rows in points.items())
