"""The units a number may be written with: the kind it has then, and its value in millimetres, radians, shares or gsm."""

from __future__ import annotations

import math

from ..bodies.units import MM_PER
from ..verbs import kinds as k

UNITS = {"inch" if unit == "in" else unit: (k.LENGTH, mm) for unit, mm in MM_PER.items()}
UNITS |= {"m": (k.LENGTH, 1000.0), "deg": (k.ANGLE, math.pi / 180), "percent": (k.NUMBER, 0.01), "gsm": (k.WEIGHT, 1.0)}
