"""Who shares the work on many bodies or clients."""

from __future__ import annotations

import os
from dataclasses import dataclass


@dataclass(frozen=True)
class Sharing:
    """Who shares the work: so many processes (None: as many as there are cores), or an engine ("": none)."""

    jobs: int | None = None
    engine: str = ""


ALONE = Sharing()


def cores() -> int:
    """How many processes may run at once: not all cores of a machine need be ours."""
    return len(os.sched_getaffinity(0)) if hasattr(os, "sched_getaffinity") else os.cpu_count() or 1
