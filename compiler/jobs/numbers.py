"""Numbers of bodies: one for each of them, and as a cutter reads them."""

from __future__ import annotations

from collections.abc import Callable, Sequence

import numpy as np

from ..bodies.units import MM_PER, Unit, inches_text
from ..pattern.piece import Reals

MOST_DECIMALS = 6
"""Beyond the first: what differs by less is told apart by nobody."""


def column(value: object, count: int) -> list[float]:
    """The numbers (L,) or (1,) of a value, one for each body."""
    numbers: list[float] = np.broadcast_to(np.asarray(value, dtype=np.float64), (count,)).tolist()
    return numbers


def number_at(value: Reals, lane: int) -> float:
    """The number of one body; a value of one lane stands for all."""
    return float(value[lane if value.shape[0] > 1 else 0])


def bare(mm: float, unit: Unit) -> str:
    """A length in a table: in mm, or in inches for a body measured so."""
    return inches_text(mm / MM_PER["in"]) if unit == "in" else f"{mm:.1f}"


def fine(mm: float, unit: Unit, digits: int = 1) -> str:
    """A length where a little decides: in mm, and before that in inches for a body measured so."""
    told = f"{mm:.{digits}f} mm"
    return f"{inches_text(mm / MM_PER['in'])} in ({told})" if unit == "in" else told


def in_unit(unit: Unit) -> Callable[[float], str]:
    """How lengths (mm) are said finely to the cutter of a body."""
    return lambda mm: fine(mm, unit)


def digits_in(unit: Unit) -> Callable[[float, int], str]:
    """The same, with so many decimals of a mm."""
    return lambda mm, digits: fine(mm, unit, digits)


def quantity(value: float, kind: str, unit: Unit = "mm", exact: bool = False, more: int = 0) -> str:
    """A number as a cutter reads it: `152.4 mm`, `21.5 deg`, `1.75`, `842.1 cm2`; for a body measured in inches `6 in`, and where
    a little decides, `exact`, `6 in (152.4 mm)`. `more` are decimals beyond those."""
    match kind:
        case "length":
            return fine(value, unit, 1 + more) if exact else f"{bare(value, unit)} {'in' if unit == 'in' else 'mm'}"
        case "angle":
            return f"{np.degrees(value):.{2 + more}f} deg"
        case "area":
            return area(value, unit)
        case _:
            return f"{value:.{4 + more}g}"


def told_apart(values: Sequence[tuple[str, float]], unit: Unit) -> list[str]:
    """Kinds and numbers that do not agree as they should, with as many decimals as tell them apart, and from nothing."""
    said = [quantity(value, kind, unit, True) for kind, value in values]
    for more in range(1, MOST_DECIMALS):
        nothing = [quantity(0.0, kind, unit, True, more - 1) for kind, _ in values]
        lost = any(one == none and value for one, none, (_, value) in zip(said, nothing, values, strict=True))
        if len(set(said)) == len(set(values)) and not lost:
            break
        said = [quantity(value, kind, unit, True, more) for kind, value in values]
    return said


def area(mm2: float, unit: Unit) -> str:
    """`842.1 cm2`, or `130.5 square in` for a body measured in inches."""
    return f"{mm2 / MM_PER['in'] ** 2:.1f} square in" if unit == "in" else f"{mm2 / 100:.1f} cm2"
