"""Some of many bodies, picked by a digest of what they are, so that the same are picked in any order."""

from __future__ import annotations

import heapq
from collections.abc import Iterable
from dataclasses import dataclass, field


@dataclass(frozen=True, order=True)
class Seen:
    """A body: the digest of what it is, its name, its measurements in thousandths (None: not known), the room it has to the
    bound it fails (negative, thousandths; None where there is no such number), and the names of all that fails on it."""

    digest: bytes
    name: str
    measures: tuple[int | None, ...] = field(compare=False)
    room: int | None = field(default=None, compare=False)
    failing: frozenset[object] = field(default=frozenset(), compare=False)
    drawn: bool = field(default=True, compare=False)

    @property
    def by_room(self) -> tuple[int, bytes, str]:
        return self.room or 0, self.digest, self.name


def least(seen: Iterable[Seen], most: int) -> tuple[Seen, ...]:
    """Those `most` with the least digests, in their order."""
    return tuple(heapq.nsmallest(most, seen))
