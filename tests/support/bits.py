"""Whether two values are the same to the last bit, whatever objects they are."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import fields, is_dataclass
from typing import Any

import numpy as np


def same(one: Any, other: Any) -> bool:
    """Arrays by their bytes, mappings by their keys, values of one class by their fields; what is only kept along is left out."""
    if isinstance(one, np.ndarray) and isinstance(other, np.ndarray):
        return (one.shape, one.dtype, one.tobytes()) == (other.shape, other.dtype, other.tobytes())
    if isinstance(one, Mapping) and isinstance(other, Mapping):
        return list(one) == list(other) and all(same(one[key], other[key]) for key in one)
    if type(one) is not type(other):
        return False
    if isinstance(one, tuple | list):
        return len(one) == len(other) and all(map(same, one, other))
    if is_dataclass(one) and not isinstance(one, type):
        compared = (field.name for field in fields(one) if field.repr)
        return all(same(getattr(one, name), getattr(other, name)) for name in compared)
    return bool(one == other)
