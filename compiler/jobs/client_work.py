"""The work on one client, in this process or another, here or elsewhere: drawn by itself and written here, all or nothing.

Bodies drawn side by side differ in their last digits from the same bodies drawn alone. Here whoever stands beside a client in a
table changes no byte of its files.
"""

from __future__ import annotations

import os
from collections.abc import Generator, Iterator, Sequence
from contextlib import closing
from dataclasses import dataclass, field, replace
from pathlib import PurePath

from ..bodies.body import Body
from ..diagnostics import running_words
from ..diagnostics.diagnostic import Diagnostic
from ..drawing.seam_map import beneath
from ..output.svg import svg_text
from .build import Wanted, as_pdf, as_svg, plate
from .engine import Sources, cluster
from .files import Files, write
from .made import digest
from .outcome import results_of
from .prepare import Prepared, prepare_style
from .results import BodyResult
from .sharing import Sharing, by_processes, cores
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
class Drawn:
    """A client drawn: its files by path, none where it cannot be made, for which `told` says why; the rest as of what is done."""

    contents: dict[str, bytes]
    failing: str
    told: tuple[Diagnostic, ...]
    estimated: tuple[str, ...] = ()
    holds: bool = False
    body: str = ""

    def written(self, files: Files) -> Done:
        """All files written, or none."""
        problem = write(files, self.contents.items()) if self.contents else None
        if problem is not None:
            return Done({}, "", (problem.on(self.body),), (), False)
        made = {PurePath(path).name: digest(content) for path, content in self.contents.items()}
        return Done(made, self.failing, self.told, self.estimated, self.holds)


@dataclass(frozen=True)
class Done:
    """What making a client came to: files by name with their digests, none where it cannot be made, for which `told` says why;
    what of it does not hold, in words, what is told of it, and what was not measured; and whether it was come to at all."""

    files: dict[str, str]
    failing: str
    told: tuple[Diagnostic, ...]
    estimated: tuple[str, ...]
    holds: bool
    tried: bool = True


class Maker:
    """Draws clients, one after the other."""

    def __init__(self, styles: Styles, wanted: Wanted) -> None:
        self._styles, self._wanted = styles, wanted

    def draw(self, task: Task) -> Drawn:
        """Draw a client. What goes wrong with it, however unforeseen, is of it alone."""
        try:
            return self._drawn(task)
        except Exception as error:
            if os.environ.get("GODET_DEBUG"):
                raise
            return _undone((running_words.internal(f"{type(error).__name__}: {error}").on(task.body.name),))

    def _drawn(self, task: Task) -> Drawn:
        base = self._styles.on(task.choices)
        prepared = replace(base, bodies=(task.body,), diagnostics=(*base.diagnostics, *task.told))
        (result,) = results_of(prepared)
        if result.errors:
            return _undone(result.errors)
        return Drawn(
            dict(_contents(prepared, result, task, self._wanted)),
            result.failing,
            _to_travel((*result.assembly.wrong, *result.warnings)),
            tuple(one.name for one in result.estimated),
            result.holds,
            task.body.name,
        )


def _contents(prepared: Prepared, result: BodyResult, task: Task, wanted: Wanted) -> Iterator[tuple[str, bytes]]:
    made = plate(prepared, result, task.body, wanted)
    yield f"{task.stem}.svg", as_svg(made).encode("utf-8")
    yield f"{task.stem}.pdf", as_pdf(made, wanted.paper)
    if made.maps:
        yield f"{task.stem}_seams.svg", svg_text(beneath(made.maps)).encode("utf-8")


def _undone(why: Sequence[Diagnostic]) -> Drawn:
    return Drawn({}, "", _to_travel(why))


def _to_travel(told: Sequence[Diagnostic]) -> tuple[Diagnostic, ...]:
    """Diagnostics that can be handed to another process: a view of what their words were made from cannot."""
    return tuple(replace(one, data=dict(one.data)) for one in told)


def all_made(
    files: Files, styles: Styles, wanted: Wanted, tasks: Sequence[Task], shared: Sharing
) -> Generator[Done, None, None]:
    """What each task comes to, in their order, worked off by an engine, or by processes where there are enough of them. NoEngine
    where that cannot do it."""
    jobs = shared.jobs or cores()
    if shared.engine and tasks:
        job = _Job(Sources.of(styles.base, styles.settings), wanted)
        with cluster(shared.engine) as those, closing(those.done(_maker_for, Maker.draw, job, tasks)) as done:
            yield from (one.written(files) for one in done)
    elif jobs < 2 or len(tasks) < SEVERAL_FROM:
        maker = Maker(styles, wanted)
        yield from (maker.draw(one).written(files) for one in tasks)
    else:
        given = styles.fresh(), wanted, files
        yield from by_processes(_maker_and_files, _make, given, tasks, min(jobs, len(tasks)))


@dataclass(frozen=True)
class _Job:
    """What a worker of a cluster needs to know to draw clients."""

    sources: Sources
    wanted: Wanted


def _maker_for(job: _Job) -> Maker:
    workspace, base = job.sources.opened()
    return Maker(Styles(workspace, job.sources.path, job.sources.settings, base), job.wanted)


def _maker_and_files(given: tuple[Styles, Wanted, Files]) -> tuple[Maker, Files]:
    styles, wanted, files = given
    return Maker(styles, wanted), files


def _make(by: tuple[Maker, Files], task: Task) -> Done:
    maker, files = by
    return maker.draw(task).written(files)
