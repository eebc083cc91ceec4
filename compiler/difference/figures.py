"""Lengths as they are said of a difference: moves to a tenth of a mm, places and lengths in cm; of a body in inches sixteenths,
with the mm behind."""

from __future__ import annotations

from dataclasses import dataclass

from ..bodies.units import MM_PER, SIXTEENTHS, Unit, inches_text, plain
from ..geometry.tolerances import FLAT

LEAST_INCH = MM_PER["in"] / SIXTEENTHS / 2.0
"""Less than this (mm) is no sixteenth of an inch."""


@dataclass(frozen=True)
class Figures:
    """How lengths, mm, are said to the cutter of a body."""

    unit: Unit = "cm"

    def moved(self, mm: float) -> str:
        """`12.8 mm`; `1/2 in (12.8 mm)`; what is less than a tenth with one more decimal, and never in inches."""
        if self.unit == "in" and mm >= LEAST_INCH:
            return f"{self._sixteenths(mm)} in ({_tenths(mm)} mm)"
        return f"{_tenths(mm)} mm"

    def place(self, mm: float) -> str:
        """`2.0 cm`; `13/16 in`."""
        return f"{self._sixteenths(mm)} in" if self.unit == "in" else f"{mm / MM_PER['cm']:.1f} cm"

    def width(self, mm: float) -> str:
        """Of an allowance: `1 cm`, `0.6 cm`; `3/8 in`."""
        return self.place(mm) if self.unit == "in" else f"{plain(mm / MM_PER['cm'], 2)} cm"

    def bare(self, mm: float) -> str:
        """In a table of mm: `12.8`, `-7.2`, `0`; `1/2 in, 12.8`."""
        if abs(mm) <= FLAT:
            return "0"
        return f"{self._sixteenths(mm)} in, {_tenths(mm)}" if self.unit == "in" and abs(mm) >= LEAST_INCH else _tenths(mm)

    @staticmethod
    def _sixteenths(mm: float) -> str:
        return inches_text(round(mm / MM_PER["in"] * SIXTEENTHS) / SIXTEENTHS)


def _tenths(mm: float) -> str:
    return f"{mm:.2f}" if abs(mm) < 0.095 else f"{mm:.1f}"
