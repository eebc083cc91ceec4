"""Work that other machines share: `dask://ADDRESS`, the scheduler of a cluster of `dask.distributed`.

What is sent is the texts of a style, its settings and rows; what comes back is counts, or the bytes of files. Nothing is
written there, so that no disk need be shared, and nothing is sent that only this process could read. Tasks are handed out again
by the scheduler where a worker is lost.
"""

from __future__ import annotations

import asyncio
import logging
from collections import deque
from collections.abc import Callable, Generator, Iterable, Iterator
from concurrent.futures import Future
from contextlib import contextmanager, suppress
from dataclasses import dataclass
from functools import lru_cache
from importlib import import_module
from itertools import islice
from threading import Lock, Thread
from typing import Any, TypeVar

from ..diagnostics import engine_words as words
from ..diagnostics.diagnostic import Diagnostic
from .client_key import made_by
from .files import Held
from .prepare import Prepared, prepare_style
from .workspace import LIBRARY, Workspace

SCHEME = "dask://"
ANSWERS_WITHIN = 10.0
"""Seconds in which a scheduler answers, or is taken for absent."""
WITHOUT_WORKERS = 30.0
"""Seconds for which work waits for another worker when the last is gone."""
WAITING = 2
"""So many tasks more than the workers can take wait for them: no more of a population is held."""

Job = TypeVar("Job")
Made = TypeVar("Made")
Task = TypeVar("Task")
Done = TypeVar("Done")


class NoEngine(Exception):
    """The engine cannot do the work."""

    def __init__(self, problem: Diagnostic) -> None:
        super().__init__(problem)
        self.problem = problem


class UnlikeWorker(Exception):
    """A worker has another version of godet, or of the libraries it reckons with."""


@dataclass(frozen=True)
class Sources:
    """A style as it travels: its path, the texts read for it by their names, its settings, and by what it is to be drawn."""

    path: str
    texts: tuple[tuple[str, str], ...]
    settings: tuple[str, ...]
    made_by: str
    fingerprint: str

    @classmethod
    def of(cls, prepared: Prepared, settings: tuple[str, ...]) -> Sources:
        """Those of a sound style as it was read. The library is on every machine."""
        assert prepared.analysis is not None
        assert prepared.style is not None
        texts = sorted((name, text) for name, text in prepared.analysis.texts.items() if not name.startswith(f"{LIBRARY}/"))
        return cls(prepared.style.file, tuple(texts), settings, made_by(), prepared.fingerprint)

    def opened(self) -> tuple[Workspace, Prepared]:
        """The style, on the machine to which it came, and where it was read. UnlikeWorker where that would draw it otherwise."""
        if self.made_by != made_by():  # before it is read: another version may not even understand it
            raise UnlikeWorker
        workspace = Workspace(Held(dict(self.texts)))
        prepared = prepare_style(workspace, self.path, self.settings)
        if self.fingerprint != prepared.fingerprint:
            raise UnlikeWorker
        return workspace, prepared


ONE_AT_A_TIME = Lock()
"""A worker may have several threads; what is kept of a style is for one at a time, and memory for one chunk."""


