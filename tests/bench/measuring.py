"""What the budgets are measured with: processor time, the least of several runs, processes of their own, rows of the table."""

from __future__ import annotations

import os
import subprocess
import sys
import tempfile
import time
from collections.abc import Callable
from dataclasses import dataclass
from functools import cache
from pathlib import Path

ROOT = Path(__file__).resolve().parents[2]
SCRATCH = Path(tempfile.gettempdir()) / "godet-bench"
ENVIRONMENT = {
    **os.environ,
    "PYTHONDONTWRITEBYTECODE": "",
    "PYTHONPYCACHEPREFIX": str(SCRATCH / "compiled"),
    "PYTHONPATH": str(ROOT / ".package"),
    "XDG_CACHE_HOME": str(SCRATCH / "kept"),
}
"""Of processes: they find their compiled modules kept, as those of an installed package are, and keep styles apart."""


@dataclass(frozen=True)
class Row:
    """A line of the table. `limit` is the budget, `measured` what was found of it, in units of `baseline`; None is no budget."""

    what: str
    measured: float
    limit: float | None
    baseline: str
    at_least: bool = False

    @property
    def is_beyond(self) -> bool:
        if self.limit is None:
            return False
        return self.measured < self.limit if self.at_least else self.measured > self.limit

    def __str__(self) -> str:
        bound = "none" if self.limit is None else f"{'at least' if self.at_least else 'at most'} {self.limit:g}"
        return f"{self.what:72} {bound:>14} {self.measured:9.2f}{' BEYOND' if self.is_beyond else '':7}  {self.baseline}"


def least(work: Callable[[], object], runs: int = 5, clock: Callable[[], float] = time.process_time) -> float:
    """Seconds of a call: the least of several, after one that is not counted, for other work of the machine only adds to it."""
    work()
    spent = []
    for _ in range(runs):
        start = clock()
        work()
        spent.append(clock() - start)
    return min(spent)


def of_children() -> float:
    """Processor seconds of the processes that have ended."""
    spent = os.times()
    return spent.children_user + spent.children_system


@cache
def yard() -> float:
    """Processor seconds of a yard: 10,000 additions of a (1, 64, 2) array."""
    import numpy as np

    one, other = np.ones((1, 64, 2)), np.full((1, 64, 2), 0.5)
    return least(lambda: [one + other for _ in range(10_000)], 9)


def yards(what: str, seconds: float, limit: float | None) -> Row:
    return Row(what, seconds / yard(), limit, f"a yard: {1000 * yard():.1f} ms")


def printed(*arguments: str) -> str:
    """What a process of Python prints."""
    return subprocess.run(
        [sys.executable, *arguments], check=True, capture_output=True, cwd=ROOT, env=ENVIRONMENT, text=True
    ).stdout
