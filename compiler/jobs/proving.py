"""Prove a style on a population: every body of a table drawn in full, and counted. No more than a few chunks are held at a time.

Chunks are worked off by processes of their own, each with the whole of its chunk; their tallies add up to the same, however the
bodies were parted.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from concurrent.futures import BrokenExecutor
from contextlib import closing
from dataclasses import dataclass, field, replace
from itertools import chain, islice

from ..bodies.columns import Column, mapping
from ..bodies.populations import NoTable, Row, Table, open_table, read_rows
from ..diagnostics import population_words as words
from ..diagnostics import running_words
from ..diagnostics.diagnostic import Diagnostic
from ..population.tally import Tally
from ..syntax.source import decode
from .behind import Behind
from .engine import Cluster, NoEngine, Sources, cluster
from .files import Files, read
from .judging import judged
from .outcome import CHUNK, outcomes
from .prepare import Prepared
from .sharing import ALONE, Sharing, by_processes, cores

WORTH_A_PROCESS = 250
"""So many bodies take longer than a process takes to start."""
NOBODY = Tally()
TOLD = 3
"""Of rows that cannot be read so many are told in full."""

See = Callable[[int], None]


@dataclass(frozen=True)
class Unread:
    """A row that is no body: its number, why, and the text its places are in, by its name."""

    row: int
    problems: tuple[Diagnostic, ...]
    text: str


@dataclass(frozen=True)
class Counted:
    """A population on which a style was drawn: its tally, how many rows it has, and those that could not be read: how many, and
    the first."""

    tally: Tally = NOBODY
    rows: int = 0
    unread: int = 0
    first: tuple[Unread, ...] = ()

    def __add__(self, other: Counted) -> Counted:
        first = sorted((*self.first, *other.first), key=lambda one: one.row)[:TOLD]
        return Counted(self.tally + other.tally, self.rows + other.rows, self.unread + other.unread, tuple(first))


@dataclass(frozen=True)
class Population:
    """Where a population stands: the path of its table, and that of what its columns mean ("": by our words)."""

    path: str
    columns: str = ""


@dataclass(frozen=True)
class Proved:
    """A style on a population: what was counted (None where the table cannot be read), and what is to be told of the table."""

    path: str
    counted: Counted | None
    told: tuple[Diagnostic, ...]
    texts: dict[str, str] = field(default_factory=dict)


def prove(
    files: Files,
    prepared: Prepared,
    population: Population,
    shared: Sharing = ALONE,
    settings: tuple[str, ...] = (),
    see: See = lambda _: None,
) -> Proved:
    """Draw a sound style on every body of a table. Processes, or the workers of an engine, to which its `settings` go with it,
    share them, each with 250 bodies or more; `see` hears how many are done."""
    mapped, told = _mapping(files, population.columns)
    if any(one.is_error for one in told):
        return Proved(population.path, None, told)
    try:
        with closing(files.open(population.path)) as file:
            table = open_table(population.path, file, mapped)
            counted = _counted(prepared, table, shared, settings, see)
    except NoTable as error:
        return Proved(population.path, None, (*told, *error.problems))
    except NoEngine as error:
        return Proved(population.path, None, (*told, error.problem))
    except BrokenExecutor:
        return Proved(population.path, None, (*told, words.process_ended(population.path)))
    except (FileNotFoundError, NotADirectoryError):
        return Proved(population.path, None, (*told, running_words.no_file(population.path)))
    except OSError as error:
        reason = error.strerror or "it is not a file"
        return Proved(population.path, None, (*told, running_words.unreadable(population.path, reason)))
    return _with_unread(population.path, counted, (*told, *table.told))


def _mapping(files: Files, path: str) -> tuple[tuple[Column, ...], tuple[Diagnostic, ...]]:
    if not path:
        return (), ()
    content, problem = read(files, path)
    if content is None:
        return (), (problem,) if problem else ()
    text, problems = decode(content, path)
    lines, wrong = ((), ()) if text is None else mapping(path, text)
    return lines, (*problems, *wrong)


def _with_unread(path: str, counted: Counted, told: tuple[Diagnostic, ...]) -> Proved:
    texts = {f"{path}:{one.row + 1}": one.text for one in counted.first}
    found = [problem for one in counted.first for problem in one.problems]
    if counted.unread:
        found.append(words.not_read(path, counted.unread, counted.rows, [one.row for one in counted.first]))
    if not counted.rows:
        found.append(words.empty(path))
    return Proved(path, counted, (*told, *found), texts)


def _counted(prepared: Prepared, table: Table, shared: Sharing, settings: tuple[str, ...], see: See) -> Counted:
    """All chunks counted, by processes where there are bodies enough for them."""
    if shared.engine:
        job = _Job(Sources.of(prepared, settings), table.path, table.columns)
        with cluster(shared.engine) as those:
            return _by_cluster(those, job, table.rows, see)
    jobs = shared.jobs or cores()
    first = list(islice(table.rows, jobs * WORTH_A_PROCESS))
    rows_left, jobs = chain(first, table.rows), min(jobs, len(first) // WORTH_A_PROCESS)
    given = prepared, table.path, table.columns
    if jobs < 2:
        return _added(map(Worker(*given).count, _chunks(rows_left, 1)), see)
    with closing(by_processes(_worker, Worker.count, given, _chunks(rows_left, jobs), jobs)) as done:
        return _added(done, see)


def _added(done: Iterator[Counted], see: See) -> Counted:
    found = Counted()
    for one in done:
        found += one
        see(found.rows)
    return found


def _worker(given: tuple[Prepared, str, tuple[Column, ...]]) -> Worker:
    return Worker(*given)


@dataclass(frozen=True)
class _Job:
    """What a worker of a cluster needs to know to count bodies: the style, and the path and the columns of their table."""

    sources: Sources
    path: str
    columns: tuple[Column, ...]


def _by_cluster(those: Cluster, job: _Job, rows_left: Iterator[Row], see: See) -> Counted:
    jobs = min(those.workers, max(CHUNK // WORTH_A_PROCESS, 1))
    with closing(those.done(_worker_for, Worker.count, job, _chunks(rows_left, jobs))) as done:
        return _added(done, see)


def _worker_for(job: _Job) -> Worker:
    _, prepared = job.sources.opened()
    return Worker(prepared, job.path, job.columns)


def _chunks(rows_left: Iterator[Row], jobs: int) -> Iterator[list[Row]]:
    """The rows in chunks, so large that all processes together lay no more bodies side by side than one does elsewhere."""
    while rows := list(islice(rows_left, CHUNK)):
        size = -(-len(rows) // jobs)
        yield from (rows[at : at + size] for at in range(0, len(rows), size))


class Worker:
    """Counts chunks of one population, one after the other."""

    def __init__(self, prepared: Prepared, path: str, columns: Sequence[Column]) -> None:
        assert prepared.style is not None
        self._prepared, self._path, self._columns = prepared, path, columns
        self._behind = Behind(prepared.style)

    def count(self, rows: Sequence[Row]) -> Counted:
        people, unread = [], []
        for number, body, problems, text in read_rows(self._path, self._columns, rows):
            if body is None:
                unread.append(Unread(number, problems, text))
            else:
                people.append(body)
        found = Counted(NOBODY, len(rows), len(unread), tuple(unread[:TOLD]))
        if not people:
            return found
        prepared = replace(self._prepared, bodies=tuple(people), counted=True)
        results, evaluated = outcomes(prepared)
        return replace(found, tally=judged(prepared, self._behind, results, evaluated))
