"""Make the pattern of each client of a table: what has not changed since the last time is left as it is."""

from __future__ import annotations

import csv
import io
import os
from collections.abc import Callable, Generator, Iterator, Sequence
from contextlib import closing
from dataclasses import dataclass, field, replace
from pathlib import PurePath
from typing import Literal

from ..bodies.clients import Client, in_words
from ..diagnostics import client_words as words
from ..diagnostics.diagnostic import Diagnostic
from .build import Wanted
from .client_key import Keys
from .client_table import ClientTable, held_apart
from .client_work import STYLES, Done, Styles, Task, all_made
from .engine import NoEngine
from .files import Files, read, write
from .made import Made, MadeList
from .sharing import Sharing

NOT_MADE = "not_made.csv"
ENDINGS = (".svg", ".pdf", "_seams.svg")
"""What the names of a client's files may end in."""

State = Literal["made", "unchanged", "not made"]
See = Callable[[int, int], None]


@dataclass(frozen=True)
class ClientRow:
    """What a client came to: its name as it is labelled, and where it stands; whether it was made, left as it was or cannot be
    made; whether all holds, and how much does not, in words; of how many things it was warned, and what was not measured."""

    label: str
    where: str
    state: State
    holds: bool
    failing: str = ""
    warnings: int = 0
    estimated: tuple[str, ...] = ()


@dataclass(frozen=True)
class ClientsBuilt:
    """All clients in the order of their table; what is told of them; files of an earlier run that are of none of them; the path
    of the list of those that were not made ("": there are none); the paths written now, and what is wrong with the whole, where
    nothing was made."""

    rows: tuple[ClientRow, ...] = ()
    told: tuple[Diagnostic, ...] = ()
    left: tuple[str, ...] = ()
    not_made: str = ""
    written: tuple[str, ...] = ()
    problems: tuple[Diagnostic, ...] = ()


def build_clients(
    files: Files, styles: Styles, table: ClientTable, folder: str, wanted: Wanted, shared: Sharing, see: See
) -> ClientsBuilt:
    """Make the clients of a table that can be read in a sound style; `shared` says who shares them, `see` hears how many of
    how many are done."""
    assert styles.base.style is not None
    stem = f"{PurePath(styles.base.style.file).stem}"
    called = f"{stem}_toile" if wanted.toile else stem
    problems = held_apart(table.clients, stem, [f"_toile{one}" if wanted.toile else one for one in ENDINGS])
    if os.path.realpath(table.path) == os.path.realpath(PurePath(folder) / NOT_MADE):
        problems = (*problems, words.own_list(table.path))
    if problems:
        return ClientsBuilt(problems=problems)
    making = _Making(files, styles, wanted, MadeList(files, folder, called), folder, stem, table.separator)
    planned = [making.plan(one) for one in table.clients]
    try:
        return making.run(table, planned, shared, see)
    except NoEngine as error:  # before anything came back
        return ClientsBuilt(problems=(error.problem,))


@dataclass(frozen=True)
class _Planned:
    """A client with what it is to be made of, where it is to be made, and its key ("": it cannot be made)."""

    client: Client
    key: str = ""
    task: Task | None = None


