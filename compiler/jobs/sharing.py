"""Who shares the work on many bodies or clients, and processes that share it."""

from __future__ import annotations

import os
import signal
import threading
from collections import deque
from collections.abc import Callable, Generator, Iterable, Iterator, Sequence
from concurrent.futures import Future, ProcessPoolExecutor
from contextlib import contextmanager
from dataclasses import dataclass
from itertools import islice
from multiprocessing import get_context, parent_process
from typing import Any, TypeVar

Job = TypeVar("Job")
Made = TypeVar("Made")
Task = TypeVar("Task")
Done = TypeVar("Done")


@dataclass(frozen=True)
class Sharing:
    """Who shares the work: so many processes (None: as many as there are cores), or an engine ("": none)."""

    jobs: int | None = None
    engine: str = ""


ALONE = Sharing()


def cores() -> int:
    """How many processes may run at once: not all cores of a machine need be ours."""
    return len(os.sched_getaffinity(0)) if hasattr(os, "sched_getaffinity") else os.cpu_count() or 1


def by_processes(
    make: Callable[[Job], Made], work: Callable[[Made, Task], Done], job: Job, tasks: Iterable[Task], jobs: int
) -> Generator[Done, None, None]:
    """What each task of a job comes to, in their order, by what each process makes of the job once. BrokenExecutor where one was
    ended. Whoever closes it waits for what the processes are at, and no more is begun."""
    rest = iter(tasks)
    pool = ProcessPoolExecutor(jobs, get_context("spawn"), _begin, (make, job))
    try:
        waiting = _first(pool, work, list(islice(rest, 2 * jobs)))
        while waiting:
            yield waiting.popleft().result()
            waiting += [pool.submit(_do, work, one) for one in islice(rest, 1)]
    finally:
        pool.shutdown(cancel_futures=True)


def _first(pool: ProcessPoolExecutor, work: Callable[[Any, Any], Any], tasks: Sequence[object]) -> deque[Future[Any]]:
    """The tasks with which the processes begin."""
    with _uninterrupted():
        return deque(pool.submit(_do, work, one) for one in tasks)


@contextmanager
def _uninterrupted() -> Iterator[None]:
    """Processes begun in it hear of no interruption and end what they are at; this one hears of it when it has begun them."""
    if not hasattr(signal, "pthread_sigmask"):  # a system without
        yield
        return
    before = signal.pthread_sigmask(signal.SIG_BLOCK, {signal.SIGINT})
    try:
        yield
    finally:
        signal.pthread_sigmask(signal.SIG_SETMASK, before)


_held: list[Any] = []
"""In a process: what it made of its job."""


def _begin(make: Callable[[Any], Any], job: object) -> None:
    """Begin a process, which ends when the whole has ended, however that came."""
    threading.Thread(target=_end_with_the_whole, daemon=True).start()
    _held.append(make(job))


def _end_with_the_whole() -> None:
    whole = parent_process()
    if whole is not None:
        whole.join()
        os._exit(1)


def _do(work: Callable[[Any, Any], Any], task: object) -> Any:
    return work(_held[-1], task)
