"""The units a number may be written with: the kind it has then, and its value in millimetres, radians, shares or gsm."""

from __future__ import annotations

import math

from ..bodies.units import MM_PER
from ..syntax import tree as t
from ..verbs import kinds as k

UNITS = {"inch" if unit == "in" else unit: (k.LENGTH, mm) for unit, mm in MM_PER.items()}
UNITS |= {"m": (k.LENGTH, 1000.0), "deg": (k.ANGLE, math.pi / 180), "percent": (k.NUMBER, 0.01), "gsm": (k.WEIGHT, 1.0)}

DECIMALS = 9
"""Of mm, to which a written length is held: `2.2 cm` and `22 mm` are one length, to the bit."""


def measured(written: t.Quantity) -> tuple[k.Kind, float]:
    """The kind of a number that is written with a unit, and its value in mm, radians, shares or gsm."""
    kind, factor = UNITS[written.unit]
    value = written.value * factor
    return kind, round(value, DECIMALS) if kind == k.LENGTH else value
