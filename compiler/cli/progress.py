"""A line on the terminal with how much is done, and how fast."""

from __future__ import annotations

import sys
from collections.abc import Iterator
from contextlib import contextmanager
from typing import Protocol

SOON = 2.0
"""Seconds before which nothing is told of progress."""


class See(Protocol):
    """Hears how many are done, and of how many, where that is known."""

    def __call__(self, done: int, of: int | None = None) -> None: ...


@contextmanager
def progress(called: str) -> Iterator[See]:
    """How many of what is `called` so are done: on stderr, only where that is a terminal, and not of what is soon done."""
    from tqdm import tqdm

    with tqdm(unit=f" {called}", delay=SOON, disable=None, file=sys.stderr, leave=False) as line:

        def tell(done: int, of: int | None = None) -> None:
            line.total = of
            line.update(done - line.n)

        yield tell
