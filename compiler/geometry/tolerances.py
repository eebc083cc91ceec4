"""The table of tolerances, in millimetres unless said otherwise, each with its reason. Nowhere else are any named.

What the trade can hold, for comparison: a plotter repeats to about 0.1 mm, a pencil line is 0.3 to 0.5 mm wide,
scissors follow a line to about 1 mm, and cloth sewn by hand or machine lies within 1 to 2 mm of its seam line.
"""

from typing import Final

ON_JOINT: Final = 1e-9
"""Two positions along a path are the same: a thousand times the rounding of a metre in float64."""

MEET: Final = 1e-7
"""Residual below which a computed crossing counts as one: Newton ends far below it, a near miss far above."""

COINCIDE: Final = 1e-6
"""Two points are one: a millionth of what scissors hold, still far above accumulated rounding of a draft."""

ROUNDING: Final = 1e-9
"""A number, share or length beyond a bound by no more than this lies on it: what is left of rounding decides nothing."""

DECIDES: Final = 1e-6
"""Two sides of a check (mm, radians, bare) closer than this are even, and a count as near to a whole number is whole."""

FLAT: Final = 0.01
"""Largest gap between a curve and its chords when it is flattened for a sheet: a tenth of a plotter step."""

SEW: Final = 0.5
"""Two seam lines of this difference in length sew together without notice: the width of a pencil line."""

NOTCHED: Final = 2.0
"""Two notches further apart than this along a seam do not meet: what cloth sewn by hand or machine is off by at most."""

TRUED: Final = 2.0
"""A trued edge further than this from what it replaces changes the fit: it is reported."""

SHIFTED: Final = 1.0
"""A named place that moves further than this with its edge is reported: scissors follow a line to that."""

PARALLEL: Final = 1e-9
"""Sine of the angle (no unit) below which two directions have no crossing worth naming."""

STRAIGHTISH: Final = 1e-7
"""Curvature (1/mm) that counts as none: a radius of ten kilometres."""

SHALLOW_DEGREES: Final = 5.0
"""Crossings flatter than this (degrees) are ill-conditioned: they are searched for again with finer chords."""
