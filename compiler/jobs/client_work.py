"""The work on one client, in this process or another: drawn by itself and written, all or nothing.

Bodies drawn side by side differ in their last digits from the same bodies drawn alone. Here whoever stands beside a client in a
table changes no byte of its files.
"""

from __future__ import annotations

import os
import signal
import threading
from collections.abc import Generator, Iterator, Sequence
from concurrent.futures import Future, ProcessPoolExecutor
from contextlib import contextmanager
from dataclasses import dataclass, field, replace
from itertools import islice
from multiprocessing import get_context, parent_process
from pathlib import PurePath

from ..bodies.body import Body
from ..diagnostics import running_words
from ..diagnostics.diagnostic import Diagnostic
from ..drawing.seam_map import beneath
from ..output.summary import answers, failing
from ..output.svg import svg_text
from .build import Wanted, as_pdf, as_svg, plate
from .files import Files, write
from .made import digest
from .outcome import results_of
from .prepare import Prepared, prepare_style
from .results import BodyResult
from .workspace import Workspace

SEVERAL_FROM = 12
"""Clients to be made from which on processes are worth their start (two seconds)."""
STYLES = 16
"""So many settings of a style are held at once."""


@dataclass(frozen=True)
class Styles:
    """A style under the settings of each client, of which no more than so many are held."""

    workspace: Workspace
    path: str
    settings: tuple[str, ...]
    base: Prepared
    _held: dict[tuple[str, ...], Prepared] = field(default_factory=dict)

    def on(self, choices: tuple[str, ...]) -> Prepared:
        """The style with choices, as `name=value`, beside or instead of its settings."""
        if not choices:
            return self.base
        if choices not in self._held:
            if len(self._held) >= STYLES:
                self._held.pop(next(iter(self._held)))
            names = {one.partition("=")[0].strip() for one in choices}
            kept = [one for one in self.settings if one.partition("=")[0].strip() not in names]
            self._held[choices] = prepare_style(self.workspace, self.path, (*kept, *choices))
        return self._held[choices]

    def fresh(self) -> Styles:
        """The same to be handed to another process."""
        return replace(self, _held={})


@dataclass(frozen=True)
class Task:
    """A client to be made: the body, what is told of it, its choices, and the path its files begin with."""

    body: Body
    told: tuple[Diagnostic, ...]
    choices: tuple[str, ...]
    stem: str


@dataclass(frozen=True)
class Done:
    """What making a client came to: files by name with their digests, none where it cannot be made, for which `told` says why;
    what of it does not hold, in words, what is told of it, and what was not measured."""

    files: dict[str, str]
    failing: str
    told: tuple[Diagnostic, ...]
    estimated: tuple[str, ...]
    holds: bool


class Maker:
    """Makes clients, one after the other."""

    def __init__(self, files: Files, styles: Styles, wanted: Wanted) -> None:
        self._files, self._styles, self._wanted = files, styles, wanted

    def make(self, task: Task) -> Done:
        """Draw and write a client. What goes wrong with it, however unforeseen, is of it alone."""
        try:
            return self._made(task)
        except Exception as error:
            if os.environ.get("GODET_DEBUG"):
                raise
            return _undone((running_words.internal(f"{type(error).__name__}: {error}").on(task.body.name),))

    def _made(self, task: Task) -> Done:
        base = self._styles.on(task.choices)
        prepared = replace(base, bodies=(task.body,), diagnostics=(*base.diagnostics, *task.told))
        (result,) = results_of(prepared)
        if result.errors:
            return _undone(result.errors)
        contents = dict(_contents(prepared, result, task, self._wanted))
        problem = write(self._files, contents.items())
        if problem is not None:
            return _undone((problem.on(task.body.name),))
        return Done(
            {PurePath(path).name: digest(content) for path, content in contents.items()},
            _failing(result),
            _to_travel((*result.assembly.wrong, *result.warnings)),
            tuple(one.name for one in result.estimated),
            result.holds,
        )


def _contents(prepared: Prepared, result: BodyResult, task: Task, wanted: Wanted) -> Iterator[tuple[str, bytes]]:
    made = plate(prepared, result, task.body, wanted)
    yield f"{task.stem}.svg", as_svg(made).encode("utf-8")
    yield f"{task.stem}.pdf", as_pdf(made, wanted.paper)
    if made.maps:
        yield f"{task.stem}_seams.svg", svg_text(beneath(made.maps)).encode("utf-8")


def _failing(result: BodyResult) -> str:
    held = answers(result.checks, result.seams, result.specification.closures, result.fits)
    wrong = [] if all(all(one) for one in held.values()) else [failing(held)]
    wrong += ["the seams do not make a garment"] if result.assembly.holds is False else []
    return " and ".join(wrong)


def _undone(why: Sequence[Diagnostic]) -> Done:
    return Done({}, "", _to_travel(why), (), False)


def _to_travel(told: Sequence[Diagnostic]) -> tuple[Diagnostic, ...]:
    """Diagnostics that can be handed to another process: a view of what their words were made from cannot."""
    return tuple(replace(one, data=dict(one.data)) for one in told)


def all_made(
    files: Files, styles: Styles, wanted: Wanted, tasks: Sequence[Task], jobs: int
) -> Generator[Done, None, None]:
    """What each task comes to, in their order, worked off by `jobs` processes where there are enough of them."""
    if jobs < 2 or len(tasks) < SEVERAL_FROM:
        maker = Maker(files, styles, wanted)
        yield from map(maker.make, tasks)
        return
    rest = iter(tasks)
    pool = ProcessPoolExecutor(min(jobs, len(tasks)), get_context("spawn"), _begin, (files, styles.fresh(), wanted))
    try:
        with _uninterrupted():
            waiting: list[Future[Done]] = [pool.submit(_make, one) for one in islice(rest, 2 * jobs)]
        while waiting:
            yield waiting.pop(0).result()
            waiting += [pool.submit(_make, one) for one in islice(rest, 1)]
    finally:
        pool.shutdown(cancel_futures=True)


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


_maker: list[Maker] = []


def _begin(files: Files, styles: Styles, wanted: Wanted) -> None:
    """Begin a process, which ends when the whole has ended, however that came."""
    threading.Thread(target=_end_with_the_whole, daemon=True).start()
    _maker.append(Maker(files, styles, wanted))


def _end_with_the_whole() -> None:
    whole = parent_process()
    if whole is not None:
        whole.join()
        os._exit(1)


def _make(task: Task) -> Done:
    return _maker[-1].make(task)
