"""A value read off the rows of a table, over lanes."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np
from numpy.typing import ArrayLike

from ..pattern.piece import Reals, Trouble

BETWEEN = ("straight", "nearest", "row_below", "row_above")
BEYOND = ("held", "straight", "refused")


def read_off(by: ArrayLike, keys: Sequence[float], rows: Sequence[float], between: str, beyond: str, told: str = "") -> Reals:
    """Values (L,) at `by` (L,) of a table with ascending `keys`.

    Between two rows: along the straight line, or the row that is nearest (of two equally near the one above), below or
    above. Beyond the first and last: that row is held, or the line of the last two goes on; Trouble where it is refused, with
    figures named by `told`, a word and its unit as in `Trouble`.
    """
    at, known, values = (np.asarray(one, dtype=np.float64) for one in (by, keys, rows))
    outside = (at < known[0]) | (at > known[-1])
    if beyond == "refused" and outside.any():
        shown = [np.degrees(one) if told.endswith("angle") else one for one in (at, known[:1], known[-1:])]
        figures = dict(zip((f"it asks for{told}", f"first row{told}", f"last row{told}"), shown, strict=True))
        raise Trouble("the table has no row so far out", "add a row, or say what holds beyond the rows", outside, figures)
    upper = np.clip(np.searchsorted(known, at, side="left"), 1, known.size - 1)
    lower = upper - 1
    share = (at - known[lower]) / (known[upper] - known[lower])
    if between == "straight":
        inside = values[lower] + share * (values[upper] - values[lower])
    else:
        up = {"nearest": share >= 0.5, "row_below": share >= 1.0, "row_above": share > 0.0}[between]
        inside = np.where(up, values[upper], values[lower])
    far = values[lower] + share * (values[upper] - values[lower])
    held = np.where(at < known[0], values[0], values[-1])
    return np.asarray(np.where(outside, far if beyond == "straight" else held, inside))
