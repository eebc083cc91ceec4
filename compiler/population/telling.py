"""Which one or two measurements tell on whom something fails.

Where it fails by a number, that number is known on all bodies: the measurements that explain most of its variance. Where there
is none, the cut of one measurement, then of two, that parts those it fails on best from the others.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
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
    which of the two; from 8 on their ranges. `line`: the number as a constant and so much of each, where that tells. `way`: how
    much of each measurement leads away from those that pass, where a cut tells. `beside`: where one measurement tells it, the
    one that tells most with it, for a picture."""

    by: Literal["variance", "cut", ""]
    measures: tuple[int, ...]
    share: float
    ranges: tuple[Range, ...] = ()
    line: tuple[float, ...] = ()
    way: tuple[float, ...] = ()
    beside: int | None = None

    @property
    def tells(self) -> bool:
        return self.share >= TOLD_FROM


UNTOLD = Told("", (), 0.0)


def told(tally: Tally, key: Key) -> Told:
    """What tells on whom this fails: its number; where that does not tell, or there is none, a cut."""
    asked = tally.asked[key]
    found = _by_number(asked)
    if found is None or not found.tells:
        cut = _by_cut(asked, [one for one in tally.some if _others(one, asked, key)])
        found = cut if found is None or cut.tells else found
    if not found.tells or asked.failed < RANGE_FROM:
        return found
    return replace(found, ranges=tuple(_range(tally, asked, at) for at in found.measures if at in asked.low))


def examples(asked: Asked, found: Told) -> tuple[tuple[str, Seen], ...]:
    """Of those it fails on the one nearest to passing, the one in the middle, and the farthest, each with what it is; where
    nothing tells which these are, some three."""
    if asked.nearest is not None and asked.farthest is not None:
        ordered = sorted((one for one in asked.some if one.room is not None), key=lambda one: one.by_room, reverse=True)
        return _apart(asked.nearest, ordered[len(ordered) // 2], asked.farthest)
    if found.by == "cut" and found.tells:
        ordered = sorted(asked.some, key=lambda one: (_along(one, found), one.digest, one.name))
        return _apart(ordered[0], ordered[len(ordered) // 2], ordered[-1])
    return tuple(("", one) for one in asked.some[:3])


def _apart(near: Seen, middle: Seen, far: Seen) -> tuple[tuple[str, Seen], ...]:
    """Each body once: of two one is nearest, one farthest."""
    between = () if middle in (near, far) else (("middle", middle),)
    return (("nearest", near), *between, *((("farthest", far),) if far != near else ()))


def _along(one: Seen, found: Told) -> float:
    return sum(way * (one.measures[at] or 0) for way, at in zip(found.way, found.measures, strict=True))


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
    if moments is None or asked.nearest is None or (asked.nearest.room or 0) > 0:
        return None
    if any(one.room is None and one.drawn for one in asked.some):
        return None
    chosen = forward(moments)
    if not chosen:
        return Told("variance", (), 0.0)
    (first, alone), (second, both) = chosen[0], chosen[-1]
    if both >= alone + BETTER:
        return Told("variance", (asked.columns[first], asked.columns[second]), both, line=moments.line(first, second))
    beside = asked.columns[second] if second != first else None
    return Told("variance", (asked.columns[first],), alone, line=moments.line(first), beside=beside)


def _by_cut(asked: Asked, others: Sequence[Seen]) -> Told:
    if asked.failed < RANGE_FROM or not others:
        return UNTOLD
    rows = [*asked.some, *others]
    failed = np.arange(len(rows)) < len(asked.some)
    usable = [at for at in asked.columns if all(one.measures[at] is not None for one in rows)]
    if not usable:
        return UNTOLD
    columns = {at: np.array([one.measures[at] for one in rows], dtype=np.float64) for at in usable}
    share, first = max((best_cut(columns[at], failed), -at) for at in usable)
    ways = {at: _way([columns[-first], columns[at]], failed) for at in usable if at != -first}
    pairs = [(best_cut(columns[-first] * way[0] + columns[at] * way[1], failed), -at) for at, way in ways.items()]
    both, second = max(pairs, default=(0.0, 0))
    if both >= share + BETTER:
        return Told("cut", (-first, -second), both, way=ways[-second])
    return Told("cut", (-first,), share, way=_way([columns[-first]], failed), beside=-second if pairs else None)


def best_cut(values: Reals, failed: NDArray[np.bool_]) -> float:
    """How well the best cut of values (L,) parts the two: the mean of the shares of both that lie on their own side."""
    order = np.argsort(values, kind="stable")
    ordered, wrong = values[order], failed[order]
    ends = np.flatnonzero(np.append(np.diff(ordered) > 0, True))  # a cut stands between two values that differ
    below = np.cumsum(wrong)[ends] / max(int(wrong.sum()), 1)
    right = np.cumsum(~wrong)[ends] / max(int((~wrong).sum()), 1)
    return float(np.max(0.5 + np.abs(below - right) / 2, initial=0.5))


def _way(columns: Sequence[Reals], failed: NDArray[np.bool_]) -> tuple[float, ...]:
    """So much of each measurement leads from those that pass to those that fail, across the line that parts them (the linear
    discriminant of Fisher, 1936)."""
    both = np.stack(columns, axis=1)
    apart = both[failed].mean(axis=0) - both[~failed].mean(axis=0)
    spread = sum(np.atleast_2d(np.cov(rows.T, bias=True)) for rows in (both[failed], both[~failed]))
    way, *_ = np.linalg.lstsq(np.asarray(spread), apart, rcond=None)
    return tuple(way.tolist())
