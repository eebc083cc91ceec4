"""A shelf: things of one kind, each by a digest of all it is made from, so that none is made twice."""

from __future__ import annotations

from collections.abc import Callable
from typing import Generic, TypeVar

Made = TypeVar("Made")


class Shelf(Generic[Made]):
    """What was asked for since the shelf was last turned, and between that turn and the one before; `count` were made."""

    def __init__(self) -> None:
        self.count = 0
        self._now: dict[bytes, Made] = {}
        self._before: dict[bytes, Made] = {}

    def __len__(self) -> int:
        return len({*self._now, *self._before})

    def made(self, key: bytes, make: Callable[[], Made]) -> Made:
        """What was made under the key, or is made now; under an empty key nothing is kept."""
        if not key:
            return make()
        if key not in self._now:
            if key in self._before:
                self._now[key] = self._before[key]
            else:
                self._now[key] = make()
                self.count += 1
        return self._now[key]

    def turn(self) -> None:
        """Drop what was last asked for before the last turn; unless nothing was asked for since, as in a version with errors."""
        if self._now:
            self._before, self._now = self._now, {}

    def turned(self) -> Shelf[Made]:
        """The same turned, for a later version; this one stays as it is."""
        made = Shelf[Made]()
        made._now, made._before = self._now, self._before
        made.turn()
        return made
