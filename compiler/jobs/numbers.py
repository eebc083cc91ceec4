"""Numbers of bodies: one for each of them, and as a cutter reads them."""

from __future__ import annotations

import numpy as np

from ..pattern.piece import Reals


def column(value: object, count: int) -> list[float]:
    """The numbers (L,) or (1,) of a value, one for each body."""
    numbers: list[float] = np.broadcast_to(np.asarray(value, dtype=np.float64), (count,)).tolist()
    return numbers


def number_at(value: Reals, lane: int) -> float:
    """The number of one body; a value of one lane stands for all."""
    return float(value[lane if value.shape[0] > 1 else 0])


def quantity(value: float, kind: str) -> str:
    """A number as a cutter reads it: `152.4 mm`, `21.5 deg`, `1.75`, `842.1 cm2`."""
    match kind:
        case "length":
            return f"{value:.1f} mm"
        case "angle":
            return f"{np.degrees(value):.2f} deg"
        case "area":
            return f"{value / 100:.1f} cm2"
        case _:
            return f"{value:.4g}"
