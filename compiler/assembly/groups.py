"""What belongs together, pair by pair."""

from __future__ import annotations

from collections.abc import Hashable, Iterable, Sequence
from typing import Generic, Self, TypeVar

One = TypeVar("One", bound=Hashable)


class Groups(Generic[One]):
    """Things of which each is in a group by itself until it is joined to another; a group is known by one of its own."""

    def __init__(self, things: Iterable[One] = ()) -> None:
        self._known = {one: one for one in things}

    def __contains__(self, one: object) -> bool:
        return one in self._known

    def first(self, one: One) -> One:
        """What stands for the group of a thing."""
        while self._known.setdefault(one, one) != one:
            one = self._known[one]
        return one

    def join(self, one: One, two: One) -> None:
        """Put two groups together; what stood for the first one's stands for both."""
        self._known[self.first(two)] = self.first(one)

    def join_all(self, rows: Iterable[Sequence[One]]) -> Self:
        """Put together what stands in one row."""
        for row in rows:
            for one in row[1:]:
                self.join(row[0], one)
        return self

    def rows(self) -> list[list[One]]:
        """The groups, each in the order in which its things were first named."""
        found: dict[One, list[One]] = {}
        for one in self._known:
            found.setdefault(self.first(one), []).append(one)
        return [*found.values()]
