"""How often whole numbers occur, in fixed bins, so that no order and no parting of them changes what is counted."""

from __future__ import annotations

from collections import Counter
from collections.abc import Mapping
from dataclasses import dataclass
from typing import TypeAlias

import numpy as np

from .moments import Ints

WIDE = 500
"""Of a bin, in thousandths: half a millimetre. Bins lie about their whole multiples, so that 0 stands in the middle of one."""
BARS = 21

Bins: TypeAlias = Counter[int]


def binned(values: Ints) -> Bins:
    places, counts = np.unique(bin_of(values), return_counts=True)
    return Counter(dict(zip(places.tolist(), counts.tolist(), strict=True)))


def bin_of(values: Ints) -> Ints:
    return np.asarray((values + WIDE // 2) // WIDE)


def quantile(bins: Mapping[int, int], share: float) -> int:
    """The value, in thousandths, at or below which at least such a share lies: the middle of a bin."""
    wanted, seen = share * sum(bins.values()), 0
    for place in sorted(bins):
        seen += bins[place]
        if seen >= wanted:
            return place * WIDE
    return 0


def inside(bins: Mapping[int, int], low: int, high: int) -> int:
    """How many lie in the bins from the one of `low` to the one of `high`."""
    first, last = (low + WIDE // 2) // WIDE, (high + WIDE // 2) // WIDE
    return sum(count for place, count in bins.items() if first <= place <= last)


@dataclass(frozen=True)
class Bars:
    """21 bars of one width from `low` on, and how many lie below the first and above the last; lengths in thousandths."""

    low: int
    width: int
    counts: tuple[int, ...]
    below: int
    above: int


def bars(bins: Mapping[int, int], low: int, high: int) -> Bars:
    """The bars that reach from `low` to `high` in thousandths, or a little further: each holds whole bins, one has 0 in its
    middle."""
    width = 1
    while _bars_for(low, high, width) > BARS:
        width += 2
    first = _place(low, width) - (BARS - _bars_for(low, high, width)) // 2
    counts = [0] * BARS
    below = above = 0
    for place, count in bins.items():
        at = (place + width // 2) // width - first
        if at < 0:
            below += count
        elif at >= BARS:
            above += count
        else:
            counts[at] += count
    return Bars((first * width - width // 2) * WIDE - WIDE // 2, width * WIDE, tuple(counts), below, above)


def _place(value: int, width: int) -> int:
    """The bar, of so many bins (an odd number) and numbered from the one about 0, in which a value lies."""
    return ((value + WIDE // 2) // WIDE + width // 2) // width


def _bars_for(low: int, high: int, width: int) -> int:
    return _place(high, width) - _place(low, width) + 1