@dataclass(frozen=True)
class _Making:
    files: Files
    styles: Styles
    wanted: Wanted
    list: MadeList
    folder: str
    stem: str
    separator: str
    keys: dict[tuple[str, ...], Keys] = field(default_factory=dict)

    def plan(self, client: Client) -> _Planned:
        body = client.body
        if body is None:
            return _Planned(client)
        choices = tuple(self._settings(client))
        base = self.styles.on(choices)
        wrong = [one for one in base.diagnostics if one.is_error]
        if wrong:
            return _Planned(replace(client, told=(*client.told, *_of_choices(client, wrong)), body=None))
        prepared = replace(base, bodies=(body,), diagnostics=(*base.diagnostics, *client.told))
        if choices not in self.keys:
            if len(self.keys) >= STYLES:
                self.keys.pop(next(iter(self.keys)))
            self.keys[choices] = Keys(base, self.wanted)
        key = self.keys[choices].of(prepared)
        if self.list.has(client.id, key):
            return _Planned(client, key)
        ending = "_toile" if self.wanted.toile else ""
        stem = str(PurePath(self.folder) / f"{self.stem}_{body.file_name}{ending}")
        told = tuple(replace(one, data=dict(one.data)) for one in client.told)
        bare = replace(body, measures=dict(body.measures), short_forms=dict(body.short_forms), lines={})
        return _Planned(client, key, Task(bare, told, choices, stem))

    def _settings(self, client: Client) -> Iterator[str]:
        style = self.styles.base.style
        assert style is not None
        assert client.body is not None
        kinds = {one.name: one.kind.word for one in style.choices}
        for name, cell in client.choices.items():
            yield f"{name}={in_words(cell.text, client.body.unit, kinds.get(name) == 'length', self.separator)}"

    def run(self, table: ClientTable, planned: Sequence[_Planned], shared: Sharing, see: See) -> ClientsBuilt:
        tasks = [one.task for one in planned if one.task is not None]
        rows, told, failed, files = list[ClientRow](), list[Diagnostic](), list[tuple[Client, str]](), list[str]()
        untried = list[str]()
        with closing(self._done(tasks, shared, see)) as done:
            for one in planned:
                came = None if one.task is None else next(done)
                rows.append(self._row(one, came))
                told += (*one.client.told, *(came.told if came else ()))
                files += [str(PurePath(self.folder) / name) for name in came.files] if came else []
                if rows[-1].state == "not made":
                    failed.append((one.client, _why(one.client, came)))
                untried += [one.client.id] if came and not came.tried else []
        problem = self._list_failed(table, failed)
        told += [] if problem is None else [problem]
        current = [one.client.id for one, row in zip(planned, rows, strict=True) if row.state != "not made"]
        current += untried
        path = str(PurePath(self.folder) / NOT_MADE) if failed and problem is None else ""
        return ClientsBuilt(tuple(rows), tuple(told), self.list.left(current), path, tuple(files))

    def _done(self, tasks: Sequence[Task], shared: Sharing, see: See) -> Generator[Done, None, None]:
        """What each task comes to. Where an engine fails after some came back, which are written, the rest is told as not made
        for that; NoEngine where none did."""
        count = 0
        see(count, len(tasks))
        try:
            with closing(all_made(self.files, self.styles, self.wanted, tasks, shared)) as done:
                for count, came in enumerate(done, 1):
                    yield came
                    see(count, len(tasks))
        except NoEngine as error:
            if not count:
                raise
            yield from (Done({}, "", (error.problem.on(one.body.name),), (), False, tried=False) for one in tasks[count:])

    def _row(self, one: _Planned, came: Done | None) -> ClientRow:
        """What a client came to; of one that was made now a line is added to the list."""
        client = one.client
        if not one.key or (came is not None and not came.files):
            return ClientRow(client.label or client.where, client.where, "not made", False)
        if came is not None:
            held = came.holds, came.failing, len(client.told) + len(came.told), came.estimated
            self.list.add(Made(self.list.style, client.id, one.key, came.files, *held))
        made = self.list.of[client.id]
        state: State = "made" if came is not None else "unchanged"
        return ClientRow(client.label, client.where, state, made.holds, made.failing, made.warnings, made.estimated)

    def _list_failed(self, table: ClientTable, failed: Sequence[tuple[Client, str]]) -> Diagnostic | None:
        """Write the rows that were not made as they were given, each with why; none of them where an earlier list is there."""
        path = str(PurePath(self.folder) / NOT_MADE)
        before, _ = read(self.files, path)
        if before is None and not failed:
            return None
        kept = [at for at, name in enumerate(table.head) if name != "why"]
        out = io.StringIO()
        writer = csv.writer(out, delimiter=table.separator, lineterminator="\n")
        writer.writerow([*(table.head[at] for at in kept), "why"])
        for client, why in failed:
            cells = [*client.given, *[""] * (len(table.head) - len(client.given))]
            writer.writerow([*(cells[at] for at in kept), why, *cells[len(table.head) :]])
        content = out.getvalue().encode("utf-8")
        return None if content == before else write(self.files, [(path, content)])


def _why(client: Client, came: Done | None) -> str:
    """Why a client was not made, in a line."""
    told = [one for one in (*client.told, *(came.told if came else ())) if one.is_error]
    return "; ".join(" ".join(f"{one.message}{f' ({one.note})' if one.note else ''}: {one.fix}".split()) for one in told)


def _of_choices(client: Client, wrong: Sequence[Diagnostic]) -> Iterator[Diagnostic]:
    """What is wrong with a style under the choices of a client, told at their cells."""
    for one in wrong:
        name, cell = next(((name, cell) for name, cell in client.choices.items() if f"`{name}" in one.message), (None, None))
        if name is None or cell is None:
            name, cell = next(iter(client.choices.items()))
        yield words.bad_choice(cell.span, name, cell.text, one.message, one.fix).on(client.label)
