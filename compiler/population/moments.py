"""Sums, squares and products of whole numbers, kept exactly, and what they tell: how much of one is explained by others."""

from __future__ import annotations

from dataclasses import dataclass
from math import sqrt

import numpy as np
from numpy.typing import NDArray

Ints = NDArray[np.int64]
Mask = NDArray[np.bool_]
Exact = NDArray[np.object_]
"""Python's own whole numbers, which have no end."""

SMALL = 1 << 25
"""Products of whole numbers below it, summed over a chunk of a few thousand, fit into 64 bits; others are multiplied exactly."""


def products(one: Ints, other: Ints) -> Exact:
    """The sums of products (p, q) of columns (L, p) and (L, q)."""
    if max(np.abs(one).max(initial=0), np.abs(other).max(initial=0)) < SMALL:
        return np.asarray(one.T @ other).astype(object)
    return np.asarray(one.T.astype(object) @ other.astype(object))


@dataclass(frozen=True)
class Sums:
    """Of whole numbers as they come: how many, their sum and that of their squares, the least and the greatest."""

    count: int = 0
    sum: int = 0
    squares: int = 0
    least: int | None = None
    greatest: int | None = None

    @classmethod
    def of(cls, values: Ints) -> Sums:
        if not values.size:
            return cls()
        both = values[:, None]
        return cls(values.size, int(values.sum()), int(products(both, both)[0, 0]), int(values.min()), int(values.max()))

    def __add__(self, other: Sums) -> Sums:
        low = [one for one in (self.least, other.least) if one is not None]
        high = [one for one in (self.greatest, other.greatest) if one is not None]
        sums = self.count + other.count, self.sum + other.sum, self.squares + other.squares
        return Sums(*sums, min(low, default=None), max(high, default=None))

    @property
    def mean(self) -> float:
        return self.sum / self.count if self.count else 0.0

    @property
    def sd(self) -> float:
        return sqrt(max(self.count * self.squares - self.sum**2, 0)) / self.count if self.count else 0.0


NOTHING = Sums()


@dataclass(frozen=True, eq=False)
class Moments:
    """A value and measurements on the bodies that have that value: sums over these bodies. `known` tells on how many each of the
    p measurements is known; of one that is not known on all nothing is told."""

    value: Sums
    known: Exact  # (p,)
    sums: Exact  # (p,)
    squares: Exact  # (p, p)
    with_value: Exact  # (p,)

    @classmethod
    def of(cls, values: Ints, columns: Ints, known: Mask) -> Moments:
        """Of values (L,) and columns (L, p), 0 where they are not known."""
        return cls(
            Sums.of(values),
            known.sum(axis=0).astype(object),
            columns.sum(axis=0).astype(object),
            products(columns, columns),
            products(columns, values[:, None])[:, 0],
        )

    def __add__(self, other: Moments) -> Moments:
        return Moments(
            self.value + other.value,
            self.known + other.known,
            self.sums + other.sums,
            self.squares + other.squares,
            self.with_value + other.with_value,
        )

    def usable(self) -> list[int]:
        """The measurements that are known on all bodies and differ between them."""
        everywhere = [at for at in range(self.known.size) if self.known[at] == self.value.count]
        return [at for at in everywhere if self._between(at, at) > 0]

    def _between(self, one: int, other: int) -> int:
        """The sum of products of two measurements less their means, times the square of the count."""
        return int(self.value.count * self.squares[one, other] - self.sums[one] * self.sums[other])

    def _with(self, one: int) -> int:
        return int(self.value.count * self.with_value[one] - self.sums[one] * self.value.sum)

    @property
    def _own(self) -> int:
        return self.value.count * self.value.squares - self.value.sum**2

    def explained(self, *columns: int) -> float:
        """The share of the value's variance that one or two measurements explain; 0 where there is none to explain."""
        top, bottom = self._fitted(columns)
        return top / (bottom * self._own) if bottom and self._own else 0.0

    def _fitted(self, columns: tuple[int, ...]) -> tuple[int, int]:
        """What is explained of the value's own sum of squares, as a fraction."""
        first = columns[0]
        a, u = self._between(first, first), self._with(first)
        if len(columns) == 1:
            return u * u, a
        b, c, v = self._between(columns[1], columns[1]), self._between(first, columns[1]), self._with(columns[1])
        return b * u * u - 2 * c * u * v + a * v * v, a * b - c * c

    def line(self, *columns: int) -> tuple[float, ...]:
        """The value as a constant and so much of each measurement: least squares."""
        first, count = columns[0], self.value.count
        a, u = self._between(first, first), self._with(first)
        if len(columns) == 1:
            slopes: tuple[float, ...] = (u / a,)
        else:
            b, c, v = self._between(columns[1], columns[1]), self._between(first, columns[1]), self._with(columns[1])
            slopes = (b * u - c * v) / (a * b - c * c), (a * v - c * u) / (a * b - c * c)
        taken = sum(slope * (int(self.sums[at]) / count) for slope, at in zip(slopes, columns, strict=True))
        return (self.value.mean - taken, *slopes)


def forward(moments: Moments) -> list[tuple[int, float]]:
    """The measurement that explains most of a value, then the one that explains most with it; how much is explained by then."""
    chosen: list[tuple[int, float]] = []
    usable = moments.usable()
    for _ in range(2):
        columns = tuple(at for at, _ in chosen)
        found = [(moments.explained(*columns, at), -at) for at in usable if at not in columns]
        if found:
            best, at = max(found)
            chosen.append((-at, min(best, 1.0)))
    return chosen
