"""A line of text on a piece, with numbers of its body in it."""

from __future__ import annotations

from dataclasses import dataclass, replace

import numpy as np
from numpy.typing import NDArray

from ..geometry.lanes import take


@dataclass(frozen=True)
class Number:
    """A number (L,) of a kind: mm, radians, mm2 or bare."""

    kind: str
    value: NDArray[np.float64]


@dataclass(frozen=True)
class Remark:
    """Texts and numbers, as they follow each other."""

    parts: tuple[str | Number, ...]

    def take(self, lanes: NDArray[np.intp]) -> Remark:
        parts = (one if isinstance(one, str) else replace(one, value=take(one.value, lanes)) for one in self.parts)
        return Remark(tuple(parts))