class Cluster:
    """A cluster that answered, with the workers it had then. What comes later or goes is taken up by the scheduler."""

    def __init__(self, address: str, library: Any, client: Any) -> None:
        self._address, self._library, self._client = address, library, client
        self.workers = self._workers_now()

    def done(
        self, make: Callable[[Job], Made], work: Callable[[Made, Task], Done], job: Job, tasks: Iterable[Task]
    ) -> Generator[Done, None, None]:
        """What each task of a job comes to, in their order, by what each worker makes of the job once. NoEngine where the
        cluster cannot do one. Those that nobody waits for any more are dropped by the scheduler. The job is sent once, as what a
        task gives: where the workers that hold it are lost, the scheduler has it made again."""
        rest = iter(tasks)
        held = self._submitted(_given, job)
        waiting: deque[Any] = deque()
        while True:
            more = islice(rest, 2 * self.workers + WAITING - len(waiting))
            waiting += [self._submitted(_done_there, make, work, held, task) for task in more]
            if not waiting:
                return
            yield self._result(waiting.popleft())

    def _submitted(self, work: Callable[..., object], *given: object) -> Any:
        with self._asking():
            return self._client.submit(work, *given, pure=False)

    def _workers_now(self) -> int:
        with self._asking():
            return len(self._client.nthreads())

    def _result(self, future: Any) -> Any:
        empty = 0
        while empty < 2:  # so that no worker was there for as long as we wait for one
            with self._asking():
                try:
                    return future.result(timeout=WITHOUT_WORKERS)
                except TimeoutError:
                    if future.status == "error":  # that of the task itself, which would be raised for ever
                        raise future.exception() from None
            empty = 0 if self._workers_now() else empty + 1
        raise NoEngine(words.no_workers(self._address))

    @contextmanager
    def _asking(self) -> Iterator[None]:
        """Whatever the library raises in it, or a task raised there, as NoEngine: a lost scheduler is an OSError, too."""
        try:
            yield
        except self._library.KilledWorker:
            raise NoEngine(words.ended(self._address)) from None
        except UnlikeWorker:
            raise NoEngine(words.unlike(self._address)) from None
        except (Exception, asyncio.CancelledError) as error:
            raise NoEngine(words.undone(self._address, f"{type(error).__name__}: {error}")) from error


def _given(job: Job) -> Job:
    return job


def _done_there(make: Callable[[Job], Made], work: Callable[[Made, Task], Done], job: Job, task: Task) -> Done:
    with ONE_AT_A_TIME:
        return work(_made_there(make, job), task)


@lru_cache(maxsize=1)
def _made_there(make: Callable[[Any], Any], job: object) -> Any:
    """What is made of the last job, which a worker keeps until there is another."""
    return make(job)


@contextmanager
def cluster(engine: str) -> Iterator[Cluster]:
    """The cluster of an engine as it is written. NoEngine where there is none."""
    address = engine.removeprefix(SCHEME)
    if not engine.startswith(SCHEME) or ":" not in address:
        raise NoEngine(words.no_address(engine))
    try:
        library: Any = import_module("distributed")  # it has few types
    except ImportError:
        raise NoEngine(words.not_installed()) from None
    with _quiet(), _loop() as loop:
        try:
            client = library.Client(f"tcp://{address}", timeout=ANSWERS_WITHIN, set_as_default=False, loop=loop)
        except (OSError, ValueError):  # a timeout among them
            raise NoEngine(words.no_answer(address)) from None
        try:
            found = Cluster(address, library, client)
            if not found.workers:
                raise NoEngine(words.no_workers(address))
            yield found
        finally:
            with suppress(OSError):  # the scheduler is gone: there is nobody to take leave of
                client.close()


@contextmanager
def _quiet() -> Iterator[None]:
    """What is wrong with the cluster is told by us, and only while we use the library."""
    logger = logging.getLogger("distributed")
    before = logger.level
    logger.setLevel(logging.CRITICAL)
    try:
        yield
    finally:
        logger.setLevel(before)


@contextmanager
def _loop() -> Iterator[Any]:
    """A thread for a client, which ends with it: one of its own stays where the client found no scheduler."""
    library: Any = import_module("tornado.ioloop")  # what the cluster's library turns by
    begun: Future[tuple[Any, asyncio.Event]] = Future()

    async def turning() -> None:
        ended = asyncio.Event()
        begun.set_result((library.IOLoop.current(), ended))
        await ended.wait()

    thread = Thread(target=lambda: asyncio.run(turning()), daemon=True)
    thread.start()
    loop, ended = begun.result()
    try:
        yield loop
    finally:
        loop.add_callback(ended.set)
        thread.join(ANSWERS_WITHIN)
