"""`godet build --clients`: a style for each client of a table."""

from __future__ import annotations

import argparse
import sys
from collections.abc import Sequence

from ..diagnostics import client_words as words
from ..diagnostics import engine_words, running_words
from ..diagnostics.diagnostic import Diagnostic, Span
from ..diagnostics.grouping import grouped
from ..door.clients import OnClients
from ..door.errors import StyleError
from ..door.style import Style, open_style
from ..jobs.clients import ClientsBuilt
from ..jobs.diagnostic_records import diagnostic_records
from ..output.clients import clients_text
from ..output.command_records import COMMANDS_SCHEMA, BuildReport, BuiltRow
from ..output.json_text import json_text
from .progress import progress
from .telling import ERRORS, FAILS, HOLDS, say

NAMED = 6
"""So many files are named that are of nobody any more; of more the number is told."""


def build_clients(given: argparse.Namespace) -> int:
    """Build the pattern of each client, and print what it came to; the exit code."""
    style = open_style(given.style, settings=given.set)
    on = style.clients(given.clients, columns=given.columns or None, label=given.label)
    found = [*on.diagnostics, *_asked(given)]
    if not style.has_errors and not style.pieces:
        found.append(running_words.nothing_cut(Span(given.style, 0, 0)))
    is_json, built = given.format == "json", ClientsBuilt()
    if not is_json:
        say(found, on.texts)
    if any(one.is_error for one in found):
        return _as_json(on, found, built, ERRORS) if is_json else ERRORS
    try:
        built = _built(on, given)
    except StyleError as error:
        if not is_json:
            say(error.diagnostics, error.texts)
        return _as_json(on, error.diagnostics, built, ERRORS) if is_json else ERRORS
    held = HOLDS if all(row.holds for row in built.rows) else FAILS
    code = ERRORS if any(one.is_error for one in built.told) else held
    told = [*(style.assembly.diagnostics if style.assembly else ()), *built.told]
    if is_json:
        return _as_json(on, [*found, *told], built, code)
    _tell(style, built)
    say(grouped(told), on.texts)
    _tell_files(built, given.out)
    return code


def _built(on: OnClients, given: argparse.Namespace) -> ClientsBuilt:
    try:
        with progress("clients") as each:
            how = {"paper": given.paper, "levels": not given.no_levels, "toile": given.toile}
            return on.build(given.out, jobs=given.jobs, engine=given.engine, each=each, **how)
    except KeyboardInterrupt:
        print("interrupted: what was made stays, and the same command goes on from there", file=sys.stderr)
        raise


def _as_json(on: OnClients, told: Sequence[Diagnostic], built: ClientsBuilt, code: int) -> int:
    rows = tuple(BuiltRow(one.label, one.state, one.holds) for one in built.rows)
    written = (*built.written, *([built.not_made] if built.not_made else []))
    told_records = diagnostic_records(told, on.texts)
    print(json_text(BuildReport(COMMANDS_SCHEMA, code, written, rows, (), built.left, told_records)), end="")
    return code


def _tell(style: Style, built: ClientsBuilt) -> None:
    print(clients_text(built.rows), end="")
    if style.assembly is not None and not style.assembly.judged:
        print(style.assembly.told)


def _tell_files(built: ClientsBuilt, folder: str) -> None:
    if built.left:
        more = f" and {len(built.left) - NAMED} more" if len(built.left) > NAMED else ""
        print(f"left as they are, of nobody above: {', '.join(built.left[:NAMED])}{more}")
    if built.not_made:
        print(f"wrote {built.not_made}: the rows that were not made, each with why; mend them in the table, or in a copy of this")
    if built.written:
        print(f"wrote {len(built.written)} files into {folder}")
        print("Check the test square of the print before cutting.")


def _asked(given: argparse.Namespace) -> list[Diagnostic]:
    """What does not go together of clients and other options."""
    others = (("--body", given.body), ("--sizes", given.sizes), ("--only", given.only))
    more = (("--apart", given.apart), ("--split", given.split))
    found = [words.taken_together(option) for option, is_given in (*others, *more) if is_given]
    return [*found, engine_words.not_with_jobs()] if given.engine and given.jobs else found


def clients_wanted(given: argparse.Namespace) -> list[Diagnostic]:
    """Options that are of clients alone, where there are none."""
    of_rows = (("--columns", given.columns), ("--label", given.label != "name"))
    shared = (("--jobs", given.jobs), ("--engine", given.engine))
    return [words.without_clients(option) for option, is_given in (*of_rows, *shared) if is_given]
