"""NaN never travels: a body on which a value has one fails there."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import fields
from math import isfinite

import numpy as np

from ..geometry.path import Path, finite
from ..pattern.piece import Piece, Reals, Trouble
from ..verbs.attached import Attached
from ..verbs.values import Mask, Opened, Seam, Value


def all_finite(value: Value, count: int) -> None:
    """Raise Trouble for the bodies, of so many, on which a value holds a number that is none."""
    if isinstance(value, np.ndarray):  # most of the nodes
        if value.dtype.kind != "f" or (isfinite(value.item()) if value.size == 1 else np.isfinite(value).all()):
            return
    elif all((finite(one) if isinstance(one, Path) else np.isfinite(one)).all() for one in _numbers(value)):
        return
    bad = np.zeros(count, dtype=bool)
    for numbers in _numbers(value):
        bad = bad | ~_well(numbers)
        if bad.any():
            break
    raise Trouble("this gives no number", "look at the numbers behind it with `godet explain`", bad)


def _well(numbers: Reals | Path) -> Mask:
    """Lanes (L,) on which all numbers are finite."""
    if isinstance(numbers, Path):
        return finite(numbers)
    return np.asarray(np.isfinite(numbers).reshape(numbers.shape[0], -1).all(axis=1))


def _numbers(value: Value) -> Sequence[Reals | Path]:
    if isinstance(value, np.ndarray):
        return [np.asarray(value, dtype=np.float64)] if value.dtype.kind == "f" else []
    if isinstance(value, Path):
        return [value]
    if isinstance(value, Opened):
        return value.parts
    if isinstance(value, Piece):
        inner = (side for hole in value.holes for side in hole.sides)
        drawn = [side.drawn for side in (*value.ring, *inner, *value.lines)]
        return [*drawn, *(point for point in value.points.values() if point is not None)]
    if isinstance(value, Seam):
        return [value.left_mm, value.right_mm]
    if isinstance(value, Attached):
        held = (getattr(value, one.name) for one in fields(value))
        return [one for one in held if isinstance(one, np.ndarray) and one.dtype.kind == "f"]
    return []
