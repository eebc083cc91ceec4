"""Which one or two measurements tell on whom something fails.

Where it fails by a number, that number is known on all bodies: the measurements that explain most of its variance. Where there
is none, the cut of one measurement, then of two, that parts those it fails on best from the others.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Literal

import numpy as np
from numpy.typing import NDArray

from .bins import inside
from .moments import forward
from .sample import Seen
from .tally import Asked, Key, Tally

TOLD_FROM = 0.8
"""Of what is to be explained, or of both sides rightly parted: below it no two measurements tell it."""
BETTER = 0.01
"""So much more must a second measurement tell."""
RANGE_FROM = 8
"""Of fewer bodies no range is told: some measurement parts a handful from any others by chance."""

Reals = NDArray[np.float64]


@dataclass(frozen=True)
class Range:
    """A measurement, in thousandths, of those it fails on, and how many of the others lie in that range."""

    measure: int
    low: int
    high: int
    others: int


@dataclass(frozen=True)
class Told:
    """What tells a failure: the measurements by number, how well (a share of variance, or of both sides rightly parted), and by
    which of the two; from 8 on their ranges. `line`: the number as a constant and so much of each, where that tells."""

    by: Literal["variance", "cut", ""]
    measures: tuple[int, ...]
    share: float
    ranges: tuple[Range, ...] = ()
    line: tuple[float, ...] = ()

    @property
    def tells(self) -> bool:
        return self.share >= TOLD_FROM


def told(tally: Tally, key: Key) -> Told:
    """What tells on whom this fails."""
    asked = tally.asked[key]
    found = _by_number(asked) or _by_cut(asked, [one for one in tally.some if _others(one, asked, key)])
    if not found.tells or asked.failed < RANGE_FROM:
        return found
    rows = [_range(tally, asked, at) for at in found.measures if at in asked.low]
    return Told(found.by, found.measures, found.share, tuple(rows), found.line)


def _others(one: Seen, asked: Asked, key: Key) -> bool:
    """Whether a body is one of whom it was asked, and did not fail."""
    return key not in one.failing and (one.drawn or asked.gate == 0)


def _range(tally: Tally, asked: Asked, at: int) -> Range:
    low, high = asked.low[at], asked.high[at]
    judged = tally.bins[0 if asked.gate == 0 else 1]
    failed = asked.failed if asked.gate == 0 else asked.failed_drawn
    return Range(at, low, high, max(inside(judged.get(at, {}), low, high) - failed, 0))


def _by_number(asked: Asked) -> Told | None:
    """By the variance of the number it fails by, where it fails by one on all whom it fails on."""
    moments = asked.moments
    if moments is None or asked.farthest is None or any(one.room is None and one.drawn for one in asked.some):
        return None
    found, share = forward(moments, BETTER)
    line = moments.line(*found) if found else ()
    return Told("variance", tuple(asked.columns[at] for at in found), share, (), line)


def _by_cut(asked: Asked, others: Sequence[Seen]) -> Told:
    if asked.failed < RANGE_FROM or not others:
        return Told("", (), 0.0)
    rows = [*asked.some, *others]
    failed = np.arange(len(rows)) < len(asked.some)
    usable = [at for at in asked.columns if all(one.measures[at] is not None for one in rows)]
    if not usable:
        return Told("", (), 0.0)
    columns = {at: np.array([one.measures[at] for one in rows], dtype=np.float64) for at in usable}
    share, first = max(((best_cut(columns[at], failed), -at) for at in usable))
    pairs = [(best_cut(_across(columns[-first], columns[at], failed), failed), -at) for at in usable if at != -first]
    both, second = max(pairs, default=(0.0, 0))
    if both >= share + BETTER:
        return Told("cut", (-first, -second), both)
    return Told("cut", (-first,), share)


def best_cut(values: Reals, failed: NDArray[np.bool_]) -> float:
    """How well the best cut of values (L,) parts the two: the mean of the shares of both that lie on their own side."""
    order = np.argsort(values, kind="stable")
    ordered, wrong = values[order], failed[order]
    ends = np.flatnonzero(np.append(np.diff(ordered) > 0, True))  # a cut stands between two values that differ
    below = np.cumsum(wrong)[ends] / max(int(wrong.sum()), 1)
    right = np.cumsum(~wrong)[ends] / max(int((~wrong).sum()), 1)
    return float(np.max(0.5 + np.abs(below - right) / 2, initial=0.5))


def _across(one: Reals, other: Reals, failed: NDArray[np.bool_]) -> Reals:
    """Two measurements as one number: across the line that parts the two (the linear discriminant of Fisher, 1936)."""
    both = np.stack([one, other], axis=1)
    apart = both[failed].mean(axis=0) - both[~failed].mean(axis=0)
    spread = sum(np.cov(rows.T, bias=True) for rows in (both[failed], both[~failed]))
    way, *_ = np.linalg.lstsq(np.asarray(spread), apart, rcond=None)
    return np.asarray(both @ way)
