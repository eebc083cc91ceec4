"""Room for what is elaborated inside one another: expressions in brackets, definitions that rest on each other.

Python counts the calls that are open in a thread and refuses more than a thousand. The limit may be raised only for all threads
of a process at once, which is not ours to do; so where elaboration gets deep, it goes on in a thread of its own, which begins to
count anew, and waits for it. The results are those of one row of calls.
"""

from __future__ import annotations

from collections.abc import Callable
from threading import Thread
from typing import Generic, TypeVar

Made = TypeVar("Made")

ROOM = 24
"""How many expressions are elaborated inside one another in one thread: each takes some twenty calls at most."""


MOST = 250
"""How many threads wait for one another at most: three hundred definitions, each of twenty expressions inside one another."""


class Stack:
    """How deep one analysis is in its thread, and how many threads wait for that."""

    def __init__(self) -> None:
        self.depth = 0
        self._waiting = 0

    @property
    def is_full(self) -> bool:
        return self._waiting >= MOST

    def further(self, make: Callable[[], Made]) -> Made:
        """What is made in a thread of its own."""
        before, self.depth = self.depth, 0
        self._waiting += 1
        try:
            return _Aside(make).made()
        finally:
            self.depth = before
            self._waiting -= 1


class _Aside(Generic[Made]):
    """One thing made in a thread of its own."""

    def __init__(self, make: Callable[[], Made]) -> None:
        self._make = make
        self._found: list[Made] = []
        self._failed: BaseException | None = None

    def made(self) -> Made:
        thread = Thread(target=self._run)
        thread.start()
        thread.join()
        if self._failed is not None:
            raise self._failed
        return self._found[0]

    def _run(self) -> None:
        try:
            self._found.append(self._make())
        except BaseException as failed:  # raised again where it is waited for
            self._failed = failed
